// Answers on paper, typed in by the instructor.

import { entryOf } from "../boxes.js";
import { fill, make } from "../dom.js";

/**
 * A line for each learner, a box for each answer: Enter goes down, Tab to the right, arrows up and down.
 * @param {Say} say
 */
export function gridPart(say) {
  const el = make("div"),
    boxes = new Map();
  let known = "";
  /** @param {any} g */
  function build(g) {
    boxes.forEach((entry) => entry.end());
    boxes.clear();
    const box = (code, c, row, col) => {
      const b = make("input", {
        type: "text",
        autocomplete: "off",
        maxlength: 60,
        "aria-label": `${code}, ${c.title}`,
        "data-at": `${row} ${col}`,
      });
      const entry = entryOf(b, say, (text) => ({ do: "cell", code, column: c.key, text }));
      b.addEventListener("keydown", (e) => {
        const by = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[e.key];
        if (!by) return;
        e.preventDefault();
        /** @type {HTMLElement | null} */
        const next =
          el.querySelector(`[data-at="${row + by} ${col}"]`) ||
          (e.key === "Enter" ? el.querySelector(`[data-at="0 ${col + 1}"]`) : null);
        if (next) next.focus();
        else entry.leave();
      });
      boxes.set(`${code} ${c.key}`, entry);
      return make("td", {}, b);
    };
    fill(
      el,
      make(
        "p",
        { class: "rs-note" },
        `${g.set}. Enter goes to the next learner, Tab to the next answer. ` +
          "Number and unit in one box. Leave empty what is empty.",
      ),
      make(
        "div",
        { class: "rs-scroll rs-tall rs-grid", tabindex: "0", role: "group", "aria-label": "Answers on paper" },
        make(
          "table",
          {},
          make("caption", {}, "Answers on paper"),
          make(
            "thead",
            {},
            make(
              "tr",
              {},
              make("th", { scope: "col" }, "Code"),
              g.columns.map((c) => make("th", { scope: "col" }, c.title)),
            ),
          ),
          make(
            "tbody",
            {},
            g.codes.map((code, row) =>
              make(
                "tr",
                {},
                make("th", { scope: "row" }, code),
                g.columns.map((c, col) => box(code, c, row, col)),
              ),
            ),
          ),
        ),
      ),
    );
  }
  return {
    el,
    show(g) {
      if (!g) {
        known = "";
        fill(el, make("p", {}, "Make or open a class first."));
        return;
      }
      const key = JSON.stringify([g.codes, g.columns]);
      if (key !== known) {
        known = key;
        build(g);
      }
      for (const [at, entry] of boxes) {
        const [code, column] = [at.slice(0, at.indexOf(" ")), at.slice(at.indexOf(" ") + 1)];
        entry.told((g.typed[code] || {})[column] || "");
      }
    },
  };
}
