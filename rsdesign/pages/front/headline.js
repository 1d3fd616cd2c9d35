// The headline figures: what each is, how much, what it means at rest, and its change after a move.

import { attr, fill, make, put } from "./dom.js";

export function headlineList() {
  const el = make("ul", { class: "rs-headline", "aria-live": "polite" });
  /** @type {{ path: string, value: HTMLElement, unit: HTMLElement, third: HTMLElement }[]} */
  let rows = [];
  /** @param {any[]} list */
  function build(list) {
    rows = list.map((f) => ({
      path: f.path,
      value: make("strong", { "data-headline": f.path }),
      unit: make("span", { class: "rs-unit" }),
      third: make("span", { class: "rs-third" }),
    }));
    fill(
      el,
      list.map((f, i) =>
        make(
          "li",
          {},
          make("span", { class: "rs-headlabel" }, f.label),
          make("span", { class: "rs-headvalue" }, rows[i].value, " ", rows[i].unit),
          rows[i].third,
        ),
      ),
    );
  }
  return {
    el,
    /** @param {any[]} list */
    show(list) {
      if (rows.map((r) => r.path).join() !== list.map((f) => f.path).join()) build(list);
      list.forEach((f, i) => {
        put(rows[i].value, f.value);
        put(rows[i].unit, f.unit);
        put(rows[i].third, f.change || f.note);
        attr(rows[i].third, "data-changed", f.change ? "" : null);
      });
    },
  };
}
