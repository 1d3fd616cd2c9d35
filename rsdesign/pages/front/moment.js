// The moment of a course that is looked at: a slider that plays, a mark in the charts, the tank then.

import { fill, make, put, quiet } from "./dom.js";
import { redraw } from "./redraw.js";

const SVG = "http://www.w3.org/2000/svg";
const BEAT = 120; // milliseconds from one moment to the next while it plays
const STEPS = 90; // moments in one play

/**
 * @param {Say} say
 * @param {HTMLElement} charts where the charts stand
 */
export function momentBlock(say, charts) {
  const below = make("div", { class: "rs-moment-below" });
  const words = make("output", { class: "rs-moment-words", for: "rs-moment" });
  const slider = make("input", { type: "range", id: "rs-moment", min: 0, step: 1, "aria-label": "Moment looked at" });
  const play = make("button", { type: "button", class: "rs-button" }, "Play");
  const tank = make("div", { class: "rs-drawing rs-moment-tank" });
  const numbers = make("dl", { class: "rs-moment-numbers" });
  const top = make("div", { class: "rs-line" }, play, slider, words, below);
  const row = make("div", { class: "rs-moment-row" }, tank, quiet("rs-moment-told", "In numbers", numbers));
  const el = make("div", { class: "rs-moment", hidden: true }, top, row);
  let now = /** @type {any} */ (null);
  let timer = 0;

  const at = () => Number(slider.value);
  /** @param {number} place */
  function look(place) {
    const to = Math.min(Math.max(Math.round(place), 0), now.last);
    slider.value = String(to);
    mark();
    say({ do: "moment", at: to / now.most }, "moment");
  }
  function stop() {
    clearInterval(timer);
    timer = 0;
    put(play, "Play");
  }
  function step() {
    if (!now || !el.isConnected || at() >= now.last) return stop();
    look(at() + Math.max(1, now.most / STEPS));
  }
  play.onclick = () => {
    if (timer) return stop();
    if (at() >= now.last) look(0);
    put(play, "Stop");
    timer = window.setInterval(step, BEAT);
  };
  slider.addEventListener("input", () => {
    stop();
    look(at());
  });
  charts.addEventListener("pointermove", (e) => {
    if (!now || e.pointerType === "touch") return;
    const svg = /** @type {SVGSVGElement | null} */ (/** @type {Element} */ (e.target).closest("svg"));
    const frame = svg && frameOf(svg);
    if (!frame || timer) return;
    const box = /** @type {SVGSVGElement} */ (svg).getBoundingClientRect();
    const x = ((e.clientX - box.left) / box.width) * /** @type {SVGSVGElement} */ (svg).viewBox.baseVal.width;
    const share = (x - frame[0]) / (frame[1] - frame[0]);
    if (share < 0 || share > 1 || Math.round(share * now.most) === at()) return;
    look(share * now.most);
  });
  /** A line through each chart at the moment. */
  function mark() {
    for (const svg of charts.querySelectorAll("svg")) {
      const frame = frameOf(svg);
      if (!frame) continue;
      let line = svg.querySelector(".rs-now");
      if (!line) {
        line = document.createElementNS(SVG, "line");
        line.setAttribute("class", "rs-now");
        svg.append(line);
      }
      const x = String(frame[0] + (frame[1] - frame[0]) * (at() / now.most));
      for (const [name, value] of [["x1", x], ["x2", x], ["y1", String(frame[2])], ["y2", String(frame[3])]])
        line.setAttribute(name, value);
    }
  }
  return {
    el,
    below,
    /** @param {any} told */
    show(told) {
      now = told;
      el.hidden = !told;
      if (!told) return stop();
      slider.max = String(told.most);
      // While it is drawn or plays, the thumb is ahead of the answer.
      if (!timer && document.activeElement !== slider) slider.value = String(told.at);
      slider.setAttribute("aria-valuetext", told.words);
      put(words, told.words);
      redraw(tank, told.svg);
      fill(
        numbers,
        told.rows.map((/** @type {[string, string]} */ [name, value]) =>
          make("div", {}, make("dt", {}, name), make("dd", {}, value)),
        ),
      );
      mark();
    },
  };
}

/**
 * Left, right, top and foot of a chart's frame, in the units of its sheet.
 * @param {Element} svg
 */
function frameOf(svg) {
  const told = svg.querySelector("[data-frame]")?.getAttribute("data-frame");
  return told ? told.split(" ").map(Number) : null;
}
