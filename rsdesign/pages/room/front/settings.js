// The instructor's page: what the room starts from, a message to all, teams, the wall. Text stays text.

const place = document.getElementById("rs-room");
const told = make("p", { role: "status", class: "rs-sentence rs-told" });
const wrong = make("p", { role: "alert", class: "rs-notice", hidden: true });
const body = make("div");
let now = null;
// What was typed and not set yet, by the name of its box: the form is drawn anew after each answer.
const unset = new Map();
body.addEventListener("input", (e) => { if (e.target.matches("input[type=text], select")) unset.set(e.target.id, e.target.value); });
const filled = (box, text) => { box.value = unset.has(box.id) ? unset.get(box.id) : text; return box; };
const given = (boxes) => boxes.forEach((box) => { if (unset.get(box.id) === box.value) unset.delete(box.id); });

function say(found) {
  put(told, found.done || "");
  const words = found.refused || (found.wrong && "Nothing was changed: see the fields marked.") || "";
  put(wrong, words);
  wrong.hidden = !words;
  return !words;
}

// It is told once the form stands anew, so that nothing typed after the sentence is drawn over.
async function done(found) {
  if (!found.refused && !found.wrong) await show(false);
  say(found);
}

async function act(asked) { await done(await ask("room/act", asked)); }

async function show(clean = true) {
  const found = await ask(now ? `room/form.json?u=${now.system}` : "room/form.json");
  if (found.refused) { if (!now) fill(body, keyForm(found.refused)); else say(found); return; }
  now = found;
  if (clean) say({});
  keepingFocus(body, () => fill(body, about(), message(), settings(), teams()));
  place.dataset.ready = "1";
}

function keyForm(why) {
  const box = make("input", { id: "rs-key", type: "text", autocomplete: "off", spellcheck: "false", maxlength: 40 });
  return make("form", { onsubmit: async (e) => { e.preventDefault(); if (say(await ask("room/key", { key: box.value }))) show(); } },
    make("p", {}, why), make("div", { class: "rs-picks" }, make("label", { for: "rs-key" }, "Instructor's key"), box,
      make("button", { type: "submit", class: "rs-button" }, "I am the instructor")));
}

const count = (n, what) => `${n} ${what}${n === 1 ? "" : "s"}`;

function about() {
  return make("div", {}, make("p", {}, `Open now: ${count(now.here, "page")}, ${count(now.teams.length, "team")}, ${count(now.posts.length, "design")} on the wall. All of it is kept in memory and gone when the server stops.`),
    make("div", { class: "rs-toolbar" }, make("a", { class: "rs-button", href: `${BASE}wall` }, "Open the wall"),
      make("a", { class: "rs-button", href: `${BASE}room/export.csv`, download: "wall.csv" }, "Save the wall as CSV"),
      make("a", { class: "rs-button", href: `${BASE}room/export.json`, download: "wall.json" }, "Save the wall as JSON"),
      sure("Clear the wall", () => act({ do: "clear" }))),
    now.handed_in ? make("div", { class: "rs-toolbar" }, make("span", {}, `${count(now.handed_in, "file")} of work handed in. Take it on the page Instructor first.`), sure("Throw the work away", () => act({ do: "clear_tray" }))) : null);
}

// Something that cannot be taken back asks once more, on the same button.
function sure(words, act) {
  let asked = false;
  const el = button(words, () => {
    if (asked) act(); else { asked = true; put(el, `${words}? Press again`); setTimeout(() => { asked = false; put(el, words); }, 6000); }
  });
  return el;
}

function message() {
  const s = section("message", "A message to all");
  const box = filled(make("input", { id: "rs-say", type: "text", maxlength: 300 }), now.message);
  s.body.append(make("form", { class: "rs-picks", onsubmit: (e) => { e.preventDefault(); const text = box.value; given([box]); act({ do: "say", text }); } },
    make("label", { for: "rs-say" }, "Message"), box, make("button", { type: "submit", class: "rs-button" }, "Show it on every page"),
    button("Take it away", () => { unset.delete(box.id); act({ do: "say", text: "" }); })));
  return s.el;
}

