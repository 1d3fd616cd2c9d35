// One problem to work at. It is drawn anew only when another problem comes; words come and go in it.

import { answerField } from "./answer_field.js";
import { PLAIN_ASK, problemWords } from "./problem.js";
import { keepUnchecked, unchecked } from "./store.js";
import { attr, fill, make, put } from "../dom.js";

/**
 * @param {Say} say
 * @param {string} id
 */
export function problemDesk(say, id) {
  const head = make("h2", { tabindex: "-1" }),
    about = make("p", { class: "rs-source" });
  const words = make("div"),
    boxes = make("div"),
    notice = make("div", { role: "status", class: "rs-told" });
  const hints = make("ol", { class: "rs-hints" }),
    hinted = make("div", { hidden: true }, make("h3", {}, "Hints"), hints);
  const expert = make("div", { hidden: true });
  const check = make("button", { type: "submit", class: "rs-button" }, "Check");
  const hint = make(
    "button",
    { type: "button", class: "rs-button", hidden: true, onclick: () => say({ do: "hint" }) },
    "Give me a hint",
  );
  const form = make(
    "form",
    {
      novalidate: true,
      onsubmit: (e) => {
        e.preventDefault();
        say({ do: "check", typed: typed() });
        keepUnchecked(shown, reasonLeft());
      },
    },
    boxes,
    make("div", { class: "rs-picks" }, check, hint),
  );
  const reason = make("textarea", { id: `${id}-reason`, rows: 2, maxlength: 1000 });
  const why = make(
    "div",
    { class: "rs-why", hidden: true },
    make("label", { for: reason.id }, "Why? Say your reason in a sentence."),
    reason,
    make(
      "button",
      {
        type: "button",
        class: "rs-button",
        onclick: () => {
          say({ do: "reason", text: reason.value });
          const left = unchecked()[shown];
          keepUnchecked(shown, left && left.typed ? { typed: left.typed } : null);
        },
      },
      "Keep my reason",
    ),
  );
  const el = make("section", { class: "rs-problem" }, head, about, words, form, notice, hinted, expert, why);
  let fields = {},
    shown = "";
  const reasonLeft = () => {
    const left = unchecked()[shown];
    return left && left.reason !== undefined ? { reason: left.reason } : null;
  };
  el.addEventListener("input", (e) =>
    keepUnchecked(shown, {
      ...unchecked()[shown],
      ...(e.target === reason ? { reason: reason.value } : { typed: typed() }),
    }),
  );
  function typed() {
    return Object.fromEntries(Object.entries(fields).map(([name, f]) => [name, f.read()]));
  }
  /**
   * @param {any} p
   * @param {any} w
   * @param {boolean} focus
   */
  function draw(p, w, focus) {
    put(head, p.title);
    put(about, `About ${p.minutes} minutes. ${p.objective}${p.paper ? "" : " Needs the design pages or a table."}`);
    fill(words, problemWords(p));
    fields = Object.fromEntries(p.asks.map((ask, i) => [ask.name, answerField(p, ask, `${id}-${i}`)]));
    fill(
      boxes,
      Object.values(fields).map((f) => f.el),
    );
    const left = unchecked()[shown] || {},
      texts = left.typed || w.typed;
    for (const [name, f] of Object.entries(fields)) if (texts[name] !== undefined) f.put(texts[name]);
    reason.value = left.reason === undefined ? w.reason : left.reason;
    put(check, p.turn === "before" ? "Keep my answer" : "Check");
    if (focus) head.focus();
  }
  return {
    el,
    head,
    show(p, w) {
      el.hidden = !p;
      if (!p) {
        shown = "";
        return;
      }
      const key = `${p.name} ${p.mark}`;
      if (key !== shown) {
        const first = shown === "";
        shown = key;
        draw(p, w, !first);
      }
      for (const c of w.words) {
        const f = fields[c.ask];
        if (!f) continue;
        put(f.mark, c.words);
        f.mark.hidden = false;
        f.mark.className = `rs-mark ${c.right === null ? "" : c.right ? "rs-right-mark" : "rs-wrong"}`;
        f.boxes.forEach((b) => attr(b, "aria-invalid", c.right === false ? "true" : null));
      }
      const left =
        w.left === null || !w.attempts
          ? ""
          : w.left
            ? ` ${w.left} more of your attempts count.`
            : " Your attempts are used up; you may go on for yourself.";
      const lines = w.words.map(
        (c) =>
          (w.words.length > 1 ? `${p.asks.find((a) => a.name === c.ask).text || PLAIN_ASK.number} ` : "") + c.words,
      );
      // The words stand beside each box; a reader hears them here, once.
      fill(
        notice,
        w.words.length ? make("p", { class: w.words.length > 0 ? "rs-hush" : null }, lines.join(" ")) : null,
        w.right ? make("p", { class: "rs-answer" }, "Right.") : null,
        w.words.length && !w.right && left ? make("p", { class: "rs-source" }, left.trim()) : null,
        w.points ? make("p", { class: "rs-source" }, w.points) : null,
      );
      hint.hidden = !w.may_hint;
      hinted.hidden = !w.hints.length;
      if (hints.children.length !== w.hints.length)
        fill(
          hints,
          w.hints.map((h) => make("li", { tabindex: "-1" }, h)),
        );
      expert.hidden = !w.expert.length;
      fill(
        expert,
        w.expert.length
          ? [
              make("h3", {}, "How someone with practice does it"),
              make(
                "ul",
                {},
                w.expert.map((x) => make("li", {}, x)),
              ),
            ]
          : null,
      );
      why.hidden = !w.wants_reason;
    },
  };
}
