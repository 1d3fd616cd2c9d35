// The instructor's page: a class, the bank, papers, and marks. It opens on the instructor's machine only.

const LARGEST_WORK = 256000, LARGEST_BATCH = 300000;

// What learners handed in to this machine's room, read like files.
async function takeFromRoom(late, say, told) {
  try {
    const answer = await fetch(`${window.rsRoom}room/handed.json`, { headers: signed() });
    const found = await answer.json();
    if (!answer.ok) return put(told, found.refused || "The room did not answer.");
    if (!found.files.length) return put(told, "Nothing was handed in to this room yet.");
    const files = found.files.map((f) => new File([f.text], f.name, { type: "application/json" }));
    return addFiles(files, late, say);
  } catch { return put(told, "The room cannot be reached: open this page where the room is served."); }
}

// Files as messages of a bearable size; one that is too large goes by its name alone and is refused.
async function addFiles(files, late, say) {
  let batch = [], size = 0;
  const list = [...files];
  for (const [i, f] of list.entries()) {
    const text = f.size > LARGEST_WORK ? null : await f.text();
    if (batch.length && size + (text || "").length > LARGEST_BATCH) { say({ do: "add", files: batch, late, more: true }); batch = []; size = 0; }
    batch.push({ name: f.name, text });
    size += (text || "").length;
    if (i === list.length - 1) say({ do: "add", files: batch, late, more: false });
  }
}

function instructorParts(say, model, now) {
  const parts = [classPart(say), bankPart(say), printPart(say), backPart(say), tablePart(say, model)];
  // Straight to a part, past the long list of exercises.
  const jump = ({ el }) => { const head = el.querySelector("h2"); head.tabIndex = -1; head.focus(); head.scrollIntoView({ block: "start" }); };
  const ways = make("nav", { class: "rs-parts", "aria-label": "Parts of this page" }, make("ul", {}, parts.map((p) => make("li", {},
    make("button", { type: "button", class: "rs-small", onclick: () => jump(p) }, p.el.querySelector("h2").textContent)))));
  return { el: make("div", {}, ways, parts.map((p) => p.el)), show(blocks) {
    parts.forEach((p) => p.show(blocks, now));
    if (blocks.reply && blocks.reply.file && !blocks.reply.paper) saveFile(blocks.reply);
  } };
}

const pressed = (words, act, more = {}) => make("button", { type: "button", class: "rs-button", onclick: act, ...more }, words);

