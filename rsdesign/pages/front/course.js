// What a page on time asks beside the design: how one starts, when one feeds, what may go wrong.

import { heldBox } from "./boxes.js";
import { fill, folded, keepingFocus, make, onPhone, put } from "./dom.js";


/**
 * @param {Say} say
 * @param {HTMLElement} beneath where it is picked what the second chart shows
 */
export function courseBlock(say, beneath) {
  const asked = make("div");
  const wrong = make("p", { class: "rs-wrong", role: "alert", hidden: true });
  const happens = make("div", { class: "rs-picks" });
  const warnings = make("div", { role: "status" });
  const beside = make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "beside" }) });
  const notes = make("ul");
  const read = folded("How to read this", notes);
  let known = "";
  /** @type {Map<string, HTMLInputElement | HTMLSelectElement>} */
  let boxes = new Map();

  /** @param {any} o */
  function box(o) {
    const id = `rs-${o.name.replace(/\W/g, "-")}`;
    const answer = (/** @type {string} */ text) => ({ do: "answer", name: o.name, text });
    if (!o.picks.length)
      return heldBox(say, id, () => make("input", { id, type: "text", placeholder: o.hint }), o.value, answer);
    const pick = make(
      "select",
      { id, onchange: () => say(answer(pick.value)) },
      o.picks.map((/** @type {any} */ p) => make("option", { value: p.value }, p.label)),
    );
    return pick;
  }
  /** @param {any[]} options */
  function build(options) {
    boxes = new Map(options.map((o) => [o.name, box(o)]));
    const rows = options.map((o) => {
      const el = /** @type {HTMLElement} */ (boxes.get(o.name));
      return make("div", { class: "rs-asked" }, make("label", { for: el.id }, o.label), el);
    });
    const chart = options.findIndex((o) => o.name.endsWith(".below"));
    fill(beneath, rows.splice(chart, 1));
    const open = onPhone() ? 2 : rows.length;
    fill(asked, rows.slice(0, open), rows.length > open ? folded("More of your plan", ...rows.slice(open)) : null);
  }
  /** @param {any[]} options */
  function told(options) {
    const names = options.map((o) => o.name).join();
    if (names !== known) build(options);
    known = names;
    for (const o of options) {
      const el = /** @type {HTMLInputElement} */ (boxes.get(o.name));
      if (o.picks.length) el.value = o.value;
      else box(o);
    }
  }
  return {
    el: make("div", {}, warnings, asked, wrong, happens, make("div", { class: "rs-picks" }, beside), read),
    /** @param {any} now */
    show(now) {
      told(now.options);
      put(wrong, now.wrong);
      wrong.hidden = !now.wrong;
      keepingFocus(happens, () =>
        fill(
          happens,
          now.buttons.map((/** @type {any} */ b) => {
            const happen = () => say({ do: "answer", name: now.what_ifs, text: b.text });
            return make("button", { type: "button", class: "rs-button", onclick: happen }, b.title);
          }),
        ),
      );
      happens.hidden = !now.buttons.length;
      put(beside, now.kept ? "Drop the kept course" : "Keep this course beside the next");
      fill(warnings, warned(now.warnings));
      fill(
        notes,
        now.notes.map((/** @type {string} */ w) => make("li", {}, w)),
      );
      read.hidden = !now.notes.length;
    },
  };
}

/** @param {string[]} words */
function warned(words) {
  const items = words.map((w) => make("li", {}, w));
  const open = 1; // the first is the most urgent
  if (!items.length) return [];
  const list = make("ul", { class: "rs-lookout" }, items.slice(0, open));
  const more = items.slice(open);
  return more.length ? [list, folded("More to look out for", make("ul", {}, more))] : [list];
}
