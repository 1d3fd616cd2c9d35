// A drawing told by what changed of it is the drawing itself, and one that cannot be told is asked for whole.

import assert from "node:assert/strict";
import { test } from "node:test";

import "./page.js";

const { keptDrawings, withEdits } = await import("../../rsdesign/pages/front/drawings.js");
const { exchange } = await import("../../rsdesign/pages/front/exchange.js");

const FIRST = '<svg><path d="M0 0"/><text x="1">1 ft\u{1F41F}</text></svg>';
const NEXT = '<svg><path d="M0 9"/><text x="1">2 ft\u{1F41F}</text></svg>';
const edits = () => ({
  of: FIRST.length,
  edits: [
    [1, "M0 9"],
    [4, ">2 ft\u{1F41F}</text></svg>"],
  ],
});

test("pieces that changed are put into the drawing that they were found for, and into no other", () => {
  assert.equal(withEdits(FIRST, edits()), NEXT);
  assert.equal(withEdits(`${FIRST} `, edits()), null);
  assert.equal(withEdits(undefined, edits()), null);
});

test("a drawing is kept from message to message, by its block", () => {
  const complete = keptDrawings();
  const blocks = { picture: { svg: FIRST, plan: "" }, tradeoff: null, headline: [] };
  assert.ok(complete(blocks));
  const next = { picture: { svg: edits(), plan: "" } };
  assert.ok(complete(next));
  assert.equal(next.picture.svg, NEXT);
  const other = { tradeoff: { svg: edits() }, strip: [1] };
  assert.ok(!complete(other));
  assert.deepEqual(other, { strip: [1] });
});

test("a page that lacks the drawing before asks for all of it", () => {
  const sent = [];
  const line = exchange({ send: (content) => sent.push(content), on() {}, off() {} });
  line.answered(1, { picture: { svg: FIRST } });
  line.answered(2, { picture: { svg: edits() } });
  assert.deepEqual(sent, []);
  line.answered(3, { tradeoff: { svg: edits() } });
  assert.deepEqual(
    sent.map((s) => s.message),
    [{ do: "whole" }],
  );
});
