// What a box of text holds: what it shows, what was said from it, what the program answered.
// A typed text is either said or kept; an answer never takes the place of a text that is newer.
// Nothing here knows of elements, so a test runs it alone.

/**
 * @param {string} [text]
 * @param {string} [units]
 * @returns {EntryState}
 */
export function entryState(text = "", units = "") {
  return { shown: text, known: text, knownUnits: units, typed: false, units, said: null, number: 0, caret: false };
}

export const ENTRY = {
  /**
   * A person wrote: the units are those of the page as they write.
   * @param {EntryState} s
   * @param {string} text
   */
  typed(s, text) {
    if (!s.typed) s.units = s.knownUnits;
    s.typed = true;
    s.shown = text;
  },
  /**
   * The box is left, in whatever way: the text to say with its units, or null where there is nothing new.
   * @param {EntryState} s
   * @returns {Said | null}
   */
  left(s) {
    if (!s.typed) return null;
    s.typed = false;
    const same =
      s.said === null
        ? s.shown === s.known && s.units === s.knownUnits
        : s.shown === s.said.text && s.units === s.said.units;
    if (same) return null;
    s.said = { text: s.shown, units: s.units };
    s.number = Infinity; // until its message has a number no answer is the answer to it
    return s.said;
  },
  /**
   * @param {EntryState} s
   * @param {number} number
   */
  sent(s, number) {
    s.number = number;
  },
  /**
   * The program says what the design holds, or what it refused.
   * @param {EntryState} s
   * @param {string} text
   * @param {string} [units]
   */
  told(s, text, units = "") {
    s.known = text;
    s.knownUnits = units;
    if (!s.caret) ENTRY.settle(s);
  },
  /**
   * All messages up to a number are answered: only the answer to its own text is written under the caret.
   * @param {EntryState} s
   * @param {number} number
   */
  answered(s, number) {
    if (s.said === null || s.number > number) return;
    s.said = null;
    ENTRY.settle(s);
  },
  /** @param {EntryState} s */
  focus(s) {
    s.caret = true;
  },
  /** @param {EntryState} s */
  blur(s) {
    s.caret = false;
    ENTRY.settle(s);
  },
  /** @param {EntryState} s */
  settle(s) {
    if (!s.typed && s.said === null) s.shown = s.known;
  },
  /**
   * The box was locked: the text that can no longer be taken, or null.
   * @param {EntryState} s
   * @returns {string | null}
   */
  lock(s) {
    const text = s.typed ? s.shown : s.said && s.said.text;
    s.typed = false;
    s.said = null;
    ENTRY.settle(s);
    return text;
  },
};