function classPart(say) {
  const { el, body } = section("class", "1 Your class");
  const count = make("input", { id: "rs-count", type: "text", inputmode: "numeric", value: "20", maxlength: 3, size: 4 });
  const file = make("input", { id: "rs-classfile", type: "file", accept: ".toml,text/plain" });
  file.addEventListener("change", () => { const f = file.files[0]; if (f) f.text().then((text) => { say({ do: "load_class", text }); file.value = ""; }); });
  const told = make("p", { role: "status" }), codes = make("ul", { class: "rs-codes" }), shown = folded("All codes", codes);
  const keep = make("div", { class: "rs-picks", hidden: true }, pressed("Save the class as a file", () => say({ do: "save_class" })),
    pressed("Take the class off this browser", () => { if (confirm("Take the class off this browser? Without its file nothing can be marked.")) { forgetClass("instructor"); say({ do: "forget" }); } }));
  const fresh = () => { if (told.dataset.some !== "1" || confirm("Make another class? The one here stays only in its file.")) say({ do: "make", count: count.value }); };
  body.append(make("form", { class: "rs-picks", onsubmit: (e) => { e.preventDefault(); fresh(); } }, make("label", { for: "rs-count" }, "Learners"), count,
    make("button", { type: "submit", class: "rs-button" }, "Make a class of codes")),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-classfile" }, "Or open the file of a class"), file), told, keep, shown);
  return { el, show(blocks) {
    if (!("class" in blocks)) return;
    const c = blocks.class;
    told.dataset.some = c ? "1" : "";
    put(told, c ? `A class of ${c.count} codes is here (class ${c.mark}). Its file class.toml holds the key: keep it on this machine, and keep a copy.` : "No class yet.");
    keep.hidden = shown.hidden = !c;
    fill(codes, c ? c.codes.map((x) => make("li", {}, x)) : []);
  } };
}

function bankPart(say) {
  const { el, body } = section("bank", "2 Look at the exercises");
  const pick = (id, words, first) => { const s = make("select", { id, onchange: ask }, make("option", { value: "" }, first)); return [make("span", {}, make("label", { for: id }, words + " "), s), s]; };
  const [topicEl, topic] = pick("rs-topic", "Topic", "all"), [formEl, form] = pick("rs-form", "Form", "all"), [levelEl, level] = pick("rs-level", "Level up to", "any");
  level.append(...[1, 2, 3].map((n) => make("option", { value: String(n) }, String(n))));
  const minutes = make("input", { id: "rs-minutes", type: "text", inputmode: "decimal", size: 4, maxlength: 4, onchange: ask });
  const paper = make("input", { id: "rs-paper", type: "checkbox", onchange: ask });
  const told = make("p", { role: "status" }), list = make("div", { class: "rs-scroll rs-tall", tabindex: "0", role: "group", "aria-label": "Exercises" });
  const desk = problemDesk(say, "rs-try"), variants = make("section", { class: "rs-variants", hidden: true, tabindex: "-1" });
  const close = pressed("Put it away", () => { say({ do: "close" }); told.scrollIntoView({ block: "nearest" }); }, { hidden: true });
  function ask() { say({ do: "filter", topic: topic.value, form: form.value, level: level.value, minutes: minutes.value, paper: paper.checked }); }
  body.append(make("div", { class: "rs-picks" }, topicEl, formEl, levelEl, make("span", {}, make("label", { for: "rs-minutes" }, "Minutes up to "), minutes),
    make("span", { class: "rs-tick" }, paper, make("label", { for: "rs-paper" }, " on paper"))), told, list, desk.el, variants, close);
  desk.el.hidden = true;
  let filled = false;
  const row = (x) => make("tr", {}, make("th", { scope: "row" }, x.title), [x.topic, x.form, String(x.level), String(x.minutes), x.paper ? "yes" : "no"].map((w) => make("td", {}, w)),
    make("td", {}, make("button", { type: "button", class: "rs-small", "aria-label": `Three variants of ${x.title}`, onclick: () => say({ do: "preview", name: x.name }) }, "Three variants"), " ",
      make("button", { type: "button", class: "rs-small", "aria-label": `Try ${x.title}`, onclick: () => say({ do: "try", name: x.name }) }, "Try it")));
  return { el, show(blocks, now) {
    if (blocks.bank) {
      const b = blocks.bank;
      if (!filled) {
        filled = true;
        topic.append(...b.topics.map((t) => make("option", { value: t.name }, t.title)));
        form.append(...b.forms.map((f) => make("option", { value: f }, f)));
      }
      put(told, b.words);
      fill(list, make("table", {}, make("caption", {}, "Exercises"), make("thead", {}, make("tr", {}, ["Exercise", "Topic", "Form", "Level", "Minutes", "On paper", "Look"].map((w) => make("th", { scope: "col" }, w)))),
        make("tbody", {}, b.rows.map(row))));
    }
    if ("preview" in blocks) {
      const v = blocks.preview;
      variants.hidden = !v;
      if (v) {
        fill(variants, make("h3", {}, v.title), make("p", {}, v.objective), make("div", { class: "rs-three" }, v.columns.map((c) => make("div", {}, make("h4", {}, `Code ${c.code}`), problemWords(c.problem),
          c.problem.asks.map((a) => a.text ? make("p", {}, a.text) : null),
          make("p", {}, make("strong", {}, "Key: "), c.answers.map(([name, x]) => `${name} ${x}`).join("; ")), folded("Hints", make("ol", {}, c.hints.map((h) => make("li", {}, h))))))),
          v.slips.length ? folded("Slips that are known, and their words", make("ul", {}, v.slips.map((s) => make("li", {}, make("strong", {}, `${s.name}: `), s.words)))) : null);
        variants.focus();
      }
    }
    if ("problem" in blocks || "work" in blocks) {
      desk.show(now.problem, now.work);
      if (blocks.problem) desk.el.querySelector("h2").focus();
    }
    close.hidden = !now.preview && !now.problem;
  } };
}

function printPart(say) {
  const { el, body } = section("print", "3 Choose a set and print");
  const set = make("select", { id: "rs-setname", onchange: () => say({ do: "set", name: set.value }) });
  const about = make("div"), papers = make("ul", { class: "rs-papers" }), told = make("p", { role: "status" });
  const made = new Map();
  const ask = (which, words) => pressed(words, () => say({ do: "papers", which }));
  body.append(make("div", { class: "rs-picks" }, make("label", { for: "rs-setname" }, "Set"), set), about,
    make("div", { class: "rs-picks" }, ask("sheets", "Make the sheets"), ask("cards", "Make the code cards"), ask("key", "Make the key"), ask("grid", "Grid as a file"), ask("tickets", "Tickets for work at home")),
    told, papers);
  let chosen = "";
  return { el, show(blocks) {
    if (blocks.sets) {
      const s = blocks.sets;
      if (!set.children.length) fill(set, make("optgroup", { label: "Sets" }, s.sets.map((p) => make("option", { value: p.name }, p.title))), make("optgroup", { label: "Practice" }, s.topics.map((p) => make("option", { value: p.name }, p.title))));
      set.value = s.chosen;
      if (chosen && chosen !== s.chosen) { made.clear(); fill(papers); }
      chosen = s.chosen;
      fill(about, make("p", {}, s.rules.join(" ")), s.paper ? make("p", {}, s.paper) : null, folded("What is in it", make("ul", {}, s.before.length ? make("li", {}, `Before and after: ${s.before.join("; ")}`) : null,
        s.sessions.map((x) => make("li", {}, `${x.title} (${x.minutes} min): ${x.exercises.join("; ")}`)))));
    }
    if ("class" in blocks) { made.clear(); fill(papers); put(told, ""); }
    if (blocks.reply && blocks.reply.paper) {
      const r = blocks.reply, url = URL.createObjectURL(new Blob([r.text], { type: `${r.type};charset=utf-8` }));
      made.set(r.paper, [r, url]);
      fill(papers, [...made.values()].map(([x, u]) => make("li", {}, make("strong", {}, `${x.title}: `),
        x.type === "text/html" ? [make("a", { class: "rs-button", href: u, target: "_blank", rel: "noopener" }, `Open ${x.title.toLowerCase()} to print`), " "] : null,
        make("a", { class: "rs-button", href: u, download: x.file }, `Save ${x.file}`))));
      put(told, `${r.title} made${r.paper === "key" ? ": it holds every answer, so keep it apart" : ""}. It opens in a tab of its own; print it from there.`);
      if (r.type !== "text/html") put(told, `${r.title} made. Save it on this machine.`);
    }
  } };
}

function backPart(say) {
  const { el, body } = section("back", "4 Take in what comes back");
  const late = make("input", { id: "rs-late", type: "checkbox" });
  const files = make("input", { id: "rs-work", type: "file", multiple: true, accept: ".json,.txt,.csv" });
  files.addEventListener("change", () => addFiles(files.files, late.checked, say).then(() => { files.value = ""; }));
  const paste = make("textarea", { id: "rs-paste", rows: 3 });
  const added = make("p", { role: "status" }), grid = gridPart(say);
  body.append(make("div", { class: "rs-tick" }, late, make("label", { for: "rs-late" }, " what I add now came late")),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-work" }, "Files of learners"), files,
      window.rsRoom ? pressed("Take what was handed in to this room", () => takeFromRoom(late.checked, say, added)) : null),
    make("label", { for: "rs-paste" }, "Short texts, pasted or scanned, one on a line"), paste,
    make("div", { class: "rs-picks" }, pressed("Take the short texts", () => { say({ do: "paste", text: paste.value, late: late.checked }); paste.value = ""; })),
    added, pressed("Put the files away", () => say({ do: "clear" })), folded("Type answers from paper", grid.el), make("div", { class: "rs-picks" }, pressed("Mark all", () => say({ do: "mark" }))));
  return { el, show(blocks) {
    if (blocks.files) put(added, blocks.files.length ? `${blocks.files.length} taken in${blocks.files.some((f) => f.late) ? `, ${blocks.files.filter((f) => f.late).length} of them late` : ""}.` : "Nothing taken in yet.");
    if ("grid" in blocks) grid.show(blocks.grid);
  } };
}

