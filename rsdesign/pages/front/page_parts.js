// Each part of a design page as the kernel's blocks say it.

import { hrefOf, openBeside } from "./address.js";
import { cautionsBlock, wordsBlock } from "./blocks.js";
import { attr, fill, make, onPhone, put } from "./dom.js";

/** @typedef {ReturnType<typeof import("./layout.js").layOut>} Laid */

/** Blocks that have a section of their own, which is away where the block is empty. */
const NAMED = /** @type {const} */ ([
  "course",
  "measure",
  "study",
  "tradeoff",
  "ladder",
  "mend",
  "compare",
  "close",
  "explore",
]);

/**
 * @param {Laid} laid
 * @param {Frame} f
 */
export function showState({ root, summary, notice, tools, lead, own, calm, see }, f) {
  root.dataset.page = f.page;
  root.dataset.laid = f.laid;
  // Where the answer stands for the drawing, it is what is seen first.
  const first = f.laid.split(" ").includes("first");
  if (first !== see.contains(own)) (first ? see : calm).prepend(own);
  put(summary, f.summary);
  put(lead, f.lead);
  put(notice, f.notice);
  notice.hidden = !f.notice;
  root.classList.toggle("rs-stale", f.stale);
  attr(root, "aria-busy", f.stale ? "true" : null);
  tools.units.value = f.units;
  attr(tools.depth, "aria-pressed", String(f.full));
  put(tools.depth, f.full ? "Show less" : "Show everything");
}

/**
 * @param {Laid} laid
 * @param {Frame} f
 * @param {boolean} follows
 */
export function lockPage({ tools, locked, see }, f, follows) {
  tools.undo.disabled = !f.undo || follows;
  tools.redo.disabled = !f.redo || follows;
  tools.resetAll.disabled = follows;
  for (const set of locked) set.disabled = follows;
  see.classList.toggle("rs-locked", follows);
}

/**
 * @param {Laid} laid
 * @param {any} t
 */
export function showText({ question, intro, year, views, words, parts }, t) {
  put(question, t.question);
  const said = t.words.map((/** @type {string} */ w) => make("p", {}, w));
  fill(intro, said.slice(t.of_year));
  fill(year, said.slice(0, t.of_year));
  parts.year.el.hidden = !t.of_year;
  views.guess.show(t.guess);
  wordsBlock(words, t);
  cautionsBlock(parts.cautions.body, t.cautions, t.before);
  parts.attempt.el.hidden = !t.try_this;
  put(parts.attempt.body, t.try_this);
}

/**
 * @param {Laid} laid
 * @param {Blocks} blocks those that changed
 * @param {Blocks} now all
 */
export function showBlocks({ views, parts, under, side }, blocks, now) {
  // Where a ladder or what to measure stands at the side, what to mend has its room under the drawing.
  if ("ladder" in blocks || "measure" in blocks) (now.ladder || now.measure ? under : side).append(parts.mend.el);
  if (blocks.headline) views.headline.show(blocks.headline);
  if (blocks.choices) views.choices.show(blocks.choices);
  if ("picture" in blocks) views.picture.show(blocks.picture);
  if ("moment" in blocks || ("picture" in blocks && now.moment)) views.moment.show(now.moment);
  if (blocks.ribbons) views.choices.ribbons(blocks.ribbons);
  for (const name of NAMED) {
    if (!(name in blocks)) continue;
    parts[name].el.hidden = !blocks[name];
    if (blocks[name]) views[name].show(blocks[name]);
  }
  if (blocks.figures || blocks.working) views.figures.show(now.figures, now.working || {});
  if (blocks.checks || blocks.parts) views.checks.show(now.checks || [], now.parts || []);
  if (blocks.charts) views.charts.show(blocks.charts);
  if ("faded" in blocks) views.faded.show(blocks.faded);
  if (!blocks.own) return;
  // What is typed stands first on a phone.
  const isFirst = (/** @type {any} */ b) => b.form === "way_in" || (b.form === "log_entry" && onPhone());
  views.wayIn.show(blocks.own.filter(isFirst));
  views.own.show(blocks.own.filter((/** @type {any} */ b) => !isFirst(b)));
}

/**
 * The ways to the pages before and after, at the foot of this one.
 * @param {Laid} laid
 * @param {Frame} f
 * @param {boolean} served
 * @param {Say} say
 */
export function showNext({ root, next }, f, served, say) {
  const at = f.series.findIndex((p) => p.name === f.page);
  const way = (/** @type {SeriesPage | undefined} */ page, /** @type {string} */ words) => {
    if (!page) return make("span");
    const turn = (/** @type {Event} */ e) => {
      e.preventDefault();
      if (!served && openBeside(page.file)) return say({ do: "keep" });
      say.turn(page.name);
      root.scrollIntoView();
    };
    return make("a", { class: "rs-button", href: served ? hrefOf(page, f.token) : "#", onclick: turn }, words);
  };
  const [before, after] = [f.series[at - 1], f.series[at + 1]];
  next.hidden = !before && !after;
  fill(next, way(before, before ? `Before: ${before.title}` : ""), way(after, after ? `Next: ${after.title}` : ""));
}
