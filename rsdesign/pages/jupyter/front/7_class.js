// The pages of a class: the same messages as a design page, other parts. What a person did is kept
// in this browser; the kernel only ever sends what may be seen.

const KEEP_CLASS = "rsdesign.class.v1";

function classStore() {
  try { return JSON.parse(localStorage.getItem(KEEP_CLASS)) || {}; } catch { return {}; }
}

function storeClass(all) {
  try { localStorage.setItem(KEEP_CLASS, JSON.stringify(all)); } catch { /* a private window keeps nothing: the file does */ }
}

const savedTimes = (kept) => { try { return JSON.parse(kept.file).saved || 0; } catch { return 0; } };

// Work is kept for each set and code; work with more in it is never written over, it steps aside.
function keepClass(page, what) {
  const all = classStore();
  if (page === "exercises") {
    const key = `${what.set} ${what.code}`, works = all.works || {}, there = works[key];
    if (there && savedTimes(there) > savedTimes(what)) all.old = there;
    all.works = { ...works, [key]: what };
  }
  storeClass({ ...all, [page]: what });
}

function forgetClass(page) {
  const all = classStore();
  if (page === "exercises") try { sessionStorage.removeItem(UNCHECKED); } catch { /* nothing was kept */ }
  for (const key of page === "exercises" ? [page, "works", "old"] : [page]) delete all[key];
  storeClass(all);
}

// The name of a page of a class that is asked for here, or nothing.
function classPageOf(model) {
  if (window.rsServed) return (window.rsClass || {})[decodeURIComponent(location.pathname.split("/").pop())] || "";
  const page = model.get ? model.get("page") : "";
  return ["exercises", "instructor"].includes(page) ? page : "";
}

// Ways between the design pages and those of a class: plain links, since another program is behind.
function classWays(f) {
  const nav = document.getElementById("rs-nav");
  if (!nav) return;
  let ways = document.getElementById("rs-class");
  if (!ways) nav.after(ways = make("nav", { id: "rs-class", "aria-label": "Class" }));
  const here = ["localhost", "127.0.0.1", "[::1]"].includes(location.hostname);
  const token = f.token || placeOf(location).token;
  const pages = f.class.filter((p) => here || p.name !== "instructor");
  if (!f.series.some((p) => p.name === f.page)) pages.unshift({ ...f.series[0], title: "Design pages" });
  const known = pages.map((p) => hrefOf(p, token)).join(" ");
  if (ways.dataset.known === known) return;
  ways.dataset.known = known;
  fill(ways, make("ul", {}, pages.map((p) => make("li", {}, make("a", { href: hrefOf(p, token), "aria-current": p.name === f.page ? "page" : null }, p.title)))));
}

function saveFile(reply) {
  const a = make("a", { href: URL.createObjectURL(new Blob([reply.text], { type: reply.type || "text/plain" })), download: reply.file });
  document.body.append(a);
  a.click();
  a.remove();
}

function renderClass({ model, el, page }) {
  const served = !!window.rsServed, now = {};
  let number = 0, waiting = 0, sinceBusy = 0;
  const root = make("div", { class: "rs rs-classroom" });
  const keys = (e) => { if (root.contains(e.target)) e.stopPropagation(); };
  if (!served) window.addEventListener("keydown", keys, true);
  const say = sayer((message) => {
    number += 1;
    waiting += 1;
    if (!sinceBusy) sinceBusy = performance.now();
    model.send({ n: number, message });
    return number;
  });
  window.rsKept = "Your work is kept in this browser.";
  const again = document.querySelector("#rs-lost button");
  if (again) put(again, "Start again where you were");
  const busy = make("p", { class: "rs-source rs-working", "aria-hidden": "true", hidden: true }, "working");
  setInterval(() => attr(busy, "hidden", sinceBusy && performance.now() - sinceBusy > 400 ? null : ""), 200);
  const notice = make("p", { class: "rs-notice", role: "alert", hidden: true });
  const question = make("h1", {}), intro = make("div", { class: "rs-intro" });
  const parts = (page === "exercises" ? learnerParts : instructorParts)(say, model, now);
  root.append(question, intro, notice, busy, parts.el);
  el.replaceChildren(root);

  function hear(message) {
    if (!message.blocks) return;
    if (message.ack !== undefined) waiting = Math.max(0, waiting - 1);
    if (!waiting) sinceBusy = 0;
    Object.assign(now, message.blocks);
    const f = message.blocks.frame;
    if (f) {
      root.dataset.page = f.page;
      put(question, f.question);
      fill(intro, f.words.map((w) => make("p", {}, w)));
      put(notice, f.notice);
      notice.hidden = !f.notice;
      if (f.notice) notice.scrollIntoView({ block: "nearest" });
      if (served) { classWays(f); document.title = `${f.title} · rsdesign`; }
    }
    if (message.blocks.keep) keepClass(page, now.keep);
    parts.show(message.blocks);
    root.dataset.ready = "1";
    document.body.dataset.ready = "1";
    if (message.ack !== undefined) { root.dataset.ack = message.ack; say.answered(message.ack); }
  }
  model.on("msg:custom", hear);
  say({ do: "open", kept: classStore()[page] || null });
  return () => { model.off("msg:custom", hear); window.removeEventListener("keydown", keys, true); };
}

