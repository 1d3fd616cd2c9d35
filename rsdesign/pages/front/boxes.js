// Boxes of text on a page: each is an entry (entry.js) that says its text when the box is left.

import { ENTRY, entryState } from "./entry.js";

/** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Box */

/**
 * The box that somebody is typing in, left neither by Enter nor by another place.
 * @type {Node | null}
 */
let typing = null;
const IS_TEXT = "input:not([type=range]):not([type=checkbox]):not([type=file]), textarea";

/** @param {Event} e */
const begins = (e) => {
  if (e.target instanceof Element && e.target.matches(IS_TEXT)) typing = e.target;
};
const ends = () => {
  typing = null;
};
document.addEventListener("input", begins, true);
document.addEventListener("focusout", ends, true);
document.addEventListener("keydown", (e) => e.key === "Enter" && ends(), true);

/** @param {Element} el */
export const typingIn = (el) => typing !== null && el.contains(typing);

// What is not caused by the person at this page: a text that they have only begun is not said for it.
const BY_OTHERS = ["follow", "enter", "units", "open"];

/**
 * A page's way to say something, with the entries of its boxes. `send` gives the number of a message.
 * @param {(message: Message, drag?: string) => number} send
 * @returns {Say}
 */
export function sayer(send) {
  /** @type {Set<Entry>} */
  const entries = new Set();
  /** @type {Say} */
  const say = Object.assign(spoken, {
    entries,
    held: new Map(),
    listeners: new Set(),
    last: 0,
    heard: 0,
    turn(/** @type {string} */ page) {
      say({ do: "page", page });
    },
    leaveAll() {
      entries.forEach((e) => e.leave());
    },
    answered(/** @type {number} */ number) {
      say.heard = number;
      entries.forEach((e) => e.answered(number));
      say.listeners.forEach((listener) => listener(number));
    },
    lockAll() {
      entries.forEach((e) => e.lock());
    },
    unanswered: () => [...entries].flatMap((e) => e.unanswered() ?? []),
  });
  /**
   * @param {Message} message
   * @param {string} [drag]
   */
  function spoken(message, drag) {
    if (!BY_OTHERS.includes(message.do)) say.leaveAll();
    return (say.last = send(message, drag));
  }
  return say;
}

/**
 * The entry of a box. `message(text, units)` is what is said; `about.lost(text)` is told what a locked box
 * could not say, and `about.found()` that the design which came instead has it.
 * @param {Box} box
 * @param {Say} say
 * @param {(text: string, units: string) => Message} message
 * @param {{ path?: string, typed?: () => void, lost?: (text: string) => void, found?: () => void }} [about]
 * @returns {Entry}
 */
export function entryOf(box, say, message, about = {}) {
  const s = entryState(box.value);
  /** @type {{ text: string, number: number } | null} */
  let lost = null; // what a lock took away, and the last message before the design that came instead
  const draw = () => {
    if (box.value === s.shown) return;
    const all = wholeChosen(box);
    box.value = s.shown;
    if (all && !(box instanceof HTMLSelectElement)) box.select(); // who came in by Tab types on over the whole
  };
  const typed = () => {
    ENTRY.typed(s, box.value);
    about.typed?.();
  };
  /** @type {Entry} */
  const entry = {
    box,
    leave() {
      if (box.value !== s.shown) typed();
      const said = ENTRY.left(s);
      if (said) ENTRY.sent(s, say(message(said.text, said.units)));
    },
    told(text, units) {
      ENTRY.told(s, text, units);
      draw();
    },
    answered(number) {
      ENTRY.answered(s, number);
      draw();
      if (lost && lost.number <= number) {
        if (s.known === lost.text) about.found?.();
        lost = null;
      }
    },
    lock() {
      if (!about.lost) return;
      const text = ENTRY.lock(s);
      draw();
      if (text === null) return;
      lost = { text, number: say.last };
      about.lost(text);
    },
    // Said again on a page that was loaded anew.
    again(text, units) {
      box.value = text;
      ENTRY.typed(s, text);
      s.units = units || s.units;
      entry.leave();
    },
    unanswered() {
      const text = s.typed ? { text: s.shown, units: s.units } : s.said;
      return about.path && text ? { path: about.path, ...text } : null;
    },
    end() {
      entry.leave();
      say.entries.delete(entry);
    },
  };
  if (!(box instanceof HTMLSelectElement)) {
    box.addEventListener("input", typed);
    box.addEventListener("focus", () => ENTRY.focus(s));
    box.addEventListener("keydown", (e) => /** @type {KeyboardEvent} */ (e).key === "Enter" && entry.leave());
    box.addEventListener("blur", () => {
      entry.leave();
      ENTRY.blur(s);
      draw();
    });
  }
  box.addEventListener("change", () => entry.leave());
  say.entries.add(entry);
  return entry;
}

/** @param {Box} box */
function wholeChosen(box) {
  if (box instanceof HTMLSelectElement || document.activeElement !== box) return false;
  return box.selectionStart === 0 && box.selectionEnd === box.value.length;
}

/**
 * A box that outlives the block around it: drawn anew, the block takes the same box in again.
 * @param {Say} say
 * @param {string} id
 * @param {() => HTMLInputElement} made
 * @param {string} [text]
 * @param {(text: string, units: string) => Message} [message]
 */
export function heldBox(say, id, made, text, message) {
  let held = say.held.get(id);
  if (!held) {
    const box = made();
    say.held.set(id, (held = { box, entry: message ? entryOf(box, say, message) : null }));
  }
  if (held.entry) held.entry.told(text || "");
  return held.box;
}