// A line for each learner, a box for each answer: Enter goes down, Tab to the right, arrows up and down.
function gridPart(say) {
  const el = make("div"), boxes = new Map();
  let known = "";
  function build(g) {
    boxes.forEach((entry) => entry.end());
    boxes.clear();
    const box = (code, c, row, col) => {
      const b = make("input", { type: "text", autocomplete: "off", maxlength: 60, "aria-label": `${code}, ${c.title}`, "data-at": `${row} ${col}` });
      const entry = entryOf(b, say, (text) => ({ do: "cell", code, column: c.key, text }));
      b.addEventListener("keydown", (e) => {
        const by = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[e.key];
        if (!by) return;
        e.preventDefault();
        const next = el.querySelector(`[data-at="${row + by} ${col}"]`) || (e.key === "Enter" ? el.querySelector(`[data-at="0 ${col + 1}"]`) : null);
        if (next) next.focus(); else entry.leave();
      });
      boxes.set(`${code} ${c.key}`, entry);
      return make("td", {}, b);
    };
    fill(el, make("p", { class: "rs-note" }, `${g.set}. Enter goes to the next learner, Tab to the next answer. Number and unit in one box. Leave empty what is empty.`),
      make("div", { class: "rs-scroll rs-tall rs-grid", tabindex: "0", role: "group", "aria-label": "Answers on paper" },
        make("table", {}, make("caption", {}, "Answers on paper"), make("thead", {}, make("tr", {}, make("th", { scope: "col" }, "Code"), g.columns.map((c) => make("th", { scope: "col" }, c.title)))),
          make("tbody", {}, g.codes.map((code, row) => make("tr", {}, make("th", { scope: "row" }, code), g.columns.map((c, col) => box(code, c, row, col))))))));
  }
  return { el, show(g) {
    if (!g) { known = ""; fill(el, make("p", {}, "Make or open a class first.")); return; }
    const key = JSON.stringify([g.codes, g.columns]);
    if (key !== known) { known = key; build(g); }
    for (const [at, entry] of boxes) {
      const [code, column] = [at.slice(0, at.indexOf(" ")), at.slice(at.indexOf(" ") + 1)];
      entry.told((g.typed[code] || {})[column] || "");
    }
  } };
}