// Words of a problem: text, caution, lines, options; nothing to type yet.
function problemWords(p) {
  return [
    make("p", {}, p.text),
    p.caution ? make("p", { class: "rs-cautions" }, make("strong", {}, "Take care. "), p.caution) : null,
    p.lines.length ? make("ul", { class: "rs-plainlist" }, p.lines.map((w) => make("li", {}, w))) : null,
    p.columns.length ? table({ headings: ["", ...p.columns], rows: p.options.map(([letter, words]) => [letter, ...words.split("|").map((w) => w.trim())]) }, "Options")
      : p.options.length ? make("ol", { class: "rs-letters" }, p.options.map(([, words]) => make("li", {}, words))) : null,
    p.source ? make("p", { class: "rs-source" }, `After: ${p.source}.`) : null,
  ];
}

// What was typed for a problem and not checked yet, kept for this tab through another problem or a reload.
const UNCHECKED = "rsdesign.unchecked";
function unchecked() { try { return JSON.parse(sessionStorage.getItem(UNCHECKED)) || {}; } catch { return {}; } }
function keepUnchecked(key, texts) {
  const all = unchecked();
  if (texts) all[key] = texts; else delete all[key];
  try { sessionStorage.setItem(UNCHECKED, JSON.stringify(all)); } catch { /* nothing can be kept here */ }
}

const PLAIN_ASK = { number: "Your answer", line: "Which line?", pick: "Which one?", order: "Letters in order, such as BACD" };

