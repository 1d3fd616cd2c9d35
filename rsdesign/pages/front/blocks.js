// What the kernel composed, put on the page: picture, checks, parts, words, cautions.

import { fill, folded, make, put } from "./dom.js";
import { behind } from "./table.js";

export function pictureBlock() {
  const drawing = make("div", { class: "rs-drawing" });
  const sentence = make("p", { class: "rs-sentence", role: "status" });
  const data = make("div");
  const numbers = folded("Show the numbers", data),
    tabled = behind(numbers, data, "The numbers of the picture");
  const el = make("figure", {}, drawing, make("figcaption", {}, sentence, numbers));
  return {
    el,
    show(now) {
      el.hidden = !now;
      if (!now) return;
      drawing.innerHTML = now.svg;
      put(sentence, now.sentence);
      tabled(now.table);
    },
  };
}

// So many checks that hold stand in view; more of them are folded under one line.
const FEW_CHECKS = 4;

export function checkList() {
  const el = make("ul", { class: "rs-checklist" });
  const held = make("ul", { class: "rs-checklist" }),
    told = make("summary", {});
  const fold = make("details", { class: "rs-held" }, told, held);
  const row = (c) =>
    make(
      "li",
      { class: `rs-check rs-${c.plaque}` },
      make("span", { class: "rs-plaque", "aria-hidden": "true" }),
      make(
        "span",
        {},
        make("strong", {}, c.word[0].toUpperCase() + c.word.slice(1)),
        ` · ${c.words}`,
        make("span", { class: "rs-source" }, ` (${c.source})`),
      ),
    );
  // On paper nothing is folded away.
  let before = false;
  window.addEventListener("beforeprint", () => {
    before = fold.open;
    fold.open = true;
  });
  window.addEventListener("afterprint", () => {
    fold.open = before;
  });
  return {
    el: make("div", {}, el, fold),
    show(list) {
      const [good, bad] = [list.filter((c) => c.plaque === "enough"), list.filter((c) => c.plaque !== "enough")];
      const many = good.length > FEW_CHECKS;
      fill(el, (many ? bad : list).map(row));
      el.hidden = !el.children.length;
      fill(held, many ? good.map(row) : []);
      put(told, bad.length ? `${good.length} more checks hold` : `All ${good.length} checks hold`);
      fold.hidden = !many;
    },
  };
}

export function plankList() {
  const el = make("ul", { class: "rs-planks" });
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
              { class: `rs-plank rs-${p.plaque}`, "aria-hidden": "true" },
              make("span", { class: "rs-board", style: `width:${100 * p.reach}%` }),
              make("span", { class: "rs-post", style: `left:${100 * p.post}%` }),
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
      make(
        "div",
        { class: "rs-rule" },
        make("h2", {}, "Rule of thumb beside the balance"),
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
      make(
        "div",
        { class: "rs-card" },
        make("h2", {}, "By hand"),
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
  fill(el, parts);
}

/**
 * @param {HTMLElement} el
 * @param {any[]} list
 */
export function cautionsBlock(el, list) {
  fill(
    el,
    make(
      "ul",
      {},
      list.map((c) => make("li", {}, make("strong", {}, c.hazard + ". "), c.fact, make("em", {}, ` Ask: ${c.ask}.`))),
    ),
  );
}
