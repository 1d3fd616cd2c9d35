// Each part of a design page as the kernel's blocks say it.

import { hrefOf } from "./address.js";
import { cautionsBlock, wordsBlock } from "./blocks.js";
import { attr, fill, make, put } from "./dom.js";

/** @typedef {ReturnType<typeof import("./layout.js").layOut>} Laid */

/**
 * @param {Laid} laid
 * @param {Frame} f
 */
export function showState({ root, strip, notice, tools }, f) {
  root.dataset.page = f.page;
  root.dataset.laid = f.laid;
  put(strip, f.strip);
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
export function lockPage({ tools, locked }, f, follows) {
  tools.undo.disabled = !f.undo || follows;
  tools.redo.disabled = !f.redo || follows;
  tools.resetAll.disabled = follows;
  for (const set of locked) set.disabled = follows;
}

/**
 * @param {Laid} laid
 * @param {any} t
 */
export function showText({ question, intro, views, words, parts }, t) {
  put(question, t.question);
  fill(intro, ...t.words.map((/** @type {string} */ w) => make("p", {}, w)));
  views.guess.show(t.guess);
  wordsBlock(words, t);
  cautionsBlock(parts.cautions.body, t.cautions);
  parts.attempt.el.hidden = !t.try_this;
  put(parts.attempt.body, t.try_this);
}

/**
 * @param {Laid} laid
 * @param {Blocks} blocks those that changed
 * @param {Blocks} now all
 */
export function showBlocks({ views, parts }, blocks, now) {
  if (blocks.choices) views.choices.show(blocks.choices);
  if ("picture" in blocks) {
    parts.picture.el.hidden = !blocks.picture;
    views.picture.show(blocks.picture);
  }
  if (blocks.figures || blocks.working) views.figures.show(now.figures, now.working || {});
  for (const name of /** @type {const} */ (["checks", "parts", "charts"])) {
    if (!blocks[name]) continue;
    parts[name].el.hidden = !blocks[name].length;
    views[name].show(blocks[name]);
  }
  if ("faded" in blocks) views.faded.show(blocks.faded);
  if ("tradeoff" in blocks) views.trade.show(blocks.tradeoff);
  if (blocks.own) {
    views.wayIn.show(blocks.own.filter((/** @type {any} */ b) => b.form === "way_in"));
    views.own.show(blocks.own.filter((/** @type {any} */ b) => b.form !== "way_in"));
  }
}

/**
 * The way to the next page, at the foot of this one.
 * @param {Laid} laid
 * @param {Frame} f
 * @param {boolean} served
 * @param {Say} say
 */
export function showNext({ root, next }, f, served, say) {
  const after = f.series[f.series.findIndex((p) => p.name === f.page) + 1];
  next.hidden = !served && !after;
  if (!after) return fill(next);
  const turn = (/** @type {Event} */ e) => {
    e.preventDefault();
    say.turn(after.name);
    root.scrollIntoView();
  };
  const href = served ? hrefOf(after, f.token) : "#";
  fill(next, make("a", { class: "rs-button", href, onclick: turn }, `Next: ${after.title}`));
}
