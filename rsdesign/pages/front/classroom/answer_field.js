// What one question of a problem is answered in: a number with its unit, letters in order, or one of a list.

import { make } from "../dom.js";
import { PLAIN_ASK } from "./problem.js";

/**
 * @param {any} p the problem
 * @param {any} ask the question
 * @param {string} id
 * @returns {AnswerField}
 */
export function answerField(p, ask, id) {
  const title = ask.text || PLAIN_ASK[ask.form];
  const mark = make("p", { class: "rs-mark", id: `${id}-says`, hidden: true });
  if (ask.form === "number") return numberField(ask, id, title, mark);
  if (ask.form === "order") {
    const about = { autocapitalize: "characters", maxlength: 20 };
    return oneBox(make("input", { id, type: "text", autocomplete: "off", ...about }), title, mark);
  }
  const options = ask.form === "line" ? p.lines : p.options;
  const letters = options.map((/** @type {any} */ _, /** @type {number} */ i) => "ABCDEFGH"[i]);
  const choices = letters.map((/** @type {string} */ l) => make("option", { value: l }, l));
  return oneBox(make("select", { id }, make("option", { value: "" }, "choose"), choices), title, mark);
}

/**
 * @param {HTMLInputElement | HTMLSelectElement} box
 * @param {string} title
 * @param {HTMLElement} mark
 * @returns {AnswerField}
 */
function oneBox(box, title, mark) {
  box.setAttribute("aria-describedby", mark.id);
  return {
    el: make("div", { class: "rs-asked" }, make("label", { for: box.id }, title), box, mark),
    mark,
    boxes: [box],
    read: () => box.value,
    put: (now) => {
      box.value = now;
    },
  };
}

/**
 * @param {any} ask
 * @param {string} id
 * @param {string} title
 * @param {HTMLElement} mark
 * @returns {AnswerField}
 */
function numberField(ask, id, title, mark) {
  const text = { type: "text", autocomplete: "off" };
  const value = make("input", { id, ...text, inputmode: "decimal", maxlength: 60, "aria-describedby": mark.id });
  const about = { autocapitalize: "off", maxlength: 40, "aria-label": `Unit: ${title}`, placeholder: "unit" };
  const unit = make("input", { id: `${id}-unit`, ...text, ...about });
  const boxes = ask.wants_unit ? [value, unit] : [value];
  const units = ask.wants_unit && ask.units.length ? `in ${ask.units.join(" or ")}` : "";
  return {
    el: make(
      "div",
      { class: "rs-asked" },
      make("label", { for: id }, title),
      make("span", { class: "rs-entry" }, boxes),
      units ? make("span", { class: "rs-note" }, units) : null,
      mark,
    ),
    mark,
    boxes,
    read: () => ({ number: value.value, unit: ask.wants_unit ? unit.value : "" }),
    put: (now) => {
      value.value = now.number || "";
      unit.value = now.unit || "";
    },
  };
}
