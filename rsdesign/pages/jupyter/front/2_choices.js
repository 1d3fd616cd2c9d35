// One choice: label, number box, unit, slider with its marks, "I do not know", reset, help.
// The kernel decides every value; while a thumb moves, only the newest position is sent. What stands
// in a box is either in the design, on its way there, or refused in a sentence beside it.

function choiceField(about, say) {
  const id = "rs-" + about.path.replace(/\W/g, "-");
  const label = make("label", { for: id }, about.label);
  const why = make("p", { class: "rs-wrong", id: id + "-wrong", hidden: true });
  const note = make("p", { class: "rs-note", id: id + "-note" });
  const el = make("div", { class: "rs-choice", "data-path": about.path });
  const field = { el, form: about.form, dragging: false, wrong: "", lost: "" };
  const told = () => {
    const words = field.wrong || field.lost;
    attr(why, "hidden", words ? null : "");
    put(why, words);
  };
  field.typed = () => { if (field.lost) { field.lost = ""; told(); } };
  field.lose = (text) => {
    field.lost = `'${text.slice(0, 40)}' was not taken: somebody else of your team drives now. Press 'I drive now' to change the design.`;
    told();
  };
  const reset = make("button", { type: "button", class: "rs-small", hidden: true,
    onclick: () => say({ do: "reset", path: about.path }) }, "Reset");
  const unknown = make("button", { type: "button", class: "rs-small", hidden: true,
    onclick: () => say({ do: "not_known", path: about.path }) }, "I do not know");
  const none = make("button", { type: "button", class: "rs-small", hidden: true,
    onclick: () => say({ do: "set", path: about.path, text: field.nothing }) }, "I have none");
  const tools = make("div", { class: "rs-tools" }, unknown, none, reset);
  if (about.form === "number") numberParts(field, about, id, label, note, why, say);
  else if (about.form === "word") wordParts(field, about, id, label, say);
  else textParts(field, about, id, label, say);
  el.append(note, why, tools);
  field.show = (now) => {
    field.nothing = now.nothing;
    el.classList.toggle("rs-changed", now.changed);
    el.classList.toggle("rs-hollow", now.chosen);
    el.hidden = false;
    attr(reset, "hidden", now.changed ? null : "");
    attr(reset, "aria-label", `Reset ${now.label} to ${now.start}`);
    attr(unknown, "hidden", now.may_not_know && !now.chosen ? null : "");
    attr(unknown, "aria-label", `I do not know: ${now.label}`);
    attr(none, "hidden", now.nothing ? null : "");
    attr(none, "aria-label", `I have none: ${now.label}`);
    put(note, noteOf(now));
    field.wrong = now.wrong;
    told();
    field.fill(now);
  };
  field.gone = () => { field.entry.end(); el.remove(); };
  field.show(about);
  return field;
}

function noteOf(now) {
  const parts = [];
  if (now.none) parts.push("You have none.");
  else if (now.chosen && now.taken) parts.push(`You did not say: we took ${now.taken} ${now.unit || ""}`.trim() + ".");
  if (now.also) parts.push(`That is ${now.also}.`);
  if (now.changed && !now.chosen) parts.push(`Changed from ${now.start}.`);
  if (now.rule) parts.push(`Rule of thumb: ${now.rule}.`);
  if (now.measured) parts.push(now.measured[0].toUpperCase() + now.measured.slice(1) + ".");
  if (now.help) parts.push(now.help);
  return parts.join(" ");
}

