// The ribbon under a slider: where things are short, tight or enough over its whole range.

import { attr, fill, make, put } from "./dom.js";

const LETTER = 6.3; // pixels of a letter in the words under a ribbon
const MARGINS = 24; // pixels; a ribbon begins and ends where the middle of the thumb can stand

/** @param {string} id */
export function ribbonBand(id) {
  const band = make("div", { class: "rs-band" });
  const words = make("div", { class: "rs-bandwords" });
  const rule = make("span", { class: "rs-rule-at", hidden: true });
  const low = make("span"),
    high = make("span"),
    ruleWords = make("span", { class: "rs-rulewords", hidden: true });
  const ends = make("div", { class: "rs-ends" }, low, ruleWords, high);
  const says = make("span", { class: "rs-hush", id });
  const el = make("div", { class: "rs-ribbon" }, make("div", { "aria-hidden": "true" }, band, words, ends), says);
  let known = "";
  /**
   * @param {any} ribbon
   * @param {number} wide
   */
  function draw(ribbon, wide) {
    const inner = Math.max(80, wide - MARGINS);
    fill(
      band,
      ribbon.runs.map((run) =>
        make("span", { class: `rs-run rs-is-${run.state.replace(/\W/g, "-")}`, style: `flex:${run.to - run.from}` }),
      ),
      rule,
    );
    fill(
      words,
      ribbon.judged
        ? ribbon.runs
            .filter((run) => (run.to - run.from) * inner >= run.words.length * LETTER)
            .map((run) =>
              make(
                "span",
                { class: `rs-says-${run.state}`, style: `left:${50 * (run.from + run.to)}%` },
                run.words,
              ),
            )
        : null,
    );
    attr(rule, "hidden", ribbon.rule_at === null ? "" : null);
    attr(ruleWords, "hidden", ribbon.rule_at === null ? "" : null);
    if (ribbon.rule_at === null) return;
    rule.style.left = `${100 * ribbon.rule_at}%`;
    put(ruleWords, ribbon.rule);
    const half = (ribbon.rule.length * LETTER) / 2 / inner;
    ruleWords.style.left = `${100 * Math.min(1 - half, Math.max(half, ribbon.rule_at))}%`;
    const near = (at) => Math.abs(at - ribbon.rule_at) < half + 0.28;
    low.style.visibility = near(0) ? "hidden" : "";
    high.style.visibility = near(1) ? "hidden" : "";
  }
  return {
    el,
    /**
     * @param {any} about the choice
     */
    ends(about) {
      put(low, about.low);
      put(high, about.high);
    },
    /**
     * @param {any} ribbon
     * @param {number} wide
     */
    show(ribbon, wide) {
      const key = JSON.stringify(ribbon) + wide;
      if (key === known) return;
      known = key;
      el.classList.toggle("rs-unjudged", !ribbon || !ribbon.judged);
      if (ribbon) draw(ribbon, wide);
      put(says, ribbon && ribbon.judged ? `Over the range: ${ribbon.says}.` : "");
    },
  };
}
