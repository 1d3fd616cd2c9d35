// What to measure first: how much each input narrows the result, and what it is like once it is known.

import { button, fill, folded, keepingFocus, make } from "./dom.js";
import { table } from "./table.js";

/** @typedef {{ path: string, label: string }} MeasuredInput */
/** @typedef {MeasuredInput & { narrows: string, reach: number, measure: string, chances: string }} MeasureRow */
/**
 * @typedef {{
 *   result: string,
 *   results: { value: string, label: string }[],
 *   rows: MeasureRow[],
 *   known: MeasuredInput[],
 *   build: boolean,
 *   shares: { headings: string[], rows: string[][], words: string },
 *   notes: string[],
 * }} MeasureNow
 */

/** @param {Say} say */
export function measureBlock(say) {
  const id = "rs-measure-result";
  const pick = make("select", {
    id,
    onchange: () => say({ do: "answer", name: "spread.result", text: pick.value }),
  });
  const list = make("ol", { class: "rs-measure" });
  const none = make("p", { hidden: true }, "Nothing that can be measured moves it.");
  const known = make("div", { class: "rs-picks" });
  const build = button("Hold every part as it is now", () => say({ do: "build" }));
  const notes = make("ul");
  const shares = make("div");
  const toggle = (/** @type {string} */ path) => () => say({ do: "measured", path });

  /** @param {MeasureRow} r */
  const row = (r) =>
    make(
      "li",
      {},
      make("strong", {}, r.label),
      make(
        "span",
        { class: "rs-measurebar" },
        make("span", { "aria-hidden": "true", style: `width:${Math.round(100 * r.reach)}%` }),
        ` narrows ${r.narrows}`,
      ),
      make("span", { class: "rs-measurehow" }, r.measure),
      folded("Why, and as if measured", make("p", {}, `${r.chances}.`), button("As if measured", toggle(r.path))),
    );
  return {
    el: make(
      "div",
      {},
      make("div", { class: "rs-asked" }, make("label", { for: id }, "Narrow what?"), pick),
      list,
      none,
      known,
      make("div", { class: "rs-picks" }, build),
      folded("Alone, and with others", shares),
      folded("How to read this", notes),
    ),
    /** @param {MeasureNow} now */
    show(now) {
      if (pick.options.length !== now.results.length)
        fill(
          pick,
          now.results.map((o) => make("option", { value: o.value }, o.label)),
        );
      pick.value = now.result;
      keepingFocus(list, () => fill(list, now.rows.map(row)));
      none.hidden = !!now.rows.length;
      keepingFocus(known, () =>
        fill(
          known,
          now.known.map((k) =>
            button(`${k.label}: measured`, toggle(k.path), { "aria-pressed": "true", title: "Not measured after all" }),
          ),
        ),
      );
      known.hidden = !now.known.length;
      build.hidden = !now.build;
      keepingFocus(shares, () =>
        fill(
          shares,
          make("p", {}, now.shares.words),
          now.shares.rows.length
            ? table(now.shares, "Shares of the variance")
            : button("Work out the shares", () => say({ do: "shares" })),
        ),
      );
      fill(
        notes,
        now.notes.map((w) => make("li", {}, w)),
      );
    },
  };
}
