// How the exercises worked in a class, what was gained, and the key corrected.

import { fill, folded, make, put } from "../dom.js";
import { table } from "../table.js";

/** @param {Say} say */
export function factsPart(say) {
  const items = make("div"),
    about = make("p"),
    gained = make("p"),
    changed = make("div");
  const file = make("input", { id: "rs-fixes", type: "file", accept: ".toml,text/plain" });
  file.addEventListener("change", () => {
    const f = file.files?.[0];
    if (f)
      f.text().then((text) => {
        say({ do: "fixes", text });
        file.value = "";
      });
  });
  const fixes = make(
    "div",
    {},
    make("div", { class: "rs-picks" }, make("label", { for: "rs-fixes" }, "Corrections of the key"), file),
    make("p", { class: "rs-note" }, "Everything is marked again. The guide says how to write the file."),
    changed,
  );
  return {
    el: make(
      "div",
      {},
      make("h3", {}, "Before and after"),
      gained,
      folded("How each exercise worked", about, items),
      folded("Correct the key and mark again", fixes),
    ),
    /** @param {any} r the result */
    show(r) {
      put(gained, r.statistics.gain);
      put(about, r.statistics.words);
      fill(items, table(r.statistics.table, "Facility: mean share of the points. Discrimination: -1 to 1"));
      fill(
        changed,
        r.corrected.length
          ? make(
              "ul",
              {},
              r.corrected.map((/** @type {string} */ line) => make("li", {}, line)),
            )
          : null,
      );
    },
  };
}
