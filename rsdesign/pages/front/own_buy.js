// What to buy: the parts of the picked design, what costs the same, and own quotes.

import { heldBox } from "./boxes.js";
import { button, folded, make } from "./dom.js";
import { table } from "./table.js";

/**
 * @param {string} id
 * @param {string} label
 * @param {{ value: string, label: string }[]} options
 * @param {string} value
 * @param {(value: string) => void} change
 */
function pickOf(id, label, options, value, change) {
  const pick = make(
    "select",
    { id, onchange: () => change(pick.value) },
    options.map((o) => make("option", { value: o.value }, o.label)),
  );
  pick.value = value;
  return make("div", { class: "rs-line" }, make("label", { for: id }, label), pick);
}

/**
 * @param {any} b
 * @param {Say} say
 */
export function buyBlock(b, say) {
  const answer = (/** @type {string} */ name) => (/** @type {string} */ text) => say({ do: "answer", name, text });
  return [
    make(
      "div",
      { class: "rs-picks" },
      pickOf("rs-against", "In the chart", b.against, b.goal, answer("choose.against")),
      b.ready ? pickOf("rs-pick", "Show the parts of", b.picks, b.pick, answer("choose.pick")) : null,
    ),
    b.ready ? table({ headings: b.headings, rows: b.rows }, "The parts, beside yours") : null,
    b.ready
      ? make("div", { class: "rs-picks" }, button("Use these parts in my design", () => say({ do: "buy" })))
      : null,
    folds(b, say),
  ];
}

/**
 * @param {any} b
 * @param {Say} say
 */
function folds(b, say) {
  return make(
    "div",
    {},
    b.ties.length
      ? folded(
          "What costs the same",
          make(
            "ul",
            {},
            b.ties.map((/** @type {string} */ w) => make("li", {}, w)),
          ),
        )
      : null,
    folded("Put in your own quotes", quotesOf(b.quotes, say)),
    b.notes.length
      ? folded(
          "How it was looked for",
          make(
            "ul",
            {},
            b.notes.map((/** @type {string} */ w) => make("li", {}, w)),
          ),
        )
      : null,
  );
}

/**
 * @param {any} q
 * @param {Say} say
 */
function quotesOf(q, say) {
  const parts = q.parts.map((/** @type {string} */ p) => ({ value: p, label: p }));
  const names = q.names.map((/** @type {string} */ n) => ({ value: n, label: n }));
  const box = heldBox(say, "rs-quote", () =>
    make("input", {
      id: "rs-quote",
      type: "text",
      autocomplete: "off",
      maxlength: 40,
      "aria-describedby": "rs-quotewrong",
    }),
  );
  box.placeholder = `such as ${q.sample}`;
  const thing = pickOf("rs-quotething", "Thing", names, q.names[0], () => {});
  const keep = () => {
    const pick = /** @type {HTMLSelectElement} */ (thing.querySelector("select"));
    say({ do: "quote", part: q.part, name: pick.value, price: box.value });
    box.value = "";
  };
  return make(
    "div",
    {},
    make("p", {}, "A price that you were quoted stays in this browser and takes the place of the invented one."),
    pickOf("rs-quotepart", "Part", parts, q.part, (text) => say({ do: "answer", name: "choose.part", text })),
    thing,
    make("div", { class: "rs-line" }, make("label", { for: "rs-quote" }, "Price"), box),
    make("p", { class: "rs-wrong", id: "rs-quotewrong", role: "alert", hidden: !q.wrong }, q.wrong),
    button("Take this price", keep),
    q.kept.length
      ? make(
          "ul",
          { class: "rs-picks rs-plainlist" },
          q.kept.map((/** @type {any} */ k) =>
            make(
              "li",
              {},
              `${k.name}: ${k.price} `,
              button("Take away", () => say({ do: "drop_quote", part: k.part, name: k.name }), {
                class: "rs-small",
                "aria-label": `Take away the price of ${k.name}`,
              }),
            ),
          ),
        )
      : null,
  );
}
