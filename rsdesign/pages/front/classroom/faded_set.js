// A worked example that fades before one's own problem: all shown, the last step left out, the last two.
// At each step its reason is chosen from a list. Nothing of it counts.

import { stepForm } from "../step_form.js";
import { typingIn } from "../boxes.js";
import { fill, keepingFocus, make, put } from "../dom.js";

/**
 * The prompt at a step: which reason is behind it.
 * @param {Say} say
 * @param {any} s the step
 * @param {string} id
 */
function reasonField(say, s, id) {
  const w = s.why;
  if (w.right) return make("p", { class: "rs-note" }, "Why? ", w.options[w.chosen]);
  const list = make(
    "select",
    {
      id,
      "aria-describedby": `${id}-says`,
      onchange: () => list.value !== "" && say({ do: "fade", place: s.place, reason: Number(list.value) }),
    },
    make("option", { value: "" }, "Choose the reason"),
    w.options.map((/** @type {string} */ words, /** @type {number} */ i) =>
      make("option", { value: String(i), selected: w.chosen === i }, words),
    ),
  );
  return make(
    "div",
    { class: "rs-asked" },
    make("label", { for: id }, "Why this step?"),
    list,
    make("p", { id: `${id}-says`, class: "rs-note", hidden: !w.words }, w.words),
  );
}

/**
 * A step that is left out: a box for what comes out.
 * @param {Say} say
 * @param {any} s the step
 * @param {string} id
 */
function blankField(say, s, id) {
  const text = { id, type: "text", autocomplete: "off", maxlength: 40, value: s.typed || null };
  const box = make("input", { ...text, "aria-describedby": `${id}-says`, "aria-invalid": s.words ? "true" : null });
  return stepForm(
    box,
    s.unit ? `Your step: what comes out, in ${s.unit}?` : "Your step: what comes out?",
    (text) => say({ do: "fade", place: s.place, text }),
    s.may_show ? () => say({ do: "fade", place: s.place }) : null,
    make("p", { id: `${id}-says`, class: "rs-wrong", hidden: !s.words }, s.words),
  );
}

/**
 * @param {Say} say
 * @param {any} s the step
 */
function step(say, s) {
  const id = `rs-step-${s.place}`;
  if (s.waits) return make("li", {}, make("p", { class: "rs-note" }, "First the step above."));
  if (s.blank) return make("li", {}, blankField(say, s, id));
  const said = s.typed && s.words ? make("p", { class: "rs-note" }, s.words) : null;
  return make("li", {}, make("strong", {}, s.sum), said, reasonField(say, s, `${id}-why`));
}

/** @param {Say} say */
export function fadedSet(say) {
  const head = make("summary", {}, "Step by step, with other numbers");
  const stages = make("ol", { class: "rs-stages" }),
    body = make("div"),
    told = make("p", { role: "status", class: "rs-hush" });
  const el = make("details", { class: "rs-faded", hidden: true }, head, stages, body, told);
  let of = "",
    last = "",
    /** @type {any} */ waits = null;
  body.addEventListener("focusout", () => setTimeout(() => waits && block.show(waits)));
  const block = {
    el,
    /** @param {any} b */
    show(b) {
      el.hidden = !b;
      if (!b) return;
      const key = JSON.stringify(b);
      if (of !== b.name) el.open = b.first && !b.done;
      else if (key === last) return;
      waits = of === b.name && typingIn(body) ? b : null;
      if (waits) return; // drawn once the box is left
      of = b.name;
      last = key;
      keepingFocus(stages, () =>
        fill(
          stages,
          b.stages.map((/** @type {string} */ words, /** @type {number} */ i) =>
            make(
              "li",
              {},
              make(
                "button",
                {
                  type: "button",
                  class: "rs-small",
                  "aria-current": i === b.stage ? "step" : null,
                  onclick: () => say({ do: "fade", stage: i }),
                },
                words,
              ),
            ),
          ),
        ),
      );
      keepingFocus(body, () => fill(body, b.steps.length ? example(b) : make("p", {}, NOW_YOURS)));
      const words = b.steps.filter((/** @type {any} */ s) => s.words).map((/** @type {any} */ s) => s.words);
      put(told, b.done ? "All steps are done." : words.length ? words[words.length - 1] : "");
    },
  };
  /** @param {any} b */
  function example(b) {
    const next = b.stages[b.stage + 1];
    return [
      make("p", {}, b.question, " ", b.asks.join(" ")),
      b.caution ? make("p", { class: "rs-cautions" }, make("strong", {}, "Take care. "), b.caution) : null,
      make("ol", { class: "rs-fadedsteps" }, b.steps.map((/** @type {any} */ s) => step(say, s))),
      b.done && next
        ? make(
            "button",
            { type: "button", class: "rs-button", onclick: () => say({ do: "fade", stage: b.stage + 1 }) },
            `Go on: ${next.toLowerCase()}`,
          )
        : null,
    ];
  }
  return block;
}

const NOW_YOURS = "Now your own problem, below. This example stays here if you want it again.";
