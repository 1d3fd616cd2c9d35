// Blocks of one page: the doors, the answer to "what can it feed?", designs side by side, lists.

const OWN = {
  doors: (b, say) => [
    make("div", { class: "rs-doors" },
      b.doors.map((d) => door(d.title, d.words, () => d.do === "page" ? say.turn(d.page) : document.querySelector(".rs-choices input, .rs-choices select").focus())),
      door("Show me one that works", "Three examples, all invented:", null,
        make("span", { class: "rs-demos" }, b.demos.map((d) => make("button", { type: "button", class: "rs-button", title: d.words,
          onclick: () => say({ do: "demo", name: d.name }) }, d.title))))),
  ],
  steps: (b) => [steps(b.steps)],
  answer: (b, say) => answerOf(b, say),
  balance: (b, say) => answerOf(b, say),
  pins: (b, say) => [
    make("p", {}, "Keep up to four designs and see what differs."),
    make("div", { class: "rs-picks" },
      make("label", { for: "rs-pin-name" }, "Name "), make("input", { id: "rs-pin-name", type: "text", maxlength: 60 }),
      make("button", { type: "button", class: "rs-button", onclick: () => { const box = document.getElementById("rs-pin-name"); say({ do: "pin", name: box.value }); box.value = ""; } }, "Keep this design")),
    b.columns.length > 1 ? make("div", { class: "rs-picks" }, b.columns.slice(1).map((name, i) => make("span", {},
      make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "open_pin", index: i }) }, `Open ${name}`),
      make("button", { type: "button", class: "rs-small", "aria-label": `Take away ${name}`, onclick: () => say({ do: "unpin", index: i }) }, "Take away")))) : null,
    b.same ? make("p", {}, "The kept designs do not differ in these figures.") : table({ headings: ["", ...b.columns], rows: b.rows }, "Designs side by side"),
  ],
  budget: (b) => [
    b.summary.map((w) => make("p", {}, w)),
    table({ headings: ["Line", "In a full year"], rows: b.rows }, "Budget of a full year"),
    make("h3", {}, "What moves the net return most"),
    table({ headings: ["Moved by a tenth", "A tenth less", "A tenth more"], rows: b.movers }, "Net return when one thing moves"),
    folded("What is bought, each at its own life", table({ headings: ["Part", "First cost", "Life", "A year"], rows: b.items }, "Parts")),
    folded("Work in a year", table({ headings: ["Task", "Hours"], rows: b.work }, "Hours of work in a year")),
    b.notice.map((w) => make("p", { class: "rs-source" }, w)),
  ],
  candidates: (b, say) => {
    const pick = make("select", { id: "rs-part", onchange: () => say({ do: "answer", name: "part", text: pick.value }) }, b.parts.map((p) => make("option", { value: p }, p)));
    pick.value = b.part;
    return [make("div", { class: "rs-line" }, make("label", { for: "rs-part" }, "Part"), pick),
      table({ headings: b.headings, rows: b.rows }, "Candidates, cheapest a year first"),
      make("ul", {}, b.cross.map((w) => make("li", {}, w)))];
  },
  handout: (b, say) => [
    make("p", {}, b.words),
    make("div", { class: "rs-picks" }, b.formats.map((f) => make("button", { type: "button", class: "rs-button",
      onclick: () => say({ do: "handout", format: f.format, paper: f.paper || "letter" }) }, f.title))),
  ],
  lists: (b, say) => [
    dated(b, say),
    b.lists.map((list) => make("div", { class: "rs-list" }, make("h3", {}, list.title), steps(list.steps))),
  ],
};

function door(title, words, act, more) {
  return make("div", { class: "rs-door" },
    act ? make("button", { type: "button", class: "rs-button rs-big", onclick: act }, title) : make("strong", { class: "rs-big" }, title),
    make("p", {}, words), more);
}

function steps(list) {
  return make("ol", { class: "rs-todo" }, list.map(([head, words]) => make("li", {}, make("strong", {}, head + ": "), words)));
}

function answerOf(b, say) {
  const box = make("input", { id: "rs-budget", type: "text", inputmode: "decimal", value: b.budget });
  box.addEventListener("change", () => say({ do: "answer", name: "budget", text: box.value }));
  return [
    make("div", { class: "rs-line" }, make("label", { for: "rs-budget" }, "Money to spend"), box),
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null,
    make("p", { class: "rs-answer", role: "status" }, b.sentence),
    make("ul", { class: "rs-planks" }, b.bars.map((bar) => make("li", {},
      make("span", {}, make("strong", {}, bar.label), ` · feeds ${bar.value}, ${bar.fish} fish`),
      make("span", { class: "rs-plank", "aria-hidden": "true" }, make("span", { class: "rs-board", style: `width:${100 * bar.share}%` }))))),
    b.buys.length ? make("div", {}, make("h3", {}, "Buy next, most feed for the money first"),
      table({ headings: ["What", "Cost (invented price)", "Feed gained", "Then the limit is"], rows: b.buys.map((x) => [x.what, x.cost, x.gain, x.then]) }, "What to buy next")) : null,
    b.before.length ? make("div", {}, make("h3", {}, "Do not buy fish yet"), make("ul", {}, b.before.map((w) => make("li", {}, w)))) : null,
    b.assumed.length ? folded("What you left open, and what we took", make("ul", {}, b.assumed.map((w) => make("li", {}, w)))) : null,
  ];
}

function dated(b, say) {
  const box = make("input", { id: "rs-stocking", type: "date", value: b.date });
  box.addEventListener("change", () => say({ do: "answer", name: "stocking_date", text: box.value }));
  return make("div", { class: "rs-line" }, make("label", { for: "rs-stocking" }, "Day the fish come"), box,
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null);
}

function ownBlocks(say) {
  const el = make("div");
  let known = [];
  const draw = (list) => {
    list.forEach((b, i) => {
      const key = JSON.stringify(b);
      if (known[i] === key) return;
      const open = el.children[i] ? [...el.children[i].querySelectorAll("details")].map((d) => d.open) : [];
      const made = make("section", { class: `rs-own rs-own-${b.form}` }, make("h2", {}, b.title), ...OWN[b.form](b, say).flat());
      made.querySelectorAll("details").forEach((d, j) => { d.open = !!open[j]; });
      if (el.children[i]) el.children[i].replaceWith(made); else el.append(made);
      known[i] = key;
    });
    while (el.children.length > list.length) el.lastChild.remove();
    known.length = list.length;
  };
  return { el, show: (list) => keepingFocus(el, () => draw(list)) };
}
