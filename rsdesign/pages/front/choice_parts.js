// What a choice is told with: a number with its slider, one of a list of words, or a text.

import { entryOf } from "./boxes.js";
import { attr, fill, make, put } from "./dom.js";
import { ribbonBand } from "./ribbon.js";
import { slideByTouch } from "./slide.js";

/**
 * @param {any} field
 * @param {any} about
 * @param {string} id
 * @param {HTMLElement} label
 * @param {HTMLElement} note
 * @param {HTMLElement} why
 * @param {Say} say
 */
export function numberParts(field, about, id, label, note, why, say) {
  const box = make("input", {
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    "aria-describedby": `${note.id} ${why.id}`,
  });
  const unit = make("span", { class: "rs-unit", "aria-hidden": "true" });
  const slider = make("input", { type: "range", min: 0, max: 200, step: 1 });
  const ghost = make("span", { class: "rs-ghost", "aria-hidden": "true", hidden: true });
  const tick = make("span", { class: "rs-start", "aria-hidden": "true", hidden: true });
  const track = make("div", { class: "rs-track" }, ghost, slider, tick);
  field.ribbon = ribbonBand(id + "-ribbon");
  attr(slider, "aria-describedby", id + "-ribbon");
  field.el.append(
    make("div", { class: "rs-line" }, label, make("span", { class: "rs-entry" }, box, unit)),
    track,
    field.ribbon.el,
  );
  field.entry = entryOf(box, say, (text, units) => ({ do: "set", path: about.path, text, units }), {
    path: about.path,
    typed: field.typed,
    lost: field.lose,
    found: field.typed,
  });
  let said = 0; // the number of the slider's last message
  let place = slider.value; // where the kernel has it
  const slide = (/** @type {object} */ more) => {
    said = say({ do: "slide", path: about.path, at: Number(slider.value) / 200, ...more }, about.path);
  };
  slider.addEventListener("input", () => {
    field.dragging = true;
    slide({});
  });
  const end = () => {
    if (field.dragging) {
      field.dragging = false;
      slide({ end: true });
    }
  };
  // The answer to an earlier move does not put the thumb back while a later one is on its way.
  const settle = (/** @type {number} */ answered) => {
    if (!field.dragging && said <= answered) slider.value = place;
  };
  say.listeners.add(settle);
  field.end = () => {
    field.entry.end();
    say.listeners.delete(settle);
  };
  slider.addEventListener("change", end);
  slideByTouch(track, slider);
  field.fill = (now) => {
    field.entry.told(now.text, now.system);
    attr(box, "placeholder", now.chosen ? now.taken : null);
    attr(box, "aria-invalid", now.wrong ? "true" : null);
    attr(box, "aria-label", `${now.label}, ${now.unit || "number"}`);
    put(unit, now.unit);
    place = String(now.position === null ? 100 : Math.round(now.position * 200));
    settle(say.heard);
    attr(slider, "aria-label", `${now.label}, slider`);
    attr(slider, "aria-valuetext", now.chosen ? `not told, we took ${now.spoken || "a value"}` : now.spoken);
    field.ribbon.ends(now);
    mark(ghost, now.ghost);
    mark(tick, now.changed ? now.start_at : null);
  };
}

/**
 * @param {HTMLElement} el
 * @param {number | null | undefined} at
 */
export function mark(el, at) {
  attr(el, "hidden", at === null || at === undefined ? "" : null);
  if (at !== null && at !== undefined) el.style.left = `calc(12px + (100% - 24px) * ${at})`;
}

/**
 * @param {any} field
 * @param {any} about
 * @param {string} id
 * @param {HTMLElement} label
 * @param {Say} say
 */
export function wordParts(field, about, id, label, say) {
  const pick = make("select", { id });
  field.entry = entryOf(pick, say, (text) =>
    text === "" ? { do: "not_known", path: about.path } : { do: "set", path: about.path, text },
  );
  field.el.append(make("div", { class: "rs-line" }, label, pick));
  let known = "";
  field.fill = (now) => {
    const key = JSON.stringify([now.options, now.chosen && now.taken, now.may_not_know]);
    if (key !== known) {
      known = key;
      const open = now.may_not_know
        ? [make("option", { value: "" }, now.taken ? `we choose (${now.taken})` : "we choose")]
        : [];
      fill(
        pick,
        open,
        now.options.map((o) => make("option", { value: o.value }, o.label)),
      );
    }
    field.entry.told(now.value === null ? "" : now.value);
  };
}

/**
 * @param {any} field
 * @param {any} about
 * @param {string} id
 * @param {HTMLElement} label
 * @param {Say} say
 */
export function textParts(field, about, id, label, say) {
  const box = make("input", { id, type: "text", autocomplete: "off" });
  field.entry = entryOf(box, say, (text) => ({ do: "set", path: about.path, text }), {
    path: about.path,
    typed: field.typed,
    lost: field.lose,
    found: field.typed,
  });
  field.el.append(make("div", { class: "rs-line" }, label, box));
  field.fill = (now) => field.entry.told(now.text);
}
