// The words of a problem.

import { make } from "../dom.js";
import { table } from "../table.js";

/**
 * Words of a problem: text, caution, lines, options; nothing to type yet.
 * @param {any} p the problem
 * @returns {(Node | null)[]}
 */
export function problemWords(p) {
  return [
    make("p", {}, p.text),
    p.caution ? make("p", { class: "rs-cautions" }, make("strong", {}, "Take care. "), p.caution) : null,
    p.lines.length
      ? make(
          "ul",
          { class: "rs-plainlist" },
          p.lines.map((/** @type {string} */ w) => make("li", {}, w)),
        )
      : null,
    p.columns.length
      ? table(
          {
            headings: ["", ...p.columns],
            rows: p.options.map((/** @type {string[]} */ [letter, words]) => [
              letter,
              ...words.split("|").map((/** @type {string} */ w) => w.trim()),
            ]),
          },
          "Options",
        )
      : p.options.length
        ? make(
            "ol",
            { class: "rs-letters" },
            p.options.map((/** @type {string[]} */ [, words]) => make("li", {}, words)),
          )
        : null,
    p.source ? make("p", { class: "rs-source" }, `After: ${p.source}.`) : null,
  ];
}

/** @type {Record<string, string>} */
export const PLAIN_ASK = {
  number: "Your answer",
  line: "Which line?",
  pick: "Which one?",
  order: "Letters in order, such as BACD",
};
