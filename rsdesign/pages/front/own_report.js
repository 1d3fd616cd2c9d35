// The parts of a report, each by its kind.

import { folded, make } from "./dom.js";
import { table } from "./table.js";

export const REPORT = {
  answer: (x) => make("p", { class: "rs-answer", role: "status" }, x.text),
  words: (x) => make("p", {}, x.text),
  take: (x, say) =>
    make(
      "p",
      {},
      make(
        "button",
        { type: "button", class: "rs-button", onclick: () => say({ do: "set", path: x.path, text: x.text }) },
        x.words,
      ),
    ),
  list: (x) =>
    make(
      "div",
      {},
      make("h3", {}, x.title),
      make(
        "ul",
        {},
        x.items.map((w) => make("li", {}, w)),
      ),
    ),
  table: (x) => folded(x.title, table({ headings: x.headings, rows: x.rows }, x.title)),
  box: (x) =>
    make(
      "details",
      { class: "rs-box", open: x.open },
      make("summary", {}, x.title),
      make("p", {}, x.stops),
      x.times.length
        ? make(
            "p",
            {},
            x.times.flatMap(([until, time], i) => [i ? " · " : "", `${until}: `, make("strong", {}, time)]),
          )
        : null,
      make("p", {}, make("strong", {}, "First: "), x.first),
      make(
        "ul",
        {},
        x.then.map((w) => make("li", {}, w)),
      ),
      make("p", {}, "When it is back, in this order:"),
      make(
        "ol",
        {},
        x.restart.map((w) => make("li", {}, w)),
      ),
    ),
};

// Boxes for the wall are printed whole, folded or not.
if (typeof window !== "undefined")
  window.addEventListener("beforeprint", () =>
    document.querySelectorAll(".rs-box").forEach((d) => {
      /** @type {HTMLDetailsElement} */ (d).open = true;
    }),
  );