function tablePart(say, model) {
  const { el, body } = section("table", "5 Who did what");
  const chart = chartBlock(model), inner = make("div", { hidden: true }), words = make("p", { role: "status" });
  const first = make("div"), refused = make("div"), whole = make("div"), slips = make("div"), reasons = make("div");
  inner.append(pressed("Save marks.csv", () => say({ do: "csv" })), refused, whole, chart.el, slips, first, reasons);
  body.append(words, inner);
  const reason = (x, rubric, i) => {
    const id = `rs-reason-${i}`;
    const pick = make("select", { id, onchange: () => say({ do: "rubric", code: x.code, exercise: x.exercise, points: pick.value === "" ? null : Number(pick.value) }) },
      make("option", { value: "" }, "not read"), Array.from({ length: rubric + 1 }, (_, n) => make("option", { value: String(n) }, String(n))));
    pick.value = x.points === null || x.points === undefined ? "" : String(x.points);
    return make("li", {}, make("label", { for: id }, `${x.code}, ${x.title}: `), make("q", {}, x.reason), " ", pick);
  };
  return { el, show(blocks) {
    if (!("result" in blocks)) return;
    const r = blocks.result;
    inner.hidden = !r;
    put(words, r ? r.words : "Nothing is marked yet.");
    if (!r) return;
    fill(refused, r.differ.length ? [make("h3", {}, "Handed in twice, and not the same"), make("ul", {}, r.differ.map((w) => make("li", {}, w)))] : null,
      r.refused.length ? [make("h3", {}, "Not marked"), make("ul", {}, r.refused.map((x) => make("li", {}, make("strong", {}, `${x.name}: `), x.words)))] : null,
      r.late.length ? make("p", {}, `Late: ${r.late.join(", ")}.`) : null, r.notes.length ? folded("Notes", make("ul", {}, r.notes.map((n) => make("li", {}, n)))) : null);
    fill(whole, table(r.table, "Share of the points, learner by learner"));
    chart.show(r.chart);
    fill(slips, make("h3", {}, "Common slips"), r.slips.rows.length ? table(r.slips, "Slips, the most common first") : make("p", {}, "No known slip was made."));
    fill(first, r.first.length ? [make("h3", {}, "Tomorrow's first five minutes"), make("ol", {}, r.first.map((x) => make("li", {}, make("p", {}, x.words), make("p", {}, make("strong", {}, "For the board. "), x.example))))] : null);
    keepingFocus(reasons, () => fill(reasons, r.reasons.length ? folded(`Reasons to read (${r.reasons.length})`, make("p", {}, "0 to 3: the right relation; units and sum in order; asks if the answer is likely; says limits and whom to ask."),
      make("ul", {}, r.reasons.map((x, i) => reason(x, r.rubric, i)))) : null));
  } };
}