function settings() {
  const s = section("settings", "What pages start from");
  const boxes = {}, whys = {};
  const field = (f) => {
    const id = "rs-" + f.path.replace(/\W/g, "-"), why = make("p", { class: "rs-wrong", id: id + "-wrong", hidden: true });
    const box = f.options.length ? make("select", { id, "aria-describedby": why.id }, make("option", { value: "" }, "left to each design"), f.options.map((o) => make("option", { value: o }, o)))
      : make("input", { id, type: "text", autocomplete: "off", "aria-describedby": why.id });
    filled(box, f.text);
    boxes[f.path] = box;
    whys[f.path] = why;
    return make("div", { class: "rs-setting" }, make("label", { for: id }, f.label), box, make("span", { class: "rs-unit" }, f.unit), make("span", { class: "rs-note" }, f.else), why);
  };
  const system = make("select", { id: "rs-system", onchange: () => {
    // A number that is typed and not set means its old unit.
    unset.delete("rs-system");
    if (Object.values(boxes).some((box) => unset.has(box.id))) { system.value = now.system; say({ refused: "Set the room first: what you typed is in the units shown." }); return; }
    now.system = system.value;
    show();
  } },
    make("option", { value: "us" }, "US units"), make("option", { value: "metric" }, "Metric"));
  system.value = now.system;
  const units = make("select", { id: "rs-room-units" }, make("option", { value: "" }, "left to each"), make("option", { value: "us" }, "US units"), make("option", { value: "metric" }, "Metric"));
  filled(units, now.units);
  const pages = now.pages.map((p) => [p.name, make("input", { type: "checkbox", id: `rs-page-${p.name}` }), p]);
  pages.forEach(([, box, p]) => { box.checked = p.on; });
  const save = async (e) => {
    e.preventDefault();
    const found = await ask("room/act", { do: "set", system: now.system, units: units.value, path: pages.filter(([, b]) => b.checked).map(([n]) => n),
      texts: Object.fromEntries(Object.entries(boxes).map(([p, b]) => [p, b.value])) });
    const said = found.wrong || {};
    if (!found.wrong && !found.refused) given([units, ...Object.values(boxes)]);
    for (const [path, why] of Object.entries(whys)) { put(why, said[path] || ""); why.hidden = !said[path]; attr(boxes[path], "aria-invalid", said[path] ? "true" : null); }
    await done(found);
    if (found.wrong) {
      const first = Object.keys(said).find((p) => boxes[p]), rest = Object.entries(said).filter(([p]) => !boxes[p]).map(([, w]) => w);
      if (rest.length) put(wrong, rest.join(" "));
      if (first) boxes[first].focus();
    }
  };
  const file = make("input", { id: "rs-prices", type: "file", accept: ".toml,text/plain" });
  file.addEventListener("change", () => { const f = file.files[0]; if (f) f.text().then((text) => act({ do: "prices", text })); });
  s.body.append(make("p", {}, "A page that opens without a design of its own starts from these. An empty box is left to each design."),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-system" }, "Type numbers in"), system),
    make("form", { novalidate: true, onsubmit: save },
      make("div", { class: "rs-picks" }, make("label", { for: "rs-room-units" }, "Pages open in"), units),
      make("fieldset", {}, make("legend", {}, "Pages of the short path (none means all)"), pages.map(([, box, p]) => make("label", { class: "rs-tick" }, box, p.title))),
      now.groups.map((g) => make("fieldset", {}, make("legend", {}, g.title), g.fields.map(field))),
      make("button", { type: "submit", class: "rs-button" }, "Set the room")),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-prices" }, "Or take the prices of a file "), file));
  return s.el;
}

function teams() {
  const s = section("teams", "Teams");
  s.body.append(now.teams.length ? table({ headings: ["Team", "Code", "Pages open", "Driver", "End"],
    rows: now.teams.map((t) => [t.name, t.code, t.here, t.driver ? "here" : "away", sure(`End team ${t.name}`, () => act({ do: "end_teams", team: t.name }))]) }, "Teams")
    : make("p", {}, "No teams yet."),
    make("div", { class: "rs-toolbar" }, button("Look again", () => show()), sure("End teams nobody has open", () => act({ do: "end_teams" }))));
  if (now.posts.length) s.body.append(make("ul", { class: "rs-plainlist" }, now.posts.map((name) => make("li", {}, name, " ", make("button", { type: "button", class: "rs-small", "aria-label": `Take ${name} from the wall`, onclick: () => act({ do: "clear", team: name }) }, "Take from the wall")))));
  return s.el;
}

place.append(wrong, told, body);
show();
