// What the kernel composed, put on the page: picture, checks, parts, words, cautions.

import { fill, make, put, quiet } from "./dom.js";

/** Every check behind one line, worst first; those of every part with what it gives and needs above them. */
export function checkFold() {
  const list = make("ul", { class: "rs-checklist" });
  const parts = marginList();
  const told = make("summary", {}, "All checks");
  const el = make("details", { class: "rs-allchecks rs-paper" }, told, parts.el, list);
  let checks = [],
    bars = [],
    drawn = [];
  const row = (c) =>
    make(
      "li",
      { class: `rs-check rs-${c.state}` },
      make("span", { class: "rs-mark", "aria-hidden": "true" }),
      make(
        "span",
        {},
        make("strong", {}, c.word[0].toUpperCase() + c.word.slice(1)),
        ` · ${c.words}`,
        make("span", { class: "rs-source" }, ` (${c.source})`),
      ),
    );
  // Dozens of checks are drawn only where somebody looks at them.
  const draw = () => {
    if (!el.open || (drawn[0] === checks && drawn[1] === bars)) return;
    drawn = [checks, bars];
    fill(list, checks.map(row));
    parts.el.hidden = !bars.length;
    parts.show(bars);
  };
  el.addEventListener("toggle", draw);
  return {
    el,
    draw,
    /**
     * @param {any[]} found
     * @param {any[]} margins
     */
    show(found, margins) {
      checks = found;
      bars = margins;
      const holds = found.filter((c) => c.state === "enough").length;
      el.hidden = !found.length;
      put(told, holds === found.length ? `All ${holds} checks hold` : `All ${found.length} checks: ${holds} hold`);
      draw();
    },
  };
}

export function marginList() {
  const el = make("ul", { class: "rs-margins" });
  return {
    el,
    show(list) {
      fill(
        el,
        list.map((p) =>
          make(
            "li",
            {},
            make("span", {}, make("strong", {}, p.label), ` · ${p.word}, ${p.share}`),
            make(
              "span",
              { class: `rs-marginbar rs-${p.state}`, "aria-hidden": "true" },
              make("span", { class: "rs-reached", style: `width:${100 * p.reach}%` }),
              make("span", { class: "rs-need", style: `left:${100 * p.need}%` }),
            ),
            make(
              "span",
              { class: "rs-source" },
              p.form === "at most" ? `has ${p.given}, at most ${p.needed}` : `gives ${p.given}, needs ${p.needed}`,
            ),
          ),
        ),
      );
    },
  };
}

/**
 * @param {HTMLElement} el
 * @param {Blocks} now
 */
export function wordsBlock(el, now) {
  const parts = [];
  if (now.rule)
    parts.push(
      quiet(
        "rs-rule",
        "Rule of thumb and mass balance",
        make("p", {}, now.rule.words),
        make(
          "dl",
          {},
          ...[
            ["Rule of thumb", now.rule.rule],
            ["Mass balance", now.rule.balance],
            ["You have", now.rule.given],
          ].flatMap(([k, v]) => [make("dt", {}, k), make("dd", { "data-qty": "" }, v)]),
        ),
      ),
    );
  if (now.card)
    parts.push(
      quiet(
        "rs-card",
        "By hand",
        make(
          "ol",
          {},
          now.card.lines.map((l) => make("li", {}, l)),
        ),
        make(
          "p",
          {},
          `We compute ${now.card.computed} (${now.card.label}). The sum by hand differs from it by ${now.card.off}.`,
        ),
      ),
    );
  // What a reader opened or closed stays so while the words of one page change.
  const same = el.dataset.of === now.question;
  const before = new Map(
    [...el.querySelectorAll("details")].map((d) => [d.parentElement?.className, same ? d.open : undefined]),
  );
  el.dataset.of = now.question;
  fill(el, parts);
  if (now.long) for (const d of el.querySelectorAll("details")) d.open = false;
  for (const d of el.querySelectorAll("details")) d.open = before.get(d.parentElement?.className) ?? d.open;
}

/**
 * What comes before fish are bought, then every caution with its first sentence and whom to ask; what more
 * there is to each stands behind one line.
 * @param {HTMLElement} el
 * @param {any[]} list
 * @param {string[]} before
 */
export function cautionsBlock(el, list, before) {
  const firstOf = (/** @type {string} */ fact) => fact.slice(0, (fact.indexOf(". ") + 1 || fact.length));
  const line = (c, words) =>
    make("li", {}, make("strong", {}, c.hazard + ". "), words, make("em", {}, ` Ask: ${c.ask}.`));
  fill(
    el,
    before.length
      ? make(
          "div",
          { class: "rs-beforefish" },
          make("h3", {}, "Do not buy fish yet"),
          make(
            "ul",
            {},
            before.map((w) => make("li", {}, w)),
          ),
        )
      : null,
    make(
      "ul",
      {},
      list.map((c) => line(c, firstOf(c.fact))),
    ),
    make(
      "details",
      { class: "rs-paper" },
      make("summary", {}, "In full, and whom to ask"),
      make(
        "ul",
        {},
        list.map((c) => line(c, c.fact)),
      ),
    ),
  );
}