// One problem to work at. It is drawn anew only when another problem comes; words come and go in it.
function problemDesk(say, id) {
  const head = make("h2", { tabindex: "-1" }), about = make("p", { class: "rs-source" });
  const words = make("div"), boxes = make("div"), told = make("div", { role: "status", class: "rs-told" });
  const hints = make("ol", { class: "rs-hints" }), hinted = make("div", { hidden: true }, make("h3", {}, "Hints"), hints);
  const expert = make("div", { hidden: true });
  const check = make("button", { type: "submit", class: "rs-button" }, "Check");
  const hint = make("button", { type: "button", class: "rs-button", hidden: true, onclick: () => say({ do: "hint" }) }, "Give me a hint");
  const form = make("form", { novalidate: true, onsubmit: (e) => { e.preventDefault(); say({ do: "check", typed: typed() }); keepUnchecked(shown, reasonLeft()); } },
    boxes, make("div", { class: "rs-picks" }, check, hint));
  const reason = make("textarea", { id: `${id}-reason`, rows: 2, maxlength: 1000 });
  const why = make("div", { class: "rs-why", hidden: true }, make("label", { for: reason.id }, "Why? Say your reason in a sentence."), reason,
    make("button", { type: "button", class: "rs-button", onclick: () => { say({ do: "reason", text: reason.value }); const left = unchecked()[shown]; keepUnchecked(shown, left && left.typed ? { typed: left.typed } : null); } }, "Keep my reason"));
  const el = make("section", { class: "rs-problem" }, head, about, words, form, told, hinted, expert, why);
  let fields = {}, shown = "";
  const reasonLeft = () => { const left = unchecked()[shown]; return left && left.reason !== undefined ? { reason: left.reason } : null; };
  el.addEventListener("input", (e) => keepUnchecked(shown, { ...unchecked()[shown], ...(e.target === reason ? { reason: reason.value } : { typed: typed() }) }));
  function typed() { return Object.fromEntries(Object.entries(fields).map(([name, f]) => [name, f.read()])); }
  function field(p, ask, at) {
    const box = `${id}-${at}`, says = `${box}-says`, title = ask.text || PLAIN_ASK[ask.form];
    const mark = make("p", { class: "rs-mark", id: says, hidden: true });
    if (ask.form === "number") {
      const value = make("input", { id: box, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 60, "aria-describedby": says });
      const unit = make("input", { id: `${box}-unit`, type: "text", autocomplete: "off", autocapitalize: "off", maxlength: 40, "aria-label": `Unit: ${title}`, placeholder: "unit" });
      const parts = ask.wants_unit ? [value, unit] : [value];
      return { el: make("div", { class: "rs-asked" }, make("label", { for: box }, title), make("span", { class: "rs-entry" }, parts),
        ask.wants_unit && ask.units.length ? make("span", { class: "rs-note" }, `in ${ask.units.join(" or ")}`) : null, mark), mark, boxes: parts,
        read: () => ({ number: value.value, unit: ask.wants_unit ? unit.value : "" }),
        put: (now) => { value.value = now.number || ""; unit.value = now.unit || ""; } };
    }
    if (ask.form === "order") {
      const value = make("input", { id: box, type: "text", autocomplete: "off", autocapitalize: "characters", maxlength: 20, "aria-describedby": says });
      return { el: make("div", { class: "rs-asked" }, make("label", { for: box }, title), value, mark), mark, boxes: [value], read: () => value.value, put: (now) => { value.value = now; } };
    }
    const letters = (ask.form === "line" ? p.lines : p.options).map((_, i) => "ABCDEFGH"[i]);
    const pick = make("select", { id: box, "aria-describedby": says }, make("option", { value: "" }, "choose"), letters.map((l) => make("option", { value: l }, l)));
    return { el: make("div", { class: "rs-asked" }, make("label", { for: box }, title), pick, mark), mark, boxes: [pick], read: () => pick.value, put: (now) => { pick.value = now; } };
  }
  function draw(p, w, focus) {
    put(head, p.title);
    put(about, `About ${p.minutes} minutes. ${p.objective}${p.paper ? "" : " Needs the design pages or a table."}`);
    fill(words, problemWords(p));
    fields = Object.fromEntries(p.asks.map((ask, i) => [ask.name, field(p, ask, i)]));
    fill(boxes, Object.values(fields).map((f) => f.el));
    const left = unchecked()[shown] || {}, texts = left.typed || w.typed;
    for (const [name, f] of Object.entries(fields)) if (texts[name] !== undefined) f.put(texts[name]);
    reason.value = left.reason === undefined ? w.reason : left.reason;
    put(check, p.turn === "before" ? "Keep my answer" : "Check");
    if (focus) head.focus();
  }
  return { el, show(p, w) {
    el.hidden = !p;
    if (!p) { shown = ""; return; }
    const key = `${p.name} ${p.mark}`;
    if (key !== shown) { const first = shown === ""; shown = key; draw(p, w, !first); }
    for (const c of w.words) {
      const f = fields[c.ask];
      if (!f) continue;
      put(f.mark, c.words);
      f.mark.hidden = false;
      f.mark.className = `rs-mark ${c.right === null ? "" : c.right ? "rs-right-mark" : "rs-wrong"}`;
      f.boxes.forEach((b) => attr(b, "aria-invalid", c.right === false ? "true" : null));
    }
    const left = w.left === null || !w.attempts ? "" : w.left ? ` ${w.left} more of your attempts count.` : " Your attempts are used up; you may go on for yourself.";
    const lines = w.words.map((c) => (w.words.length > 1 ? `${p.asks.find((a) => a.name === c.ask).text || PLAIN_ASK.number} ` : "") + c.words);
    // The words stand beside each box; a reader hears them here, once.
    fill(told, w.words.length ? make("p", { class: w.words.length > 0 ? "rs-hush" : null }, lines.join(" ")) : null,
      w.right ? make("p", { class: "rs-answer" }, "Right.") : null,
      w.words.length && !w.right && left ? make("p", { class: "rs-source" }, left.trim()) : null,
      w.points ? make("p", { class: "rs-source" }, w.points) : null);
    hint.hidden = !w.may_hint;
    hinted.hidden = !w.hints.length;
    if (hints.children.length !== w.hints.length) fill(hints, w.hints.map((h) => make("li", { tabindex: "-1" }, h)));
    expert.hidden = !w.expert.length;
    fill(expert, w.expert.length ? [make("h3", {}, "How someone with practice does it"), make("ul", {}, w.expert.map((x) => make("li", {}, x)))] : null);
    why.hidden = !w.wants_reason;
  } };
}
