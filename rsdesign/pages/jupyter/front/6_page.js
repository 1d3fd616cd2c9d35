// The page: one message for each thing a person does, at most one of a drag in flight.

const KEEP = "rsdesign.v1";

function remembered() {
  try { return JSON.parse(localStorage.getItem(KEEP)) || {}; } catch { return {}; }
}

function remember(more) {
  try { localStorage.setItem(KEEP, JSON.stringify({ ...remembered(), ...more })); } catch { /* a private window keeps nothing */ }
}

function render({ model, el }) {
  const classPage = classPageOf(model);
  if (classPage) return renderClass({ model, el, page: classPage });
  const served = !!window.rsServed;
  const now = {};
  let number = 0, waiting = new Map(), held = null, lastToken = null, sinceBusy = 0;
  const root = make("div", { class: served ? "rs" : "rs rs-lab" });
  // JupyterLab would take the arrow keys of a slider for its own shortcuts: they stop here first.
  const keys = (e) => { if (root.contains(e.target)) e.stopPropagation(); };
  if (!served) window.addEventListener("keydown", keys, true);

  // --- saying and hearing ---------------------------------------------------------------
  function send(message) {
    number += 1;
    waiting.set(number, message);
    if (!sinceBusy) sinceBusy = performance.now();
    model.send({ n: number, message });
    return number;
  }
  const say = sayer((message, drag) => {
    // The last place of a slider is not lost where another one moves before it could be said.
    if (held && (!drag || held.path !== message.path)) { const h = held; held = null; send({ ...h, end: true }); }
    if (drag && waiting.size) { held = message; return number; }
    return send(message);
  });
  say.turn = (page) => { say({ do: "page", page }); };
  setInterval(() => root.classList.toggle("rs-busy", !!sinceBusy && performance.now() - sinceBusy > 400), 200);
  function hear(message) {
    if (!message.blocks) return;
    // Messages are answered in order: one before this that was not taken is waited for no longer.
    if (message.ack !== undefined) for (const n of [...waiting.keys()]) if (n <= message.ack) waiting.delete(n);
    if (!waiting.size) sinceBusy = 0;
    Object.assign(now, message.blocks);
    show(message.blocks);
    if (message.ack !== undefined) { root.dataset.ack = message.ack; say.answered(message.ack); }
    if (drafts.length && message.ack !== undefined) views.choices.again(drafts.splice(0));
    if (held && !waiting.size) { const h = held; held = null; send(h); }
  }
  model.on("msg:custom", hear);
  const { list: drafts, token: newest } = served ? takeDrafts() : { list: [] };

  // --- what stands on the page ------------------------------------------------------------
  const strip = make("p", { class: "rs-strip" });
  const notice = make("p", { class: "rs-notice", role: "alert", hidden: true });
  const question = make("h1", {});
  const intro = make("div", { class: "rs-intro" });
  const button = (words, act, more = {}) => make("button", { type: "button", class: "rs-button", onclick: act, ...more }, words);
  const undo = button("Undo", () => say({ do: "undo" }));
  const redo = button("Redo", () => say({ do: "redo" }));
  const units = make("select", { id: "rs-units", onchange: () => { say({ do: "units", units: units.value }); remember({ units: units.value }); } },
    make("option", { value: "us" }, "US units"), make("option", { value: "metric" }, "Metric"));
  const depth = button("Show everything", () => { say({ do: "depth", full: !now.frame.full }); remember({ full: !now.frame.full }); }, { "aria-pressed": "false" });
  const share = shareBlock(say, () => now.frame), room = served ? roomLink(say, () => now.frame) : null;
  const resetAll = button("Reset all", () => say({ do: "reset_all" }));
  // What a follower may not change stands in a fieldset: one word locks whatever is in it.
  const locked = [], lockable = (...inside) => { const set = make("fieldset", { class: "rs-plain" }, ...inside); locked.push(set); return set; };
  const tools = make("div", { class: "rs-toolbar", role: "group", "aria-label": "Design" }, undo, redo,
    resetAll, make("label", { for: "rs-units", class: "rs-hush" }, "Units"), units, depth, share.el, room && room.el);
  const guess = section("guess", "Your guess"), choices = section("choices", "Choices"), picture = section("picture", "Picture");
  const figures = section("figures", "Figures"), checks = section("checks", "Checks"), parts = section("parts", "Every part");
  const words = make("div", { class: "rs-words" }), cautions = section("cautions", "Take care"), charts = section("charts", "Charts");
  const trade = section("tradeoff", "Trade-offs"), attempt = section("try", "Try this"), next = make("p", { class: "rs-next" });
  const views = {
    guess: guessBlock(say), choices: choiceList(say), picture: pictureBlock(), figures: figureList(say), checks: checkList(),
    parts: plankList(), doors: ownBlocks(say), charts: chartList(model), trade: tradeoffBlock(model, say), own: ownBlocks(say),
    faded: fadedBlock(say, () => now.frame.page),
  };
  guess.body.replaceWith(views.guess.el); choices.body.append(lockable(views.choices.el)); picture.body.append(views.picture.el);
  figures.body.append(views.figures.el); checks.body.append(views.checks.el); parts.body.append(views.parts.el);
  charts.body.append(views.charts.el); trade.body.replaceWith(views.trade.el);
  root.append(...[strip, room && room.bar].filter(Boolean), tools, notice, question, intro, lockable(views.doors.el), guess.el,
    make("div", { class: "rs-cols" }, choices.el, make("div", { class: "rs-middle" }, picture.el, make("div", { class: "rs-ownplace" }, ...(room ? [room.wall] : []), views.own.el)),
      make("div", { class: "rs-right" }, figures.el, checks.el)),
    words, views.faded.el, charts.el, trade.el, parts.el, cautions.el, attempt.el, next);
  el.replaceChildren(root);

  function show(blocks) {
    if (blocks.frame) showFrame(blocks.frame);
    if (blocks.text) showText(blocks.text);
    if (blocks.choices) views.choices.show(blocks.choices);
    if ("picture" in blocks) { picture.el.hidden = !blocks.picture; views.picture.show(blocks.picture); }
    if (blocks.figures || blocks.working) views.figures.show(now.figures, now.working || {});
    if (blocks.checks) { checks.el.hidden = !blocks.checks.length; views.checks.show(blocks.checks); }
    if (blocks.parts) { parts.el.hidden = !blocks.parts.length; views.parts.show(blocks.parts); }
    if (blocks.charts) { charts.el.hidden = !blocks.charts.length; views.charts.show(blocks.charts); }
    if ("faded" in blocks) views.faded.show(blocks.faded);
    if ("tradeoff" in blocks) views.trade.show(blocks.tradeoff);
    if (blocks.own) {
      views.doors.show(blocks.own.filter((b) => b.form === "doors"));
      views.own.show(blocks.own.filter((b) => b.form !== "doors"));
    }
    if (blocks.reply && !(room && room.take(blocks.reply))) share.take(blocks.reply);
    root.dataset.ready = "1";
    document.body.dataset.ready = "1";
  }

  function showFrame(f) {
    root.dataset.page = f.page;
    root.dataset.laid = f.laid;
    put(strip, f.strip);
    put(notice, f.notice);
    notice.hidden = !f.notice;
    root.classList.toggle("rs-stale", f.stale);
    attr(root, "aria-busy", f.stale ? "true" : null);
    const follows = !!room && room.following;
    undo.disabled = !f.undo || follows;
    redo.disabled = !f.redo || follows;
    resetAll.disabled = follows;
    if (follows) say.lockAll(); // before the boxes are left by being locked
    locked.forEach((set) => { set.disabled = follows; });
    if (room) { f = { ...f, all: f.series, series: roomSeries(f.series, room.path, f.page), more: () => { room.path = []; room.redraw(); } }; room.design(f); }
    units.value = f.units;
    attr(depth, "aria-pressed", String(f.full));
    put(depth, f.full ? "Show less" : "Show everything");
    remember({ guesses: f.guesses, pins: f.pins.map((p) => [p.name, p.token]), own: f.own });
    const at = f.series.findIndex((p) => p.name === f.page), after = f.series[at + 1];
    if (served) { navigation(f, say); classWays(f); address(f); }
    fill(next, after ? make("a", { class: "rs-button", href: served ? hrefOf(after, f.token) : "#",
      onclick: (e) => { e.preventDefault(); say.turn(after.name); root.scrollIntoView(); } }, `Next: ${after.title}`) : null);
    next.hidden = !served && !after;
  }

  function showText(t) {
    put(question, t.question);
    fill(intro, t.words.map((w) => make("p", {}, w)));
    views.guess.show(t.guess);
    wordsBlock(words, t);
    cautionsBlock(cautions.body, t.cautions);
    attempt.el.hidden = !t.try_this;
    put(attempt.body, t.try_this);
  }

  // --- the design lives in the address bar ------------------------------------------------
  let writing = 0, shownPage = null, unwritten = null;
  function write() {
    clearTimeout(writing);
    if (unwritten) history.replaceState(...unwritten);
    unwritten = null;
  }
  function address(f) {
    if (f.token !== lastToken) {
      lastToken = f.token;
      const kept = (remembered().last || []).filter((x) => x && x.token && x.token !== f.token);
      remember({ last: [{ token: f.token, words: `${f.name || "Design"}: ${f.strip}` }, ...kept].slice(0, 8) });
    }
    clearTimeout(writing);
    unwritten = null;
    const page = f.series.find((p) => p.name === f.page), url = hrefOf(page, f.token);
    if (shownPage && shownPage !== f.page) history.pushState({ page: f.page }, "", url);
    else { unwritten = [{ page: f.page }, "", url]; writing = setTimeout(write, 300); }
    shownPage = f.page;
    document.title = `${f.title} · ${f.name || "rsdesign"}`;
  }
  // A phone that is locked stops every timer: what it shows is written before it sleeps.
  // So is what was typed: it is said, and kept until it is answered.
  let reloading = ""; // a reload asks for the address as it stood when it began
  const leaving = () => {
    const place = placeNow();
    say.leaveAll();
    write();
    keepDrafts([reloading, place, placeNow()], say.unanswered(), lastToken);
  };
  if (served) document.addEventListener("visibilitychange", () => { if (document.hidden) leaving(); else dropDrafts(); });
  if (served) window.addEventListener("beforeunload", () => { reloading = placeNow(); });
  if (served) window.addEventListener("pagehide", leaving);
  if (served) window.addEventListener("popstate", () => {
    const asked = placeOf(location);
    shownPage = asked.page;
    // Back and forward turn pages: what was typed since stays in the design, and Undo takes it back.
    if (asked.page && now.frame) say.turn(asked.page); else say({ do: "open", page: asked.page, token: asked.token });
  });
  const asked = served ? placeOf(location) : {};
  if (newest) asked.token = newest;
  const kept = remembered();
  const open = (set) => send({ do: "open", page: asked.page, token: asked.token || "", units: asked.units || kept.units || (set && set.units), full: kept.full,
    guesses: kept.guesses, pins: kept.pins, own: kept.own || {}, start: true, room: set ? set.values : null });
  if (room) {
    room.redraw = () => now.frame && showFrame(now.frame);
    const roomUnits = (set) => { if (set.units && !asked.units && !remembered().units && !(now.frame && now.frame.units === set.units)) say({ do: "units", units: set.units }); };
    room.changed = (set) => { say({ do: "enter", room: set.values }); roomUnits(set); };
    // With a design of its own a page waits for nobody; what the room sets for later doors follows.
    if (!asked.token) room.first().then(open);
    else { open(null); room.first().then((set) => { if (set && Object.keys(set.values).length) say({ do: "enter", room: set.values }); if (set) roomUnits(set); }); }
  } else open(null);
  return () => { model.off("msg:custom", hear); window.removeEventListener("keydown", keys, true); };
}

function hrefOf(page, token) {
  const url = new URL(location.href);
  url.pathname = url.pathname.replace(/[^/]*$/, page.file);
  for (const key of ["token", "d", "team", "code"]) url.searchParams.delete(key);
  if (token) url.searchParams.set("d", token);
  url.hash = "";
  return url.toString();
}

function placeOf(where) {
  const params = new URLSearchParams(where.search);
  const file = decodeURIComponent(where.pathname.split("/").pop());
  const page = (window.rsSeries || {})[file];
  return { page, token: params.get("d") || "", units: params.get("u") };
}
