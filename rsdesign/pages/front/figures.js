// The figures of a page, each with its working behind it.

import { attr, fill, keepingFocus, make, put } from "./dom.js";

/** @param {Say} say */
export function figureList(say) {
  const el = make("ul", { class: "rs-figurelist" });
  const rows = new Map();
  /** @param {any} about */
  function row(about) {
    const value = make("span", { class: "rs-value", "data-figure": about.path, "data-qty": "" });
    const open = make(
      "button",
      {
        type: "button",
        class: "rs-how",
        "aria-expanded": "false",
        onclick: () => say({ do: "working", path: about.path }),
      },
      "How we got this",
    );
    const steps = make("div", { class: "rs-steps", hidden: true });
    const el = make("li", {}, make("span", { class: "rs-figurelabel" }, about.label), value, open, steps);
    return { el, value, open, steps, known: "" };
  }
  return {
    el,
    show(list, working) {
      for (const [path, r] of rows)
        if (!list.some((f) => f.path === path)) {
          r.el.remove();
          rows.delete(path);
        }
      list.forEach((about, at) => {
        let r = rows.get(about.path);
        if (!r) rows.set(about.path, (r = row(about)));
        put(r.value, about.unit === "%" ? `${about.value}%` : `${about.value} ${about.unit}`.trim());
        r.open.hidden = !about.opens;
        attr(r.open, "aria-label", `How we got this: ${about.label}`);
        if (el.children[at] !== r.el) el.insertBefore(r.el, el.children[at] || null);
        const chain = working[about.path];
        attr(r.open, "aria-expanded", chain ? "true" : "false");
        put(r.open, chain ? "Close" : "How we got this");
        r.steps.hidden = !chain;
        const known = chain ? JSON.stringify(chain) : "";
        if (known !== r.known) {
          r.known = known;
          keepingFocus(r.steps, () => fill(r.steps, chain ? chainOf(chain) : null));
        }
      });
    },
  };
}

/** @param {any} chain */
function chainOf(chain) {
  if (!chain.steps.length) return make("p", {}, "This is a choice of the design, or a value from a table.");
  return oneStep(chain, chain.steps.length - 1);
}

/**
 * @param {any} chain
 * @param {number} at
 */
function oneStep(chain, at) {
  const step = chain.steps[at];
  const inputs = step.inputs.map((line) =>
    make(
      "li",
      {},
      `${line.words[0].toUpperCase()}${line.words.slice(1)}: `,
      make("strong", {}, `${line.value} ${line.unit}`.trim()),
      line.from === null || line.from === undefined
        ? null
        : lazily(`how we got ${line.words}`, () => oneStep(chain, line.from)),
    ),
  );
  // Words and numbers first; the symbols open for whoever wants them.
  const formula = () =>
    make(
      "div",
      {},
      make("div", {
        class: "rs-formula rs-scroll",
        tabindex: "0",
        role: "group",
        "aria-label": "Formula",
        markup: step.formula,
      }),
      make(
        "ul",
        {},
        step.inputs.map((line) =>
          make("li", {}, make("span", { class: "rs-symbol", markup: line.symbol }), ` is ${line.words}`),
        ),
      ),
    );
  return make(
    "div",
    { class: "rs-step" },
    make("p", {}, step.title),
    make("ul", {}, inputs),
    make("p", {}, "Result: ", make("strong", {}, `${step.value} ${step.unit}`.trim())),
    lazily("The formula", formula),
    make("p", { class: "rs-source" }, `Source: ${step.source}`),
  );
}

/**
 * @param {string} summary
 * @param {() => Node} build
 */
function lazily(summary, build) {
  const el = make("details", {}, make("summary", {}, summary));
  el.addEventListener("toggle", () => {
    if (el.open && el.children.length === 1) el.append(build());
  });
  return el;
}