function numberParts(field, about, id, label, note, why, say) {
  const box = make("input", { id, type: "text", inputmode: "decimal", autocomplete: "off",
    "aria-describedby": `${note.id} ${why.id}` });
  const unit = make("span", { class: "rs-unit", "aria-hidden": "true" });
  const slider = make("input", { type: "range", min: 0, max: 200, step: 1 });
  const peg = make("span", { class: "rs-peg", "aria-hidden": "true", hidden: true }, "rule of thumb");
  const tick = make("span", { class: "rs-start", "aria-hidden": "true", hidden: true });
  const track = make("div", { class: "rs-track" }, slider, tick, peg);
  const ends = make("div", { class: "rs-ends", "aria-hidden": "true" }, make("span"), make("span"));
  field.el.append(make("div", { class: "rs-line" }, label, make("span", { class: "rs-entry" }, box, unit)),
    track, ends);
  field.entry = entryOf(box, say, (text, units) => ({ do: "set", path: about.path, text, units }),
    { path: about.path, typed: field.typed, lost: field.lose, found: field.typed });
  slider.addEventListener("input", () => {
    field.dragging = true;
    say({ do: "slide", path: about.path, at: slider.value / 200 }, about.path);
  });
  const end = () => { if (field.dragging) { field.dragging = false; say({ do: "slide", path: about.path, at: slider.value / 200, end: true }, about.path); } };
  slider.addEventListener("change", end);
  slideByTouch(track, slider);
  field.fill = (now) => {
    field.entry.told(now.text, now.system);
    attr(box, "placeholder", now.chosen ? now.taken : null);
    attr(box, "aria-invalid", now.wrong ? "true" : null);
    attr(box, "aria-label", `${now.label}, ${now.unit || "number"}`);
    put(unit, now.unit);
    if (!field.dragging) slider.value = now.position === null ? 100 : Math.round(now.position * 200);
    attr(slider, "aria-label", `${now.label}, slider`);
    attr(slider, "aria-valuetext", now.chosen ? `not told, we took ${now.spoken || "a value"}` : now.spoken);
    put(ends.children[0], now.low);
    put(ends.children[1], now.high);
    mark(peg, now.rule_at);
    mark(tick, now.start_at);
  };
}

function mark(el, at) {
  attr(el, "hidden", at === null || at === undefined ? "" : null);
  if (at !== null && at !== undefined) el.style.left = `calc(12px + (100% - 24px) * ${at})`;
}

function wordParts(field, about, id, label, say) {
  const pick = make("select", { id });
  field.entry = entryOf(pick, say, (text) => text === "" ? { do: "not_known", path: about.path } : { do: "set", path: about.path, text });
  field.el.append(make("div", { class: "rs-line" }, label, pick));
  let known = "";
  field.fill = (now) => {
    const key = JSON.stringify([now.options, now.chosen && now.taken, now.may_not_know]);
    if (key !== known) {
      known = key;
      const open = now.may_not_know ? [make("option", { value: "" }, now.taken ? `we choose (${now.taken})` : "we choose")] : [];
      fill(pick, open, now.options.map((o) => make("option", { value: o.value }, o.label)));
    }
    field.entry.told(now.value === null ? "" : now.value);
  };
}

function textParts(field, about, id, label, say) {
  const box = make("input", { id, type: "text", autocomplete: "off" });
  field.entry = entryOf(box, say, (text) => ({ do: "set", path: about.path, text }), { path: about.path, typed: field.typed, lost: field.lose, found: field.typed });
  field.el.append(make("div", { class: "rs-line" }, label, box));
  field.fill = (now) => field.entry.told(now.text);
}

function choiceList(say) {
  const first = make("div", { class: "rs-first" });
  const rest = make("div", { class: "rs-rest" });
  const more = make("details", { class: "rs-more" }, make("summary", {}, "More choices"), rest);
  const fields = new Map();
  return {
    el: make("div", {}, first, more),
    show(list) {
      const wanted = list.map((c) => c.path);
      for (const [path, field] of fields) if (!wanted.includes(path)) { fields.delete(path); field.gone(); }
      for (const about of list) {
        let field = fields.get(about.path);
        if (!field || field.form !== about.form) {
          if (field) field.gone();
          field = choiceField(about, say);
          fields.set(about.path, field);
        } else field.show(about);
        const home = about.more ? rest : first;
        if (field.el.parentNode !== home) home.append(field.el);
      }
      for (const about of list) {
        const home = about.more ? rest : first;
        const at = list.filter((c) => c.more === about.more).indexOf(about);
        if (home.children[at] !== fields.get(about.path).el) home.insertBefore(fields.get(about.path).el, home.children[at] || null);
      }
      more.hidden = !list.some((c) => c.more);
    },
    // What a page before this one, at the same address, had not been answered.
    again(drafts) {
      for (const d of drafts) {
        const field = fields.get(d.path);
        if (field) field.entry.again(d.text, d.units); else say({ do: "set", path: d.path, text: d.text, units: d.units });
      }
    },
  };
}
