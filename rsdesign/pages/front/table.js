// Tables of text, and the table behind a picture.

import { fill, keepingFocus, make } from "./dom.js";

/** @typedef {{ headings: string[], rows: (string | number | Node)[][], totals?: number[] }} TableData */

/**
 * @param {TableData} data
 * @param {string} caption
 */
export function table(data, caption) {
  /**
   * @param {(string | number | Node)[]} cells
   * @param {"th" | "td"} tag
   * @param {boolean} [total]
   */
  const row = (cells, tag, total) =>
    make(
      "tr",
      { class: total ? "rs-total" : null },
      cells.map((c, i) =>
        make(
          i === 0 && tag === "td" ? "th" : c === "" ? "td" : tag,
          { scope: c === "" ? null : tag === "th" ? "col" : i === 0 ? "row" : null },
          c instanceof Node ? c : String(c),
        ),
      ),
    );
  return make(
    "div",
    { class: "rs-scroll", tabindex: "0", role: "group", "aria-label": caption },
    make(
      "table",
      {},
      make("caption", {}, caption),
      make("thead", {}, row(data.headings, "th")),
      make(
        "tbody",
        {},
        data.rows.map((r, i) => row(r, "td", !!data.totals && data.totals.includes(i))),
      ),
    ),
  );
}

/**
 * The table behind a picture: where it is folded away, it waits for the end of a drag.
 * @param {HTMLDetailsElement} fold
 * @param {HTMLElement} area
 * @param {string} caption
 */
export function behind(fold, area, caption) {
  /** @type {TableData} */
  let now;
  let later = 0;
  const draw = () => {
    clearTimeout(later);
    later = 0;
    keepingFocus(area, () => fill(area, table(now, caption)));
  };
  fold.addEventListener("toggle", () => later && draw());
  return (/** @type {TableData} */ data) => {
    now = data;
    clearTimeout(later);
    if (fold.open || !area.children.length) draw();
    else later = window.setTimeout(draw, 150);
  };
}
