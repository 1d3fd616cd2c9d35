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
      make("label", { for: "rs-pin-name" }, "Name "), heldBox(say, "rs-pin-name", () => make("input", { id: "rs-pin-name", type: "text", maxlength: 60 })),
      make("button", { type: "button", class: "rs-button", onclick: () => { const box = document.getElementById("rs-pin-name"); say({ do: "pin", name: box.value }); box.value = ""; } }, "Keep this design")),
    b.columns.length > 1 ? make("div", { class: "rs-picks" }, b.columns.slice(1).map((name, i) => make("span", {},
      make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "open_pin", index: i }) }, `Open ${name}`),
      make("button", { type: "button", class: "rs-small", "aria-label": `Take away ${name}`, onclick: () => say({ do: "unpin", index: i }) }, "Take away")))) : null,
    b.same ? make("p", {}, "The kept designs do not differ in these figures.") : table({ headings: ["", ...b.columns], rows: b.rows }, "Designs side by side"),
  ],
  budget: (b) => [
    b.summary.map((w) => make("p", {}, w)),
    table({ headings: ["Line", "In a full year"], rows: b.rows, totals: b.totals }, "Budget of a full year"),
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
      make("p", { class: "rs-source" }, b.note),
      ownCandidate(b, say),
      b.cross.length ? folded("Where two cost the same", make("ul", {}, b.cross.map((w) => make("li", {}, w)))) : null];
  },
  report: (b, say) => b.items.map((item) => REPORT[item.kind](item, say)),
  handout: (b, say) => [
    make("p", {}, b.words),
    make("div", { class: "rs-picks" }, b.formats.map((f) => make("button", { type: "button", class: "rs-button",
      onclick: () => say({ do: "handout", format: f.format, paper: f.paper || "letter" }) }, f.title))),
  ],
  offer: (b, say) => [
    b.words.map((w) => make("p", {}, w)),
    b.acts.map((a) => make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "set", path: a.path, text: a.text }) }, a.title)),
    b.rows.length ? folded("Every kind in this design", table({ headings: b.headings, rows: b.rows }, b.title)) : null,
  ],
  lists: (b, say) => [
    dated(b, say),
    b.lists.map((list) => make("div", { class: "rs-list" }, make("h3", {}, list.title), steps(list.steps))),
  ],
};

const REPORT = {
  answer: (x) => make("p", { class: "rs-answer", role: "status" }, x.text),
  words: (x) => make("p", {}, x.text),
  take: (x, say) => make("p", {}, make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "set", path: x.path, text: x.text }) }, x.words)),
  list: (x) => make("div", {}, make("h3", {}, x.title), make("ul", {}, x.items.map((w) => make("li", {}, w)))),
  table: (x) => folded(x.title, table({ headings: x.headings, rows: x.rows }, x.title)),
  box: (x) => make("details", { class: "rs-box", open: x.open },
    make("summary", {}, x.title), make("p", {}, x.stops),
    x.times.length ? make("p", {}, x.times.flatMap(([until, time], i) => [i ? " · " : "", `${until}: `, make("strong", {}, time)])) : null,
    make("p", {}, make("strong", {}, "First: "), x.first),
    make("ul", {}, x.then.map((w) => make("li", {}, w))),
    make("p", {}, "When it is back, in this order:"), make("ol", {}, x.restart.map((w) => make("li", {}, w)))),
};

// Boxes for the wall are printed whole, folded or not.
if (typeof window !== "undefined") window.addEventListener("beforeprint", () => document.querySelectorAll(".rs-box").forEach((d) => { d.open = true; }));
// What is typed for a candidate of one's own is kept here while other parts of the page are drawn anew.
const typedCandidate = { part: "", count: 0, texts: {} };

