// What blocks of single pages are made of.

import { heldBox } from "./boxes.js";
import { folded, make, quiet } from "./dom.js";
import { table } from "./table.js";

/** @param {any[]} list */
export function steps(list) {
  return make(
    "ol",
    { class: "rs-todo" },
    list.map(([head, words]) => make("li", {}, make("strong", {}, head + ": "), words)),
  );
}

/**
 * @param {any} b
 * @param {Say} say
 */
export function answerOf(b, say) {
  const box = heldBox(
    say,
    "rs-budget",
    () => make("input", { id: "rs-budget", type: "text", inputmode: "decimal" }),
    b.budget,
    (text) => ({ do: "answer", name: "budget", text }),
  );
  return [
    make("div", { class: "rs-line" }, make("label", { for: "rs-budget" }, "Money to spend"), box),
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null,
    make(
      "div",
      { role: "status" },
      b.sentence ? make("p", { class: "rs-answer" }, b.sentence) : null,
    ),
    b.sentence ? quiet("rs-partbypart", "Part by part", ...partByPart(b)) : null,
  ];
}

/** @param {any} b */
function partByPart(b) {
  return [
    make(
      "div",
      { role: "status" },
      b.more.map((w) => make("p", {}, w)),
    ),
    make(
      "ul",
      { class: "rs-margins" },
      b.bars.map((bar) =>
        make(
          "li",
          {},
          make("span", {}, make("strong", {}, bar.label), ` · feeds ${bar.value}, ${bar.fish} fish`),
          make(
            "span",
            { class: "rs-marginbar", "aria-hidden": "true" },
            make("span", { class: "rs-reached", style: `width:${100 * bar.share}%` }),
          ),
        ),
      ),
    ),
    b.buys.length
      ? make(
          "div",
          {},
          make("h3", {}, "Buy next, most feed for the money first"),
          table(
            {
              headings: ["What", "Cost (invented price)", "Feed gained", "Then the limit is"],
              rows: b.buys.map((x) => [x.what, x.cost, x.gain, x.then]),
            },
            "What to buy next",
          ),
        )
      : null,
    b.assumed.length
      ? folded(
          "What you left open, and what we took",
          make(
            "ul",
            {},
            b.assumed.map((w) => make("li", {}, w)),
          ),
        )
      : null,
  ];
}

/**
 * @param {any} b
 * @param {Say} say
 */
export function dated(b, say) {
  const box = heldBox(
    say,
    "rs-stocking",
    () => make("input", { id: "rs-stocking", type: "date" }),
    b.date,
    (text) => ({ do: "answer", name: "stocking_date", text }),
  );
  return make(
    "div",
    { class: "rs-line" },
    make("label", { for: "rs-stocking" }, "Day the fish come"),
    box,
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null,
  );
}

/**
 * Fourteen days of the season, from a day that is asked for.
 * @param {any} b
 * @param {Say} say
 */
export function twoWeeks(b, say) {
  const id = "rs-list-day";
  const box = heldBox(
    say,
    id,
    () => make("input", { id, type: "text", inputmode: "numeric", placeholder: "such as 1" }),
    b.day,
    (text) => ({ do: "answer", name: "list_day", text }),
  );
  return [
    make("div", { class: "rs-line" }, make("label", { for: id }, "Two weeks from day"), box),
    b.day_wrong ? make("p", { class: "rs-wrong" }, b.day_wrong) : null,
    b.days.length
      ? make(
          "div",
          {},
          table({ headings: b.headings, rows: b.days }, "Two weeks of the season, day by day"),
          make("p", { class: "rs-source" }, b.every_day),
        )
      : null,
  ];
}
