// A guess before the answer, kept beside it.

import { make, put } from "./dom.js";

/** @param {Say} say */
export function guessBlock(say) {
  const box = make("input", { id: "rs-guess", type: "text", inputmode: "decimal", autocomplete: "off" });
  const ask = make("label", { for: "rs-guess" });
  const unit = make("span", { class: "rs-unit" });
  const answer = make("p", { role: "status" });
  const typed = new Map(); // guesses that are not kept yet, each under what is asked
  box.addEventListener("input", () => typed.set(asked, box.value));
  let asked = "";
  const form = make(
    "form",
    {
      onsubmit: (e) => {
        e.preventDefault();
        say({ do: "guess", text: box.value });
      },
    },
    ask,
    make("span", { class: "rs-entry" }, box, unit),
    make("button", { type: "submit", class: "rs-button" }, "Keep my guess"),
  );
  const el = make("div", {}, form, answer);
  return {
    el,
    show(now) {
      /** @type {HTMLElement} */ (el.closest("section")).hidden = !now;
      if (!now) return;
      put(ask, now.ask);
      put(unit, now.unit);
      if (typed.get(now.ask) === now.typed) typed.delete(now.ask);
      const text = typed.has(now.ask) ? typed.get(now.ask) : now.typed;
      if (box.value !== text) box.value = text;
      asked = now.ask;
      put(
        answer,
        now.answer
          ? `You said ${now.typed} ${/[a-z°%]/i.test(now.typed) ? "" : now.unit}. We get ${now.answer}. ${now.words}`
          : now.words,
      );
    },
  };
}
