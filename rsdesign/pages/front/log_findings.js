// What a log shows and what to do, worst first; and the numbers of the design that it tunes.

import { button, folded, make, onPhone } from "./dom.js";
import { table } from "./table.js";

const STAND_OPEN = 2; // findings; on a phone the first

/** @param {any} b */
export function logFindings(b) {
  const items = b.findings.map((/** @type {any} */ f, /** @type {number} */ at) => {
    const inside = [
      make("p", {}, f.says),
      make(
        "dl",
        { class: "rs-logsteps" },
        f.steps.flatMap((/** @type {string[]} */ [when, words]) => [make("dt", {}, when), make("dd", {}, words)]),
      ),
      make("p", { class: "rs-logcaution" }, make("strong", {}, "Take care. "), f.caution),
      make("p", { class: "rs-source" }, `Limit: ${f.source}.`),
    ];
    const fold = folded(f.title, ...inside);
    fold.open = at < (onPhone() ? 1 : STAND_OPEN);
    return make("li", {}, fold);
  });
  return [
    b.words ? make("p", {}, b.words) : null,
    items.length ? make("ol", { class: "rs-logfindings rs-plainlist" }, items) : null,
    make(
      "div",
      {},
      b.due.length
        ? folded("Next tests", table({ headings: ["Due", "Test", "Why"], rows: b.due }, "Tests that come next"))
        : null,
      b.last ? folded("The last test of each column", table(b.last, "Last tests")) : null,
    ),
  ].filter(Boolean);
}

/**
 * @param {any} b
 * @param {Say} say
 */
export function logTuned(b, say) {
  const open = b.open.map((/** @type {string[]} */ [name, why, decides]) =>
    make("li", {}, make("strong", {}, `${name}. `), `${why} `, decides ? `What would decide it: ${decides}` : ""),
  );
  return [
    make("p", {}, b.words),
    b.ready ? button("Tune by my log", () => say({ do: "tune" })) : make("p", {}, "It needs a log first."),
    b.numbers
      ? table(b.numbers, "The design's numbers before and after, nine truths of ten lie in the band")
      : null,
    b.stale ? make("p", {}, "The design or the log has changed since; tune again to see it anew.") : null,
    open.length ? make("ul", {}, open) : null,
    b.numbers && !b.stale ? button("Use the tuned numbers in my design", () => say({ do: "use_tuned" })) : null,
    b.carried.length
      ? folded(
          "What the design takes over",
          make(
            "ul",
            {},
            b.carried.map((/** @type {string} */ w) => make("li", {}, w)),
          ),
        )
      : null,
    b.notes.length
      ? folded(
          "How to read these numbers",
          make(
            "ul",
            {},
            b.notes.map((/** @type {string} */ w) => make("li", {}, w)),
          ),
        )
      : null,
  ].filter(Boolean);
}
