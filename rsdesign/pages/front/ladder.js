// How many fish each part can carry, the weakest first, with the present number as one line through all bars.

import { fill, make, put } from "./dom.js";

export function ladderBlock() {
  const list = make("ul", { class: "rs-rungs" });
  const says = make("p", { class: "rs-note" });
  const steady = make("p", { class: "rs-note" });
  return {
    el: make("div", {}, list, says, steady),
    /** @param {any} now */
    show(now) {
      list.style.setProperty("--rs-now", `${100 * now.reach}%`);
      fill(
        list,
        now.rungs.map((r) =>
          make(
            "li",
            {},
            make("span", { class: "rs-rungname" }, r.label),
            make(
              "span",
              { class: "rs-rungbar", "aria-hidden": "true" },
              make("span", { class: `rs-is-${r.state}`, style: `width:${100 * r.reach}%` }),
            ),
            make("strong", { class: `rs-says-${r.state}` }, r.words),
          ),
        ),
      );
      put(says, now.says);
      put(steady, now.steady);
    },
  };
}
