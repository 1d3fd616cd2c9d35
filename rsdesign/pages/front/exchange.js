// Saying and hearing: one message for each thing a person does, at most one of a drag in flight.

import { sayer } from "./boxes.js";
import { keptDrawings } from "./drawings.js";

const BUSY_AFTER = 400; // milliseconds without an answer, after which a page shows that it waits

/**
 * A page's messages to its kernel, and those that wait for an answer.
 * @param {Model} model
 */
export function exchange(model) {
  /** @type {Set<number>} */
  const waiting = new Set();
  /** @type {Message | null} */
  let held = null; // the newest place of a slider, while another message is on its way
  let number = 0;
  let sinceBusy = 0;
  const drawn = keptDrawings();

  /** @param {Message} message */
  function send(message) {
    number += 1;
    waiting.add(number);
    if (!sinceBusy) sinceBusy = performance.now();
    model.send({ n: number, message });
    return number;
  }
  /** @param {object} [more] */
  function sendHeld(more = {}) {
    const message = { .../** @type {Message} */ (held), ...more };
    held = null;
    send(message);
  }
  const say = sayer((message, drag) => {
    // The last place of a slider is not lost where another one moves before it could be said.
    if (held && (!drag || held.path !== message.path)) sendHeld({ end: true });
    if (!drag || !waiting.size) return send(message);
    held = message;
    return number + 1; // it goes next
  });
  /** @param {Blocks} blocks in which drawings are made whole, or the page is asked for whole */
  function complete(blocks) {
    if (!drawn(blocks)) send({ do: "whole" });
  }
  return {
    send,
    say,
    complete,
    waits: () => waiting.size > 0 || held !== null,
    busy: () => sinceBusy > 0 && performance.now() - sinceBusy > BUSY_AFTER,
    /**
     * Messages are answered in order: one before this that was not taken is waited for no longer.
     * @param {number | undefined} ack
     * @param {Blocks} [blocks] what came with the answer
     */
    answered(ack, blocks) {
      if (blocks) complete(blocks);
      if (ack !== undefined) for (const n of waiting) if (n <= ack) waiting.delete(n);
      if (!waiting.size) sinceBusy = 0;
    },
    /** What was held back while a message was on its way goes now. */
    release() {
      if (held && !waiting.size) sendHeld();
    },
  };
}

/**
 * JupyterLab would take the arrow keys of a slider for its own shortcuts: they stop here first.
 * @param {HTMLElement} root
 * @returns {() => void} what ends it
 */
export function keepKeys(root) {
  if (window.rsServed) return () => {};
  const keys = (/** @type {KeyboardEvent} */ e) => {
    if (root.contains(/** @type {Node} */ (e.target))) e.stopPropagation();
  };
  window.addEventListener("keydown", keys, true);
  return () => window.removeEventListener("keydown", keys, true);
}
