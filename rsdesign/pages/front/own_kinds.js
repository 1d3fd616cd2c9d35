// Blocks of one page: where to begin, the answer to "what can it feed?", designs side by side, lists.

import { folded, make } from "./dom.js";
import { logEntry } from "./log_entry.js";
import { logFindings, logTuned } from "./log_findings.js";
import { ownCandidate } from "./own_candidate.js";
import { buyBlock } from "./own_buy.js";
import { answerOf, dated, steps, twoWeeks } from "./own_parts.js";
import { REPORT } from "./own_report.js";
import { table } from "./table.js";
import { wayInBlock } from "./way_in.js";

const SHORT_REPORT = 3; // so many items stand open

/**
 * @param {string} title
 * @param {...any} inside
 */
const onPaper = (title, ...inside) => make("details", { class: "rs-paper" }, make("summary", {}, title), ...inside);

/**
 * @param {any} booklet its title, what is in it, and the files that it comes as
 * @param {Say} say
 */
const bookletBlock = (booklet, say) => [
  make("p", {}, make("strong", {}, booklet.title), `: ${booklet.words}.`),
  make(
    "div",
    { class: "rs-picks" },
    booklet.formats.map((f) =>
      make(
        "button",
        {
          type: "button",
          class: "rs-button",
          "aria-label": f.name,
          onclick: () => say({ do: "handout", format: f.format, paper: f.paper || "letter", booklet: f.booklet || "" }),
        },
        f.title,
      ),
    ),
  ),
];

/** Views that keep their boxes while their block is drawn anew, made once for a page. */
const keptViews = new WeakMap();

/**
 * @param {Say} say
 * @param {string} name
 * @param {(say: Say) => { el: HTMLElement, show: (now: any) => void }} made
 * @param {any} now
 */
function keptView(say, name, made, now) {
  const views = keptViews.get(say) ?? new Map();
  keptViews.set(say, views);
  if (!views.has(name)) views.set(name, made(say));
  queueMicrotask(() => views.get(name).show(now)); // once it is on the page, so that it can take the focus
  return [views.get(name).el];
}

export const OWN = {
  way_in: (b, say) => keptView(say, b.form, wayInBlock, b),
  log_entry: (b, say) => keptView(say, b.form, logEntry, b),
  log_findings: (b) => logFindings(b),
  log_tuned: (b, say) => logTuned(b, say),
  steps: (b) => [steps(b.steps)],
  answer: (b, say) => answerOf(b, say),
  balance: (b, say) => answerOf(b, say),
  budget: (b) => [
    b.summary.map((w) => make("p", {}, w)),
    onPaper(
      "The budget, line by line",
      table({ headings: ["Line", "In a full year"], rows: b.rows, totals: b.totals }, "Budget of a full year"),
    ),
    onPaper(
      "What moves the net return most",
      table(
        { headings: ["Moved by a tenth", "A tenth less", "A tenth more"], rows: b.movers },
        "Net return when one thing moves",
      ),
    ),
    folded(
      "What is bought, each at its own life",
      table({ headings: ["Part", "First cost", "Life", "A year"], rows: b.items }, "Parts"),
    ),
    folded("Work in a year", table({ headings: ["Task", "Hours"], rows: b.work }, "Hours of work in a year")),
    b.notice.map((w) => make("p", { class: "rs-source" }, w)),
  ],
  buy: (b, say) => buyBlock(b, say),
  candidates: (b, say) => {
    const pick = make(
      "select",
      { id: "rs-part", onchange: () => say({ do: "answer", name: "part", text: pick.value }) },
      b.parts.map((p) => make("option", { value: p }, p)),
    );
    pick.value = b.part;
    return [
      make("div", { class: "rs-line" }, make("label", { for: "rs-part" }, "Part"), pick),
      table({ headings: b.headings, rows: b.rows }, "Candidates, cheapest a year first"),
      make("p", { class: "rs-source" }, b.note),
      ownCandidate(b, say),
      b.cross.length
        ? folded(
            "Where two cost the same",
            make(
              "ul",
              {},
              b.cross.map((w) => make("li", {}, w)),
            ),
          )
        : null,
    ];
  },
  report: (b, say) => {
    const items = b.items.map((item) => REPORT[item.kind](item, say)).flat();
    return items.length > SHORT_REPORT ? [items[0], onPaper("Read all of it", ...items.slice(1))] : items;
  },
  handout: (b, say) => b.booklets.map((booklet) => bookletBlock(booklet, say)).flat(),
  offer: (b, say) => [
    b.words.map((w) => make("p", {}, w)),
    b.acts.map((a) =>
      make(
        "button",
        { type: "button", class: "rs-button", onclick: () => say({ do: "set", path: a.path, text: a.text }) },
        a.title,
      ),
    ),
    b.rows.length ? folded("Every kind in this design", table({ headings: b.headings, rows: b.rows }, b.title)) : null,
  ],
  lists: (b, say) => [
    dated(b, say),
    b.moved ? make("p", {}, b.moved) : null,
    twoWeeks(b, say),
    b.lists.map((list) => onPaper(list.title, make("div", { class: "rs-list" }, steps(list.steps)))),
  ],
};
