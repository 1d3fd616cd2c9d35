// Boxes of text: what is typed is said or kept, whatever else happens on the page.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { fresh } from "./page.js";

const { entryOf, heldBox, sayer, typingIn } = await import("../../rsdesign/pages/front/boxes.js");
const { ownBlocks } = await import("../../rsdesign/pages/front/own.js");
const { make } = await import("../../rsdesign/pages/front/dom.js");

let said, say, place;
beforeEach(() => {
  fresh();
  said = [];
  say = sayer((message) => said.push(message));
  place = document.getElementById("place");
});

const key = (box, name) => box.dispatchEvent(new KeyboardEvent("keydown", { key: name, bubbles: true }));
function type(box, text) {
  box.focus();
  for (const letter of text) {
    box.value += letter;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }
}
function boxed(about = {}) {
  const box = make("input", { type: "text" });
  place.append(box);
  const entry = entryOf(box, say, (text, units) => ({ do: "set", path: "p", text, units }), about);
  entry.told("8", "us");
  box.value = "";
  return { box, entry };
}
const texts = () => said.map((m) => m.text);

test("each key of a fraction stays in the box and nothing is said before it is left", () => {
  const { box, entry } = boxed();
  type(box, "3 1/2");
  entry.told("8", "us"); // the answer to something else
  assert.equal(box.value, "3 1/2");
  assert.deepEqual(said, []);
  box.blur();
  assert.deepEqual(said, [{ do: "set", path: "p", text: "3 1/2", units: "us" }]);
});

test("Enter says the text; leaving the box after it says it no second time", () => {
  const { box } = boxed();
  type(box, "12");
  key(box, "Enter");
  box.dispatchEvent(new Event("change", { bubbles: true }));
  box.blur();
  assert.deepEqual(texts(), ["12"]);
});

test("Escape says nothing and takes nothing away", () => {
  const { box } = boxed();
  type(box, "12");
  key(box, "Escape");
  assert.equal(box.value, "12");
  assert.deepEqual(said, []);
  box.blur();
  assert.deepEqual(texts(), ["12"]);
});

test("the typed text stands until its own answer, then what the program holds", () => {
  const { box, entry } = boxed();
  type(box, "3 1/2");
  box.blur();
  entry.told("8", "us");
  assert.equal(box.value, "3 1/2");
  entry.told("3.5", "us");
  entry.answered(1);
  assert.equal(box.value, "3.5");
});

test("what is typed after a text was said is not written over by its answer", () => {
  const { box, entry } = boxed();
  type(box, "3");
  key(box, "Enter");
  type(box, "4");
  entry.told("3", "us");
  entry.answered(1);
  assert.equal(box.value, "34");
  box.blur();
  assert.deepEqual(texts(), ["3", "34"]);
});

test("units changed while a person typed: the text is said in the units it was typed in", () => {
  const { box, entry } = boxed();
  type(box, "3");
  entry.told("2.4", "metric");
  box.blur();
  assert.equal(said[0].units, "us");
});

test("a button says what is in the boxes first; what others cause does not", () => {
  const { box } = boxed();
  type(box, "3");
  say({ do: "follow", on: true });
  assert.deepEqual(
    said.map((m) => m.do),
    ["follow"],
  );
  say({ do: "undo" });
  assert.deepEqual(
    said.map((m) => m.do),
    ["follow", "set", "undo"],
  );
});

test("a box that is locked tells what it could not say", () => {
  const lost = [];
  const { box, entry } = boxed({ lost: (text) => lost.push(text), path: "p" });
  type(box, "3");
  entry.lock();
  assert.deepEqual(lost, ["3"]);
  assert.equal(box.value, "8");
});

test("what was not answered is kept for a page that is loaded anew, and said again there", () => {
  const { box } = boxed({ path: "p" });
  type(box, "3 1/2");
  assert.deepEqual(say.unanswered(), [{ path: "p", text: "3 1/2", units: "us" }]);
  say.entries.clear(); // a page that is loaded anew
  const next = boxed({ path: "p" });
  next.entry.again("3 1/2", "us");
  assert.deepEqual(texts(), ["3 1/2"]);
});

test("a block that is drawn anew takes its box in again, text and all", () => {
  const made = () => make("input", { type: "text", id: "b" });
  const message = (text) => ({ do: "answer", name: "b", text });
  const box = heldBox(say, "b", made, "5", message);
  place.replaceChildren(box);
  box.value = "";
  type(box, "7");
  place.replaceChildren(heldBox(say, "b", made, "5", message));
  assert.equal(place.firstChild, box);
  assert.equal(box.value, "7");
});

test("a block is not drawn anew under a person who types in it, but once the box is left", async () => {
  const block = (sentence) => ({
    form: "answer", title: "T", budget: "5", wrong: "", sentence, more: [], bars: [], buys: [], assumed: [],
  }); // prettier-ignore
  const own = ownBlocks(say);
  place.append(own.el);
  own.show([block("one")]);
  const box = place.querySelector("input");
  box.value = "";
  type(box, "90");
  assert.ok(typingIn(own.el));
  own.show([block("two")]);
  assert.equal(place.querySelector(".rs-answer").textContent, "one");
  assert.equal(place.querySelector("input").value, "90");
  assert.equal(document.activeElement, box);
  box.blur();
  await new Promise((done) => setTimeout(done, 5));
  assert.equal(place.querySelector(".rs-answer").textContent, "two");
  assert.equal(place.querySelector("input"), box);
  assert.equal(box.value, "90"); // said, and not answered yet
  assert.deepEqual(texts(), ["90"]);
});
