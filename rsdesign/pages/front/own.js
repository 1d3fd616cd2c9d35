// The list of blocks that only one page has; each is drawn anew only where it changed.

import { typingIn } from "./boxes.js";
import { keepingFocus, make, quiet } from "./dom.js";
import { OWN } from "./own_kinds.js";

const LONG = ["candidates", "steps", "balance", "handout", "log_tuned"]; // folded behind their titles on a desk too
const OPEN = ["way_in", "answer", "log_entry", "log_findings", "buy"]; // open on a phone too

/** @param {Say} say */
export function ownBlocks(say) {
  const el = make("div");
  /** @type {string[]} */
  const known = [];
  /** @type {any[]} */
  let last = [];
  const draw = (list) => {
    list.forEach((b, i) => {
      const key = JSON.stringify(b);
      if (known[i] === key) return;
      if (el.children[i] && typingIn(el.children[i])) return; // drawn once the box is left
      const open = el.children[i] ? [...el.children[i].querySelectorAll("details")].map((d) => d.open) : [];
      const made = OPEN.includes(b.form)
        ? make("section", {}, make("h2", {}, b.title), ...OWN[b.form](b, say).flat())
        : quiet("", b.title, ...OWN[b.form](b, say).flat());
      made.className = `rs-own rs-own-${b.form}`;
      const fold = made.querySelector("details");
      if (fold && LONG.includes(b.form)) fold.open = false;
      const folds = [...made.querySelectorAll("details")];
      if (el.children[i]?.className === made.className && folds.length === open.length)
        folds.forEach((d, j) => {
          d.open = open[j];
        });
      if (el.children[i]) el.children[i].replaceWith(made);
      else el.append(made);
      known[i] = key;
    });
    while (el.children.length > list.length) el.lastElementChild?.remove();
    known.length = list.length;
  };
  const show = (list) => {
    last = list;
    keepingFocus(el, () => draw(list));
  };
  el.addEventListener("focusout", () =>
    setTimeout(() => {
      if (last.some((b, i) => known[i] !== JSON.stringify(b))) show(last);
    }),
  );
  return { el, show };
}