function ownCandidate(b, say) {
  const keep = typedCandidate;
  if (keep.part !== b.part || b.own.length > keep.count) keep.texts = {};
  Object.assign(keep, { part: b.part, count: b.own.length });
  const field = ([name, words, must]) => {
    const id = `rs-own-${name}`;
    const box = make("input", { id, type: "text", autocomplete: "off", required: must, value: keep.texts[name] || null,
      inputmode: name === "name" ? null : "decimal", maxlength: 40, "aria-describedby": "rs-own-wrong",
      oninput: () => { keep.texts[name] = box.value; } });
    return make("div", { class: "rs-line" }, make("label", { for: id }, must ? words : `${words} (if any)`), box);
  };
  const form = make("form", { novalidate: true, onsubmit: (e) => { e.preventDefault(); say({ ...keep.texts, do: "add_candidate", part: b.part }); } },
    b.asked.map(field), make("p", { class: "rs-wrong", id: "rs-own-wrong", role: "alert", hidden: !b.wrong }, b.wrong),
    make("button", { type: "submit", class: "rs-button" }, `Add to the ${b.part} list`));
  return make("div", { class: "rs-owncandidate" }, make("h3", {}, "Add your own"),
    b.full ? make("p", {}, "No more fit for this part: take one away first.") : form,
    b.own.length ? make("ul", { class: "rs-picks rs-plainlist" }, b.own.map((name) => make("li", {}, name, " ", make("button", { type: "button", class: "rs-small",
      "aria-label": `Take away ${name}`, onclick: () => say({ do: "drop_candidate", part: b.part, name }) }, "Take away")))) : null);
}

function door(title, words, act, more) {
  return make("div", { class: "rs-door" },
    act ? make("button", { type: "button", class: "rs-button rs-big", onclick: act }, title) : make("strong", { class: "rs-big" }, title),
    make("p", {}, words), more);
}

function steps(list) {
  return make("ol", { class: "rs-todo" }, list.map(([head, words]) => make("li", {}, make("strong", {}, head + ": "), words)));
}

function answerOf(b, say) {
  const box = heldBox(say, "rs-budget", () => make("input", { id: "rs-budget", type: "text", inputmode: "decimal" }), b.budget,
    (text) => ({ do: "answer", name: "budget", text }));
  return [
    make("div", { class: "rs-line" }, make("label", { for: "rs-budget" }, "Money to spend"), box),
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null,
    make("div", { role: "status" }, b.sentence ? make("p", { class: "rs-answer" }, b.sentence) : null, b.more.map((w) => make("p", {}, w))),
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
  const box = heldBox(say, "rs-stocking", () => make("input", { id: "rs-stocking", type: "date" }), b.date,
    (text) => ({ do: "answer", name: "stocking_date", text }));
  return make("div", { class: "rs-line" }, make("label", { for: "rs-stocking" }, "Day the fish come"), box,
    b.wrong ? make("p", { class: "rs-wrong" }, b.wrong) : null);
}

function ownBlocks(say) {
  const el = make("div");
  let known = [], last = [];
  const draw = (list) => {
    list.forEach((b, i) => {
      const key = JSON.stringify(b);
      if (known[i] === key) return;
      if (el.children[i] && typingIn(el.children[i])) return; // drawn once the box is left
      const open = el.children[i] ? [...el.children[i].querySelectorAll("details")].map((d) => d.open) : [];
      const made = make("section", { class: `rs-own rs-own-${b.form}` }, make("h2", {}, b.title), ...OWN[b.form](b, say).flat());
      if (el.children[i]) made.querySelectorAll("details").forEach((d, j) => { d.open = !!open[j]; });
      if (el.children[i]) el.children[i].replaceWith(made); else el.append(made);
      known[i] = key;
    });
    while (el.children.length > list.length) el.lastChild.remove();
    known.length = list.length;
  };
  const show = (list) => { last = list; keepingFocus(el, () => draw(list)); };
  el.addEventListener("focusout", () => setTimeout(() => { if (last.some((b, i) => known[i] !== JSON.stringify(b))) show(last); }));
  return { el, show };
}
