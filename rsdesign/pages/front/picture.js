// The drawing of the first screen, its links, and the grips that move a choice in it.

import { hrefOf } from "./address.js";
import { attr, fill, folded, make, put } from "./dom.js";
import { dragIn } from "./drag.js";
import { redraw } from "./redraw.js";
import { behind } from "./table.js";

/**
 * @param {Say} say
 * @param {() => Frame} frame
 */
export function pictureBlock(say, frame) {
  const drawing = make("div", { class: "rs-drawing" });
  const plan = make("div", { class: "rs-drawing rs-plan" });
  const sentence = make("p", { class: "rs-sentence" });
  const data = make("div");
  const numbers = folded("The numbers of the picture", data),
    tabled = behind(numbers, data, "The numbers of the picture");
  const drag = dragIn(drawing, say);
  for (const place of [drawing, plan]) place.addEventListener("click", turn);

  /** @param {MouseEvent} e */
  function turn(e) {
    const link = /** @type {Element} */ (e.target).closest("a[data-page]");
    if (!link || e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    say.turn(link.getAttribute("data-page") || "");
  }
  /** @param {HTMLElement} place */
  function lead(place) {
    for (const link of place.querySelectorAll("a[href^='#'], a[data-page]")) {
      const href = link.getAttribute("href") || "";
      const name = href.startsWith("#") ? href.slice(1) : link.getAttribute("data-page");
      const page = frame().series.find((p) => p.name === name);
      attr(link, "data-page", name);
      if (window.rsServed && page) attr(link, "href", hrefOf(page, frame().token));
    }
  }
  /**
   * @param {HTMLElement} place
   * @param {string} svg
   */
  function draw(place, svg) {
    const held = drag.focused();
    redraw(place, svg);
    lead(place);
    drag.refocus(held);
  }
  const above = folded("From above", plan);
  const planName = above.querySelector("summary");
  return {
    el: make("figure", { class: "rs-picture" }, drawing),
    plan: above,
    caption: make("div", { class: "rs-caption" }, sentence, numbers),
    /**
     * Keeps the place of a drawing that is to come, so that nothing moves when it does.
     * @param {number} height
     */
    wait(height) {
      drawing.style.minHeight = `${height}px`;
    },
    /** @param {any} now */
    show(now) {
      drawing.style.minHeight = "";
      drawing.hidden = above.hidden = numbers.hidden = !now;
      if (!now) return;
      draw(drawing, now.svg);
      above.hidden = !now.plan;
      if (now.plan) draw(plan, now.plan);
      put(/** @type {HTMLElement} */ (planName), now.plan_name || "From above");
      put(sentence, now.sentence);
      sentence.hidden = !now.sentence;
      tabled(now.table);
    },
  };
}

/** A drawing with its sentence and its numbers, where it stands still. */
export function stillPicture() {
  const drawing = make("div", { class: "rs-drawing" });
  const sentence = make("p", { class: "rs-sentence" });
  const data = make("div");
  const numbers = folded("Show the numbers", data),
    tabled = behind(numbers, data, "The numbers of the picture");
  return {
    el: make("figure", {}, drawing, make("figcaption", {}, sentence, numbers)),
    /** @param {any} now */
    show(now) {
      redraw(drawing, now.svg);
      put(sentence, now.sentence);
      tabled(now.table);
    },
  };
}

/** The trade-off: what you get over what you pay or risk. */
export function panelsBlock() {
  const drawing = make("div", { class: "rs-panels" });
  const sentence = make("p", { class: "rs-hush", role: "status" });
  const data = make("div");
  const numbers = folded("The numbers of the chart", data),
    tabled = behind(numbers, data, "The numbers of the trade-off");
  const el = make("div", {}, drawing, sentence, numbers);
  return {
    el,
    /** @param {any} now */
    show(now) {
      if (!now) return;
      redraw(drawing, now.svg);
      if (!now.svg) fill(drawing, make("p", {}, now.sentence));
      put(sentence, now.sentence);
      tabled(now.table);
    },
  };
}
