// What was typed in a form and not set yet, by the name of its box: the form is drawn anew after each answer.

/** @typedef {HTMLInputElement | HTMLSelectElement} Box */

/** @type {Map<string, string>} */
const unset = new Map();

/** @param {Event} e */
export function typed(e) {
  const box = /** @type {Box} */ (e.target);
  if (box.matches("input[type=text], select")) unset.set(box.id, box.value);
}

/**
 * The box with what was typed in it, or with `text`.
 * @template {Box} B
 * @param {B} box
 * @param {string} text
 * @returns {B}
 */
export function filled(box, text) {
  box.value = unset.get(box.id) ?? text;
  return box;
}

/**
 * What these boxes hold was given to the room.
 * @param {Box[]} boxes
 */
export function given(boxes) {
  for (const box of boxes) if (unset.get(box.id) === box.value) unset.delete(box.id);
}

/** @param {Box} box */
export const forget = (box) => unset.delete(box.id);

/** @param {Box} box */
export const isUnset = (box) => unset.has(box.id);
