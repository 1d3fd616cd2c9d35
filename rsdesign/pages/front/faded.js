// A worked example that fades, on each page: all shown, the last step blank, the last two, your own.

import { stepForm } from "./step_form.js";
import { typingIn } from "./boxes.js";
import { fill, keepingFocus, make, put } from "./dom.js";
import { remember, remembered } from "./memory.js";

/**
 * @param {Say} say
 * @param {() => string} page
 */
export function fadedBlock(say, page) {
  const told = make("p", { role: "status", class: "rs-hush" }),
    done = make("p", { class: "rs-answer", hidden: true }, "All of it is done."),
    body = make("div");
  const stages = make("ol", { class: "rs-stages" }),
    known = () => remembered().known || [];
  const skip = make(
    "button",
    {
      type: "button",
      class: "rs-button",
      onclick: () => {
        remember({ known: [...new Set([...known(), page()])] });
        el.open = false;
        head.focus();
      },
    },
    "I know this, skip",
  );
  const head = make("summary", {}, "Step by step: a worked example");
  const el = make(
    "details",
    { class: "rs-faded" },
    head,
    make("div", { class: "rs-picks" }, skip),
    stages,
    body,
    done,
    told,
  );
  let state = { stage: 0, typed: {}, shown: [] },
    of = "",
    last = "";
  const send = (change) => {
    state = { ...state, ...change };
    say({ do: "answer", name: `faded-${page()}`, text: JSON.stringify(state) });
  };
  const texts = new Map(); // what stands in a box and was not checked yet
  let waits = null;
  const go = (stage) => {
    last = "";
    texts.clear();
    send({ stage, typed: {}, shown: [] });
  };
  /**
   * @param {any} s
   * @param {number} i
   */
  function step(s, i) {
    if (s.waits)
      return make("li", {}, make("strong", {}, s.title), make("p", { class: "rs-note" }, "First the step above."));
    const id = `rs-faded-${i}`;
    const box = make("input", {
      id,
      type: "text",
      autocomplete: "off",
      maxlength: 40,
      value: (texts.has(s.name) ? texts.get(s.name) : state.typed[s.name]) || null,
      oninput: () => texts.set(s.name, box.value),
      "aria-describedby": `${id}-says`,
      "aria-invalid": s.words && s.blank ? "true" : null,
    });
    const says = make(
      "p",
      { id: `${id}-says`, class: s.blank && s.words ? "rs-wrong" : "rs-note", hidden: !s.words },
      s.words,
    );
    const form = stepForm(
      box,
      s.ask || (s.unit ? "What comes out, with its unit?" : "What comes out?"),
      (text) => send({ typed: { ...state.typed, [s.name]: text } }),
      s.may_show ? () => send({ shown: [...state.shown, s.name] }) : null,
    );
    return make(
      "li",
      {},
      make("strong", {}, s.title),
      s.given ? make("p", {}, s.given) : null,
      s.blank ? form : make("p", {}, "→ ", make("strong", {}, s.value)),
      says,
    );
  }
  body.addEventListener("focusout", () => setTimeout(() => waits && block.show(waits)));
  const block = {
    el,
    show(b) {
      el.hidden = !b;
      if (!b) return;
      if (of !== page()) {
        of = page();
        el.open = false;
        state = { stage: b.stage, typed: {}, shown: [] };
        last = "";
        texts.clear();
      }
      put(
        head,
        known().includes(of) ? "Step by step: a worked example (you know this)" : "Step by step: a worked example",
      );
      const key = JSON.stringify(b);
      if (key === last) return;
      waits = typingIn(body) ? b : null;
      if (waits) return; // drawn once the box is left
      last = key;
      keepingFocus(stages, () =>
        fill(
          stages,
          b.stages.map((words, i) =>
            make(
              "li",
              {},
              make(
                "button",
                {
                  type: "button",
                  class: "rs-small",
                  "aria-current": i === b.stage ? "step" : null,
                  onclick: () => go(i),
                },
                words,
              ),
            ),
          ),
        ),
      );
      keepingFocus(body, () =>
        fill(
          body,
          make("p", {}, make("strong", {}, `${b.title}. `), b.question),
          b.caution ? make("p", { class: "rs-cautions" }, make("strong", {}, "Take care. "), b.caution) : null,
          make("p", { class: "rs-note" }, b.relation),
          make("ol", { class: "rs-fadedsteps" }, b.steps.map(step)),
          b.expert.length
            ? make(
                "ul",
                {},
                b.expert.map((w) => make("li", {}, w)),
              )
            : null,
          b.done && b.stage < b.stages.length - 1
            ? make(
                "button",
                { type: "button", class: "rs-button", onclick: () => go(b.stage + 1) },
                `Go on: ${b.stages[b.stage + 1].toLowerCase()}`,
              )
            : null,
        ),
      );
      done.hidden = !(b.stage && b.done);
      const now = b.steps.filter((s) => s.words).map((s) => s.words);
      put(told, b.stage && b.done ? "All of it is done." : now.length ? now[now.length - 1] : "");
    },
  };
  return block;
}
