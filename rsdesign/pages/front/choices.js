// One choice: label, number box, unit, slider with its ribbon; "I do not know", reset and help behind "?".
// The kernel decides every value; while a thumb moves, only the newest position is sent. What stands
// in a box is either in the design, on its way there, or refused in a sentence beside it.

import { numberParts, textParts, wordParts } from "./choice_parts.js";
import { attr, make, put } from "./dom.js";

/**
 * @param {any} about
 * @param {Say} say
 */
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
  field.typed = () => {
    if (field.lost) {
      field.lost = "";
      told();
    }
  };
  field.lose = (text) => {
    field.lost =
      `'${text.slice(0, 40)}' was not taken: somebody else of your team drives now. ` +
      "Press 'I drive now' to change the design.";
    told();
  };
  const reset = make(
    "button",
    { type: "button", class: "rs-small", hidden: true, onclick: () => say({ do: "reset", path: about.path }) },
    "Reset",
  );
  const unknown = make(
    "button",
    { type: "button", class: "rs-small", hidden: true, onclick: () => say({ do: "not_known", path: about.path }) },
    "I do not know",
  );
  const none = make(
    "button",
    {
      type: "button",
      class: "rs-small",
      hidden: true,
      onclick: () => say({ do: "set", path: about.path, text: field.nothing }),
    },
    "I have none",
  );
  const tools = make("div", { class: "rs-tools" }, unknown, none, reset);
  const behind = make("div", { class: "rs-about", id: id + "-about", hidden: true }, note, tools);
  const opener = make(
    "button",
    {
      type: "button",
      class: "rs-ask",
      "aria-expanded": "false",
      "aria-controls": behind.id,
      "aria-label": `About: ${about.label}`,
      onclick: () => {
        behind.hidden = !behind.hidden;
        attr(opener, "aria-expanded", String(!behind.hidden));
      },
    },
    "?",
  );
  field.ribbon = null;
  if (about.form === "number") numberParts(field, about, id, label, note, why, say);
  else if (about.form === "word") wordParts(field, about, id, label, say);
  else textParts(field, about, id, label, say);
  el.firstElementChild?.append(opener);
  el.append(why, behind);
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
  field.gone = () => {
    (field.end || field.entry.end)();
    el.remove();
  };
  field.show(about);
  return field;
}

/** @param {Blocks} now */
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

/**
 * The first choices of a page, and the others behind one line.
 * @param {Say} say
 * @param {() => boolean} full whether everything is shown
 */
export function choiceList(say, full) {
  const first = make("div", { class: "rs-first" });
  const rest = make("div", { class: "rs-rest" });
  const more = make("details", { class: "rs-more" }, make("summary", {}, "More choices"), rest);
  const fields = new Map();
  more.addEventListener("toggle", () => {
    if (more.open && !full()) say({ do: "depth", full: true });
  });
  let ribbons = {};
  let wide = 0;
  const putRibbons = () => {
    for (const [path, field] of fields) field.ribbon?.show(ribbons[path], wide);
  };
  new ResizeObserver(() => {
    wide = first.clientWidth;
    putRibbons();
  }).observe(first);
  return {
    first,
    more,
    ribbons(found) {
      ribbons = found;
      putRibbons();
    },
    show(list) {
      const wanted = list.map((c) => c.path);
      for (const [path, field] of fields)
        if (!wanted.includes(path)) {
          fields.delete(path);
          field.gone();
        }
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
        if (home.children[at] !== fields.get(about.path).el)
          home.insertBefore(fields.get(about.path).el, home.children[at] || null);
      }
      putRibbons();
    },
    // What a page before this one, at the same address, had not been answered.
    again(drafts) {
      for (const d of drafts) {
        const field = fields.get(d.path);
        if (field) field.entry.again(d.text, d.units);
        else say({ do: "set", path: d.path, text: d.text, units: d.units });
      }
    },
  };
}
