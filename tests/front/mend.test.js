// Mend first: what is proposed, done and left, and where the focus goes.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { freshView } from "./views.js";

const { mendBlock, standing } = await import("../../rsdesign/pages/front/mend.js");

let said, say, place, put, named, press;
beforeEach(() => {
  ({ said, say, place, put, named, press } = freshView());
});

const WAY = { label: "Water depth: 4 ft, now 3 ft.", sentence: "Fill the tank deeper.", cost_year: "", cost_first: "",
              side: [], reddened: [], note: "" }; // prettier-ignore
const PROPOSED = {
  ...WAY, advice: [], cost_year: "It costs about $20 a year.", reddened: ["Total head"],
  options: [WAY, { ...WAY, label: "Tanks: 2, now 1." }],
}; // prettier-ignore
const row = (key, open = null) => ({ key, word: "short", state: "short", title: `T${key}`, words: "W.", open });
const checks = (rows, done = "") => ({ worst: rows, count: 9, failed: rows.length, tight: 0, done });

test("how the checks came out is one plain line", () => {
  assert.equal(standing({ count: 42, failed: 0, tight: 0 }), "Nothing to mend. All 42 checks hold.");
  assert.equal(standing({ count: 42, failed: 1, tight: 2 }), "Of 42 checks 1 fails, 2 are tight, 39 hold.");
  assert.equal(standing({ count: 4, failed: 2, tight: 1 }), "Of 4 checks 2 fail, 1 is tight, 1 holds.");
});

test("a proposal takes the focus, says its cost and what fails then, and is done or left", () => {
  const view = put(mendBlock(say), checks([row("a"), row("b")]));
  press("Mend it: Tb");
  assert.deepEqual(said.pop(), { do: "mend", check: "b" });
  put(view, checks([row("a"), row("b", PROPOSED)]));
  const proposal = place.querySelector(".rs-proposal");
  assert.equal(document.activeElement, proposal);
  assert.ok(proposal.closest("[aria-live=polite]"));
  assert.match(proposal.textContent, /It costs about \$20 a year\.Then this fails: Total head\./);
  press("Do this instead: Tanks");
  assert.deepEqual(said.pop(), { do: "cure", check: "b", index: 1 });
  press("Do this: Water depth");
  assert.deepEqual(said.pop(), { do: "cure", check: "b", index: 0 });
  put(view, checks([row("a")], "Done. Water depth: 4 ft, was 3 ft."));
  assert.equal(document.activeElement, place.querySelector(".rs-mended"));
  press("Undo");
  assert.deepEqual(said.pop(), { do: "undo" });
  put(view, checks([row("a"), row("b")]));
  assert.equal(place.querySelector(".rs-mended").hidden, true);
  assert.equal(document.activeElement, named("Mend it: Ta"));
});

test("not now gives the focus back to the button that asked", () => {
  const view = put(mendBlock(say), checks([row("a"), row("b", PROPOSED)]));
  press("Not now");
  assert.deepEqual(said.pop(), { do: "put_off" });
  put(view, checks([row("a"), row("b")]));
  assert.equal(document.activeElement, named("Mend it: Tb"));
});

test("what only a person can mend has nothing to do but close", () => {
  const advice = { ...WAY, sentence: "It is yours to do.", advice: ["Treat the water."], options: [] };
  put(mendBlock(say), checks([row("a", advice)]));
  assert.equal(named("Do this"), undefined);
  assert.ok(named("Close"));
  assert.match(place.textContent, /Treat the water\./);
});

test("what others change takes no focus from where a person is", (t) => {
  t.mock.method(Element.prototype, "getClientRects", () => [{}]); // nothing is laid out here
  const view = put(mendBlock(say), checks([row("a"), row("b")]));
  named("Mend it: Tb").focus();
  put(view, checks([row("b"), row("a")], "Done. Something."));
  assert.ok(document.activeElement.classList.contains("rs-mendit"));
});
