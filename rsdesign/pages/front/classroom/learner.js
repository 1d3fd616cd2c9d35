// The learner's page: choose a set, give a code, work, hand in.

import { problemDesk } from "./desk.js";
import { fadedSet } from "./faded_set.js";
import { handParts } from "./hand_in.js";
import { classStore } from "./store.js";
import { fill, folded, keepingFocus, make, put } from "../dom.js";

const STATE_WORDS = { new: "", tried: "tried", right: "right", kept: "kept" };

/**
 * @param {Say} say
 * @param {Model} model
 * @param {Blocks} now
 */
export function learnerParts(say, model, now) {
  const set = make("select", { id: "rs-set" }),
    code = make("input", {
      id: "rs-code",
      type: "text",
      autocomplete: "off",
      autocapitalize: "characters",
      maxlength: 24,
    });
  const ticket = make("input", {
    id: "rs-ticket",
    type: "text",
    autocomplete: "off",
    maxlength: 120,
    "aria-describedby": "rs-ticket-note",
  });
  const ticketLine = make(
    "div",
    { class: "rs-asked" },
    make("label", { for: "rs-ticket" }, "Ticket"),
    ticket,
    make(
      "p",
      { class: "rs-note", id: "rs-ticket-note" },
      "For work on your own machine; your instructor gives it to you. Without one you practise: nobody marks it.",
    ),
  );
  const form = make(
    "form",
    {
      onsubmit: (e) => {
        e.preventDefault();
        begin();
      },
    },
    make("div", { class: "rs-asked" }, make("label", { for: "rs-set" }, "Set"), set),
    make(
      "div",
      { class: "rs-asked" },
      make("label", { for: "rs-code" }, "Your code"),
      code,
      make("p", { class: "rs-note" }, "It stands on your card. Do not type a name."),
    ),
    ticketLine,
    make("button", { type: "submit", class: "rs-button rs-big" }, "Begin"),
  );
  const again = make("summary", {}, "Begin"),
    start = make("details", { class: "rs-begin", open: true }, again, form);
  const title = make("h2", {}),
    who = make("p", {}),
    bar = make("progress", { "aria-label": "Done", max: 1, value: 0 }),
    notice = make("p", { role: "status" });
  const rules = make("div"),
    list = make("div", { class: "rs-way" });
  const way = folded("All problems", list);
  const whole = make(
    "section",
    { class: "rs-set", hidden: true },
    title,
    who,
    make("div", { class: "rs-picks" }, bar, notice),
    folded("What counts", rules),
    way,
  );
  const desk = problemDesk(say, "rs-desk"),
    faded = fadedSet(say);
  const back = make(
    "button",
    { type: "button", class: "rs-button", onclick: () => say({ do: "go", name: now.set.before }) },
    "Problem before",
  );
  const on = make(
    "button",
    { type: "button", class: "rs-button", onclick: () => say({ do: "go", name: now.set.next }) },
    "Next problem",
  );
  const steps = make("div", { class: "rs-picks", hidden: true }, back, on);
  const hand = handParts(say, now);
  let begun = false;
  function begin() {
    const kept = (classStore().works || {})[`${set.value} ${code.value.trim().toUpperCase()}`] || {};
    const asked = ticket.value.trim();
    say({
      do: "begin",
      set: set.value,
      code: code.value,
      ticket: asked || kept.ticket || "",
      ...(kept.file && (!asked || asked === kept.ticket) ? { file: kept.file } : {}),
    });
  }
  return {
    el: make("div", {}, start, whole, faded.el, desk.el, steps, hand.el),
    show(blocks) {
      if (blocks.start) {
        const s = blocks.start;
        if (!set.children.length)
          fill(
            set,
            make(
              "optgroup",
              { label: "Sets" },
              s.sets.map((p) => make("option", { value: p.name }, `${p.title} (${p.minutes} min)`)),
            ),
            make(
              "optgroup",
              { label: "Practice" },
              s.topics.map((p) => make("option", { value: p.name }, p.title)),
            ),
          );
        put(again, s.begun ? "Another set or another code" : "Begin");
        ticketLine.hidden = s.at_hand;
        if (s.begun !== begun) start.open = !s.begun;
        begun = s.begun;
      }
      if ("set" in blocks) {
        const s = blocks.set;
        whole.hidden = steps.hidden = hand.el.hidden = !s;
        if (s) {
          start.open = start.open && !begun;
          put(title, s.title);
          put(who, `Your code: ${s.code}. ${s.mode}`);
          bar.max = s.of;
          bar.value = s.done;
          put(notice, `${s.done} of ${s.of} done`);
          fill(
            rules,
            make(
              "ul",
              {},
              s.rules.map((w) => make("li", {}, w)),
            ),
          );
          keepingFocus(list, () =>
            fill(
              list,
              s.parts
                .map((part) => [
                  make("h3", {}, part.title),
                  make(
                    "ul",
                    { class: "rs-plainlist" },
                    part.problems.map((p) =>
                      make(
                        "li",
                        {},
                        make(
                          "button",
                          {
                            type: "button",
                            class: "rs-small",
                            "aria-current": p.here ? "step" : null,
                            onclick: () => {
                              way.open = false;
                              say({ do: "go", name: p.name });
                            },
                          },
                          p.title + (STATE_WORDS[p.state] ? ` (${STATE_WORDS[p.state]})` : ""),
                        ),
                      ),
                    ),
                  ),
                ])
                .flat(),
            ),
          );
          back.disabled = !s.before;
          on.disabled = !s.next;
          hand.at(s);
        }
      }
      if ("problem" in blocks || "work" in blocks) desk.show(now.problem, now.work);
      if ("faded" in blocks) faded.show(blocks.faded);
      if (blocks.reply) hand.take(blocks.reply);
    },
  };
}
