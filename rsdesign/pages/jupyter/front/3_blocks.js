// What the kernel composed, put on the page: picture, figures with their working, checks, words.

function pictureBlock() {
  const drawing = make("div", { class: "rs-drawing" });
  const sentence = make("p", { class: "rs-sentence", role: "status" });
  const data = make("div");
  const numbers = folded("Show the numbers", data), tabled = behind(numbers, data, "The numbers of the picture");
  const el = make("figure", {}, drawing, make("figcaption", {}, sentence, numbers));
  return { el, show(now) {
    el.hidden = !now;
    if (!now) return;
    drawing.innerHTML = now.svg;
    put(sentence, now.sentence);
    tabled(now.table);
  } };
}

function figureList(say) {
  const el = make("ul", { class: "rs-figurelist" });
  const rows = new Map();
  function row(about) {
    const value = make("span", { class: "rs-value", "data-figure": about.path, "data-qty": "" });
    const open = make("button", { type: "button", class: "rs-how", "aria-expanded": "false",
      onclick: () => say({ do: "working", path: about.path }) }, "How we got this");
    const steps = make("div", { class: "rs-steps", hidden: true });
    const el = make("li", {}, make("span", { class: "rs-figurelabel" }, about.label), value, open, steps);
    return { el, value, open, steps, known: "" };
  }
  return { el, show(list, working) {
    for (const [path, r] of rows) if (!list.some((f) => f.path === path)) { r.el.remove(); rows.delete(path); }
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
      if (known !== r.known) { r.known = known; keepingFocus(r.steps, () => fill(r.steps, chain ? chainOf(chain) : null)); }
    });
  } };
}

function chainOf(chain) {
  if (!chain.steps.length) return make("p", {}, "This is a choice of the design, or a value from a table.");
  return oneStep(chain, chain.steps.length - 1);
}

function oneStep(chain, at) {
  const step = chain.steps[at];
  const inputs = step.inputs.map((line) => make("li", {}, `${line.words[0].toUpperCase()}${line.words.slice(1)}: `,
    make("strong", {}, `${line.value} ${line.unit}`.trim()),
    line.from === null || line.from === undefined ? null
      : lazily(`how we got ${line.words}`, () => oneStep(chain, line.from))));
  // Words and numbers first; the symbols open for whoever wants them.
  const formula = () => make("div", {},
    make("div", { class: "rs-formula rs-scroll", tabindex: "0", role: "group", "aria-label": "Formula", markup: step.formula }),
    make("ul", {}, step.inputs.map((line) => make("li", {}, make("span", { class: "rs-symbol", markup: line.symbol }), ` is ${line.words}`))));
  return make("div", { class: "rs-step" }, make("p", {}, step.title),
    make("ul", {}, inputs), make("p", {}, "Result: ", make("strong", {}, `${step.value} ${step.unit}`.trim())),
    lazily("The formula", formula),
    make("p", { class: "rs-source" }, `Source: ${step.source}`));
}

function lazily(summary, build) {
  const el = make("details", {}, make("summary", {}, summary));
  el.addEventListener("toggle", () => { if (el.open && el.children.length === 1) el.append(build()); });
  return el;
}

// So many checks that hold stand in view; more of them are folded under one line.
const FEW_CHECKS = 4;

function checkList() {
  const el = make("ul", { class: "rs-checklist" });
  const held = make("ul", { class: "rs-checklist" }), told = make("summary", {});
  const fold = make("details", { class: "rs-held" }, told, held);
  const row = (c) => make("li", { class: `rs-check rs-${c.plaque}` },
    make("span", { class: "rs-plaque", "aria-hidden": "true" }),
    make("span", {}, make("strong", {}, c.word[0].toUpperCase() + c.word.slice(1)), ` · ${c.words}`,
      make("span", { class: "rs-source" }, ` (${c.source})`)));
  // On paper nothing is folded away.
  let before = false;
  window.addEventListener("beforeprint", () => { before = fold.open; fold.open = true; });
  window.addEventListener("afterprint", () => { fold.open = before; });
  return { el: make("div", {}, el, fold), show(list) {
    const [good, bad] = [list.filter((c) => c.plaque === "enough"), list.filter((c) => c.plaque !== "enough")];
    const many = good.length > FEW_CHECKS;
    fill(el, (many ? bad : list).map(row));
    el.hidden = !el.children.length;
    fill(held, many ? good.map(row) : []);
    put(told, bad.length ? `${good.length} more checks hold` : `All ${good.length} checks hold`);
    fold.hidden = !many;
  } };
}

function plankList() {
  const el = make("ul", { class: "rs-planks" });
  return { el, show(list) {
    fill(el, list.map((p) => make("li", {},
      make("span", {}, make("strong", {}, p.label), ` · ${p.word}, ${p.share}`),
      make("span", { class: `rs-plank rs-${p.plaque}`, "aria-hidden": "true" },
        make("span", { class: "rs-board", style: `width:${100 * p.reach}%` }),
        make("span", { class: "rs-post", style: `left:${100 * p.post}%` })),
      make("span", { class: "rs-source" }, p.form === "at most" ? `has ${p.given}, at most ${p.needed}`
        : `gives ${p.given}, needs ${p.needed}`))));
  } };
}

function guessBlock(say) {
  const box = make("input", { id: "rs-guess", type: "text", inputmode: "decimal", autocomplete: "off" });
  const ask = make("label", { for: "rs-guess" });
  const unit = make("span", { class: "rs-unit" });
  const answer = make("p", { role: "status" });
  const typed = new Map(); // guesses that are not kept yet, each under what is asked
  box.addEventListener("input", () => typed.set(asked, box.value));
  let asked = "";
  const form = make("form", { onsubmit: (e) => { e.preventDefault(); say({ do: "guess", text: box.value }); } },
    ask, make("span", { class: "rs-entry" }, box, unit), make("button", { type: "submit", class: "rs-button" }, "Keep my guess"));
  const el = make("div", {}, form, answer);
  return { el, show(now) {
    el.parentNode && (el.parentNode.hidden = !now);
    if (!now) return;
    put(ask, now.ask);
    put(unit, now.unit);
    if (typed.get(now.ask) === now.typed) typed.delete(now.ask);
    const text = typed.has(now.ask) ? typed.get(now.ask) : now.typed;
    if (box.value !== text) box.value = text;
    asked = now.ask;
    put(answer, now.answer ? `You said ${now.typed} ${/[a-z°%]/i.test(now.typed) ? "" : now.unit}. We get ${now.answer}. ${now.words}` : now.words);
  } };
}

function wordsBlock(el, now) {
  const parts = [];
  if (now.rule) parts.push(make("div", { class: "rs-rule" }, make("h2", {}, "Rule of thumb beside the balance"),
    make("p", {}, now.rule.words),
    make("dl", {}, ...[["Rule of thumb", now.rule.rule], ["Mass balance", now.rule.balance], ["You have", now.rule.given]]
      .flatMap(([k, v]) => [make("dt", {}, k), make("dd", { "data-qty": "" }, v)]))));
  if (now.card) parts.push(make("div", { class: "rs-card" }, make("h2", {}, "By hand"),
    make("ol", {}, now.card.lines.map((l) => make("li", {}, l))),
    make("p", {}, `We compute ${now.card.computed} (${now.card.label}). The sum by hand differs from it by ${now.card.off}.`)));
  fill(el, parts);
}

function cautionsBlock(el, list) {
  fill(el, make("ul", {}, list.map((c) => make("li", {}, make("strong", {}, c.hazard + ". "), c.fact,
    make("em", {}, ` Ask: ${c.ask}.`)))));
}
