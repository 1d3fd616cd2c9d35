// A drawing changed where it stands looks as one drawn whole, and what did not change is still the same element.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { freshView } from "./views.js";

const { changesOf, redraw } = await import("../../rsdesign/pages/front/redraw.js");

let place;
beforeEach(() => {
  ({ place } = freshView());
});

const sheet = (...things) => `<svg viewBox="0 0 9 9"><style>a{}</style>${things.join("")}</svg>`;
const link = (words, more = "") => `<a href="#fish"${more}><title>${words}</title><g><path d="M0 0"/></g></a>`;
const text = (x, words) => `<text x="${x}">${words}</text>`;
const SERIES = [
  sheet(link("Tank: enough"), text(1, "10 ft"), '<rect x="1"/>'),
  sheet(link("Tank: &quot;short&quot; &amp; low", ' tabindex="-1"'), text(2, "10 ft"), '<rect x="1" y="2"/>'),
  sheet(link("Tank: enough"), text(2, ""), text(3, "a &lt; b"), '<circle r="1"/>', '<rect x="1"/>'),
  sheet(link("Tank: enough"), '<rect x="4"/>'),
  sheet(link("Tank: enough"), '<rect x="4"/>') + sheet(text(1, "more")),
  sheet(link("Tank: enough"), text(1, "in"), '<rect x="5"/>') + sheet(text(1, "more")),
  sheet(link("Tank: enough"), text(1, "in"), '<rect x="5"/>') + sheet(text(1, "more"), text(2, "below")),
  "",
  sheet(text(1, "again")),
];

test("whatever one drawing becomes, it is as if drawn whole", () => {
  const whole = document.createElement("div");
  for (const before of SERIES)
    for (const after of SERIES) {
      place.replaceChildren();
      const el = document.createElement("div");
      place.append(el);
      redraw(el, before);
      redraw(el, after);
      whole.innerHTML = after;
      el.normalize();
      assert.ok(el.isEqualNode(whole), `${before}\n${el.innerHTML}\n${after}`);
    }
});

test("what stays keeps its element, and a mark of the page in the drawing stays", () => {
  redraw(place, SERIES[0]);
  const [svg, anchor, words] = ["svg", "a", "text"].map((name) => place.querySelector(name));
  anchor.setAttribute("data-page", "fish");
  const mark = document.createElementNS("http://www.w3.org/2000/svg", "line");
  mark.setAttribute("class", "rs-now");
  svg.append(mark);
  redraw(place, SERIES[1]);
  assert.equal(place.querySelector("text"), words);
  assert.equal(words.getAttribute("x"), "2");
  assert.equal(anchor.getAttribute("tabindex"), "-1");
  assert.equal(anchor.getAttribute("data-page"), "fish");
  assert.equal(anchor.querySelector("title").textContent, 'Tank: "short" & low');
  redraw(place, SERIES[2]);
  assert.equal(place.querySelector("a"), anchor);
  assert.equal(place.querySelector(".rs-now"), mark);
  assert.deepEqual(
    [...svg.children].map((el) => el.tagName),
    ["style", "a", "text", "text", "circle", "rect", "line"],
  );
});

test("only what changed is changed", () => {
  const changes = changesOf(SERIES[0], SERIES[1]);
  assert.equal(changes.swap, null);
  assert.deepEqual(changes.edits, [
    [2, { tabindex: "-1" }, null],
    [3, {}, 'Tank: "short" & low'],
    [6, { x: "2" }, null],
    [7, { y: "2" }, null],
  ]);
  assert.equal(changesOf(SERIES[0], SERIES[4]), null, "another sheet is drawn whole");
});

test("a place that something else was put into is drawn whole", () => {
  redraw(place, SERIES[0]);
  place.innerHTML = "<p>No drawing</p>";
  redraw(place, SERIES[1]);
  assert.equal(place.querySelectorAll("svg").length, 1);
  assert.equal(place.querySelector("p"), null);
});
