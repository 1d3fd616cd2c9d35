// What was said to the kernel and is not answered yet, and what goes over the line next.
// Nothing here knows of sockets, clocks or elements, so a test runs it alone.

export const MOST_KEPT = 200; // messages that wait for their answer
const FLYING = 20; // messages on the line at once: the server takes more for a flood
const LOOKS = [
  ...["open", "follow", "page", "depth", "units", "working", "tradeoff", "qr", "save", "handout"],
  ...["aside", "width", "mend", "put_off", "whole"],
];

/**
 * An outbox; `live` where messages may go, `onLine` the last number that this line took, `everSent` the last
 * that any line took, `answered` the last answer that came over this line.
 * @returns {OutboxState}
 */
export function outboxState() {
  return { kept: new Map(), live: false, onLine: 0, everSent: 0, answered: 0, tooMany: false };
}

export const OUTBOX = {
  /**
   * A message waits for its answer from now on; false where too many wait, and it is not taken.
   * @param {OutboxState} s
   * @param {Numbered} content
   */
  keep(s, content) {
    s.tooMany = s.tooMany || s.kept.size >= MOST_KEPT;
    if (s.kept.size >= MOST_KEPT) return false;
    s.kept.set(content.n, content);
    return true;
  },
  /**
   * What may go over the line now, in order.
   * @param {OutboxState} s
   * @returns {Numbered[]}
   */
  next(s) {
    /** @type {Numbered[]} */
    const going = [];
    if (!s.live) return going;
    let flying = [...s.kept.keys()].filter((n) => n > s.answered && n <= s.onLine).length;
    for (const [n, content] of s.kept) {
      if (n <= s.onLine) continue;
      if (flying >= FLYING) break;
      going.push(content);
      if (n > s.answered) flying += 1;
      s.onLine = n;
      s.everSent = Math.max(s.everSent, n);
    }
    return going;
  },
  /** @param {OutboxState} s */
  closed(s) {
    s.live = false;
  },
  /**
   * The last message that a line before this one took and nobody answered.
   * @param {OutboxState} s
   * @returns {Numbered | undefined}
   */
  swallowed(s) {
    return [...s.kept.values()].filter((content) => content.n <= s.everSent).pop();
  },
  /**
   * A new line is open. What a broken one swallowed is said again, in order: the program answers what it has
   * done already with the whole page and does it no second time. `last` is what was `swallowed` when the line
   * opened: of an answer that came late the first part may be lost, so the whole page is asked for.
   * @param {OutboxState} s
   * @param {Numbered} [last]
   * @returns {Numbered[]}
   */
  opened(s, last) {
    s.live = true;
    s.onLine = s.answered = 0;
    const late = last && ![...s.kept.keys()].some((n) => n <= last.n);
    return [...(late ? [last] : []), ...OUTBOX.next(s)];
  },
  /**
   * @param {OutboxState} s
   * @param {number} [ack]
   */
  heard(s, ack = 0) {
    s.kept.delete(ack);
    s.answered = Math.max(s.answered, ack);
  },
  /**
   * Whether anything that changes a design waits for its answer.
   * @param {OutboxState} s
   */
  changing(s) {
    return [...s.kept.values()].some((content) => !LOOKS.includes(content.message.do));
  },
};
