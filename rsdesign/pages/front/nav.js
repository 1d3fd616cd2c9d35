// The strip: every page of the series, and how the parts that it is about stand.

import { hrefOf } from "./address.js";
import { attr, byId, fill, make, onPhone, partOf, put } from "./dom.js";

let strip = null;

/**
 * @param {Frame} f
 * @param {Say} say
 * @param {any[]} cells
 */
export function navigation(f, say, cells) {
  const nav = document.getElementById("rs-nav");
  if (!nav) return;
  if (!strip || strip.nav !== nav) strip = buildStrip(nav, f, say);
  strip.show(f, cells);
}

/**
 * One page in the strip.
 * @param {SeriesPage} page
 * @param {Say} say
 */
function cellOf(page, say) {
  const name = make("span", { class: "rs-cellname" });
  const reach = make("span", { class: "rs-reach" });
  const bar = make("span", { class: "rs-cellbar", "aria-hidden": "true" }, reach);
  const words = make("span", { class: "rs-cellwords" });
  const turn = (/** @type {MouseEvent} */ e) => {
    if (e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    say.turn(page.name);
    window.scrollTo(0, 0); // on a phone the strip is at hand anywhere on a page
  };
  const link = make("a", { onclick: turn, title: page.title, "data-page": page.name }, name, bar, words);
  return { link, name, reach, bar, words };
}

/**
 * @param {HTMLElement} nav
 * @param {Frame} f
 * @param {Say} say
 */
function buildStrip(nav, f, say) {
  const all = f.all || f.series;
  const cells = all.map((p) => cellOf(p, say));
  let shown = f;
  const rest = make(
    "li",
    { hidden: true },
    make("button", { type: "button", class: "rs-small", onclick: () => shown.more?.() }, "All pages"),
  );
  const list = make(
    "ol",
    {},
    cells.map((c) => make("li", {}, c.link)),
    rest,
  );
  fill(nav, list);
  let current = "";
  function inTheMiddle() {
    const here = nav.querySelector("[aria-current]");
    if (here instanceof HTMLElement) list.scrollLeft = here.offsetLeft - (list.clientWidth - here.offsetWidth) / 2;
  }
  return {
    nav,
    /**
     * @param {Frame} now
     * @param {any[]} about
     */
    show(now, about) {
      shown = now;
      const at = now.series.findIndex((p) => p.name === now.page);
      byId("rs-in").hidden = !window.rsLan || at !== 0;
      put(byId("rs-name"), now.name || "");
      all.forEach((p, i) => {
        const [cell, stands] = [cells[i], about.find((c) => c.name === p.name) || {}];
        attr(cell.link, "href", hrefOf(p, now.token));
        attr(cell.link, "aria-current", p.name === now.page ? "page" : null);
        partOf(cell.link).hidden = !now.series.some((x) => x.name === p.name);
        put(cell.name, stands.short || p.title);
        put(cell.words, stands.words || "");
        cell.words.className = `rs-cellwords rs-says-${stands.state || "none"}`;
        cell.bar.hidden = stands.reach === null || stands.reach === undefined;
        cell.reach.className = `rs-reach rs-is-${stands.state || "enough"}`;
        cell.reach.style.width = `${100 * (stands.reach || 0)}%`;
      });
      rest.hidden = now.series.length === all.length;
      if (current === now.page) return;
      current = now.page;
      // On a phone the strip goes sideways: the page that is open stands in its middle. It is measured with the
      // next frame, when all of the page stands, so that the browser lays it out once.
      if (onPhone()) requestAnimationFrame(inTheMiddle);
    },
  };
}

/**
 * The series as the room walks it: the pages of the short path, and the one that is open.
 * @param {SeriesPage[]} series
 * @param {string[]} path
 * @param {string} page
 */
export function roomSeries(series, path, page) {
  return path.length ? series.filter((p) => path.includes(p.name) || p.name === page) : series;
}
