// How many fish each part can carry: bars in one scale, the present number as one line through all of them.

import { fill, make, put } from "./dom.js";

/** @typedef {{ label: string, state: string, words: string }} SteadyPart */
/** @typedef {SteadyPart & { fish: string, reach: number, beyond: boolean }} LadderRung */
/**
 * @typedef {{
 *   sentence: string,
 *   rungs: LadderRung[],
 *   now: { label: string, reach: number },
 *   steady_title: string,
 *   steady: SteadyPart[],
 * }} LadderNow
 */

/** @param {number} share */
const percentOf = (share) => `${Math.round(10000 * share) / 100}%`;

export function ladderBlock() {
  const sentence = make("p", { class: "rs-ladderfirst", role: "status" });
  const list = make("ol", { class: "rs-ladder" });
  const line = make("p", { class: "rs-laddernow" }, make("span"));
  const title = make("p", { class: "rs-steadytitle" });
  const steady = make("ul", { class: "rs-steady" });
  /** @param {LadderRung} r */
  const rung = (r) =>
    make(
      "li",
      {},
      make("span", {}, r.label),
      make(
        "span",
        { class: "rs-ladderbar", "aria-hidden": "true" },
        make("span", {
          class: `rs-bar rs-${r.state}${r.beyond ? " rs-beyond" : ""}`,
          style: `width:${percentOf(r.reach)}`,
        }),
      ),
      make("span", { class: "rs-fish", "aria-hidden": "true" }, r.fish),
      make("span", { class: "rs-hush" }, r.words),
    );
  return {
    el: make("div", { class: "rs-ladderblock" }, sentence, list, line, title, steady),
    /** @param {LadderNow} now */
    show(now) {
      put(sentence, now.sentence);
      list.style.setProperty("--rs-now", percentOf(now.now.reach));
      line.style.setProperty("--rs-now", percentOf(now.now.reach));
      fill(list, now.rungs.map(rung));
      put(/** @type {Element} */ (line.firstElementChild), now.now.label);
      put(title, `${now.steady_title}:`);
      title.hidden = !now.steady.length;
      fill(
        steady,
        now.steady.map((p) =>
          make(
            "li",
            {},
            make("span", { class: `rs-bar rs-swatch rs-${p.state}`, "aria-hidden": "true" }),
            make("strong", {}, p.label),
            ` ${p.words}`,
          ),
        ),
      );
    },
  };
}
