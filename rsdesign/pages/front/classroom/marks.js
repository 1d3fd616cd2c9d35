// Who did what: marks, slips, reasons to read.

import { chartBlock } from "../charts.js";
import { button, fill, folded, keepingFocus, make, put, section } from "../dom.js";
import { table } from "../table.js";
import { factsPart } from "./facts.js";

/**
 * @param {Say} say
 * @param {Model} model
 */
export function tablePart(say, model) {
  const { el, body, head } = section("table", "5 Who did what");
  const chart = chartBlock(model),
    inner = make("div", { hidden: true }),
    words = make("p", { role: "status" });
  const facts = factsPart(say);
  const first = make("div"),
    refused = make("div"),
    whole = make("div"),
    slips = make("div"),
    reasons = make("div");
  inner.append(
    make(
      "div",
      { class: "rs-picks" },
      button("Save marks.csv", () => say({ do: "csv" })),
      button("Save gradebook.csv", () => say({ do: "csv", which: "gradebook" })),
      button("Save exercises.csv", () => say({ do: "csv", which: "items" })),
    ),
    refused,
    whole,
    chart.el,
    facts.el,
    slips,
    first,
    reasons,
  );
  body.append(words, inner);
  const reason = (x, rubric, i) => {
    const id = `rs-reason-${i}`;
    const pick = make(
      "select",
      {
        id,
        onchange: () =>
          say({
            do: "rubric",
            code: x.code,
            exercise: x.exercise,
            points: pick.value === "" ? null : Number(pick.value),
          }),
      },
      make("option", { value: "" }, "not read"),
      Array.from({ length: rubric + 1 }, (_, n) => make("option", { value: String(n) }, String(n))),
    );
    pick.value = x.points === null || x.points === undefined ? "" : String(x.points);
    return make("li", {}, make("label", { for: id }, `${x.code}, ${x.title}: `), make("q", {}, x.reason), " ", pick);
  };
  return {
    el,
    head,
    show(blocks) {
      if (!("result" in blocks)) return;
      const r = blocks.result;
      inner.hidden = !r;
      put(words, r ? r.words : "Nothing is marked yet.");
      if (!r) return;
      fill(
        refused,
        r.differ.length
          ? [
              make("h3", {}, "Handed in twice, and not the same"),
              make(
                "ul",
                {},
                r.differ.map((w) => make("li", {}, w)),
              ),
            ]
          : null,
        r.refused.length
          ? [
              make("h3", {}, "Not marked"),
              make(
                "ul",
                {},
                r.refused.map((x) => make("li", {}, make("strong", {}, `${x.name}: `), x.words)),
              ),
            ]
          : null,
        r.late.length ? make("p", {}, `Late: ${r.late.join(", ")}.`) : null,
        r.notes.length
          ? folded(
              "Notes",
              make(
                "ul",
                {},
                r.notes.map((n) => make("li", {}, n)),
              ),
            )
          : null,
      );
      fill(whole, table(r.table, "Share of the points, learner by learner"));
      chart.show(r.chart);
      facts.show(r);
      fill(
        slips,
        make("h3", {}, "Common slips"),
        r.slips.rows.length ? table(r.slips, "Slips, the most common first") : make("p", {}, "No known slip was made."),
      );
      fill(
        first,
        r.first.length
          ? [
              make("h3", {}, "Tomorrow's first five minutes"),
              make(
                "ol",
                {},
                r.first.map((x) =>
                  make(
                    "li",
                    {},
                    make("p", {}, x.words),
                    make("p", {}, make("strong", {}, "For the board. "), x.example),
                  ),
                ),
              ),
            ]
          : null,
      );
      keepingFocus(reasons, () =>
        fill(
          reasons,
          r.reasons.length
            ? folded(
                `Reasons to read (${r.reasons.length})`,
                make(
                  "p",
                  {},
                  "0 to 3: the right relation; units and sum in order; asks if the answer is likely; " +
                    "says limits and whom to ask.",
                ),
                make(
                  "ul",
                  {},
                  r.reasons.map((x, i) => reason(x, r.rubric, i)),
                ),
              )
            : null,
        ),
      );
    },
  };
}
