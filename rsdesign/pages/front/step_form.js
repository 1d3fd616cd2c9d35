// The form of one step of a sum: a box for what comes out, a button to check it, and one that shows it.

import { make } from "./dom.js";

/**
 * @param {HTMLInputElement} box
 * @param {string} question
 * @param {(text: string) => void} check
 * @param {(() => void) | null} show shows the step; null where it may not be shown yet
 * @param {HTMLElement | null} [below]
 */
export function stepForm(box, question, check, show, below = null) {
  const taken = (/** @type {Event} */ e) => {
    e.preventDefault();
    check([...box.value].slice(0, 40).join(""));
  };
  return make(
    "form",
    { onsubmit: taken },
    make("label", { for: box.id }, question),
    make("span", { class: "rs-entry" }, box, make("button", { type: "submit", class: "rs-button" }, "Check this step")),
    show ? make("button", { type: "button", class: "rs-small", onclick: show }, "Show me this step") : null,
    below,
  );
}
