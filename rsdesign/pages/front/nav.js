// The way through the series: every page in a row; on a phone one line, whose list opens when asked.

import { hrefOf } from "./address.js";
import { attr, byId, fill, make, partOf, put } from "./dom.js";

let pagesNav = null;

/**
 * @param {Frame} f
 * @param {Say} say
 */
export function navigation(f, say) {
  const nav = document.getElementById("rs-nav");
  if (!nav) return;
  if (!pagesNav || pagesNav.nav !== nav) pagesNav = buildNavigation(nav, f, say);
  pagesNav.show(f);
}

/**
 * @param {HTMLElement} nav
 * @param {Frame} f
 * @param {Say} say
 */
function buildNavigation(nav, f, say) {
  const turning = (name, after) => (e) => {
    if (e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    say.turn(name());
    after();
  };
  const phone = window.matchMedia("(max-width: 700px)");
  const all = f.all || f.series;
  const links = all.map((p) =>
    make(
      "a",
      {
        onclick: turning(
          () => p.name,
          () => shut(true),
        ),
      },
      p.title,
    ),
  );
  const rest = make(
    "li",
    { hidden: true },
    make("button", { type: "button", class: "rs-small", onclick: () => shown.more?.() }, "All pages"),
  );
  const here = make("summary", {}),
    pages = make(
      "details",
      { class: "rs-pages" },
      here,
      make(
        "ol",
        {},
        links.map((a) => make("li", {}, a)),
        rest,
      ),
    );
  // On a wide screen the list always stands open and has no summary; on a phone it opens when asked.
  const fit = () => {
    pages.open = !phone.matches;
  };
  /** @param {boolean} focus */
  function shut(focus) {
    if (!phone.matches || !pages.open) return;
    pages.open = false;
    if (focus) here.focus();
  }
  phone.addEventListener("change", fit);
  pages.addEventListener("keydown", (e) => {
    if (e.key === "Escape") shut(true);
  });
  document.addEventListener("click", (e) => {
    if (!pages.contains(/** @type {Node} */ (e.target))) shut(false);
  });
  let at = 0,
    shown = f;
  const step = (by, sign) =>
    make(
      "a",
      {
        class: "rs-step-page",
        onclick: turning(
          () => shown.series[at + by].name,
          () => shut(false),
        ),
      },
      make("span", { "aria-hidden": "true" }, sign),
    );
  const back = step(-1, "←"),
    on = step(1, "→");
  fill(nav, back, pages, on);
  fit();
  return {
    nav,
    show(now) {
      shown = now;
      at = now.series.findIndex((p) => p.name === now.page);
      put(here, `Page ${at + 1} of ${now.series.length}: ${now.series[at].title}`);
      byId("rs-in").hidden = !window.rsLan || at !== 0;
      put(byId("rs-progress"), `Page ${at + 1} of ${now.series.length}`);
      all.forEach((p, i) => {
        attr(links[i], "href", hrefOf(p, now.token));
        attr(links[i], "aria-current", p.name === now.page ? "page" : null);
        partOf(links[i]).hidden = !now.series.some((x) => x.name === p.name);
      });
      rest.hidden = now.series.length === all.length;
      for (const [a, p, words] of [
        [back, now.series[at - 1], "Page before"],
        [on, now.series[at + 1], "Next page"],
      ]) {
        attr(a, "href", p ? hrefOf(p, now.token) : null);
        attr(a, "aria-label", p ? `${words}: ${p.title}` : null);
        a.hidden = !p;
      }
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
