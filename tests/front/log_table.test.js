// The log as lines of cells: every cell comes back, and what is private is left out.

import assert from "node:assert/strict";
import { test } from "node:test";
import {
  headingAt,
  isKnown,
  linesOf,
  markOf,
  textOfLines,
  withoutNotes,
} from "../../rsdesign/pages/front/log_table.js";

const WORDS = ["date", "ph", "tan", "dissolved oxygen", "do"];
const TEXT = 'date,pH,"TAN, as N",note,neighbor\n2027-04-15,7.2,<0.25,"said ""hello"", twice\nand left",Ann\n';

test("cells in quotation marks come back as they were", () => {
  const lines = linesOf(TEXT, ",");
  assert.equal(lines.length, 2);
  assert.equal(lines[1][3], 'said "hello", twice\nand left');
  assert.deepEqual(linesOf(textOfLines(lines, ","), ","), lines);
});

test("the mark between cells is found", () => {
  assert.equal(markOf("date;pH\n2027-04-15;7,2"), ";");
  assert.equal(markOf("date\tpH"), "\t");
  assert.equal(markOf(TEXT), ",");
});

test("a heading is known by whole words", () => {
  assert.ok(isKnown("DO (mg/L)", WORDS));
  assert.ok(!isKnown("Donor", WORDS));
  assert.equal(headingAt(linesOf(TEXT, ","), WORDS), 0);
  assert.equal(headingAt([["a", "b"]], WORDS), -1);
});

test("notes and unknown columns do not leave the browser, and lines keep their numbers", () => {
  const sent = withoutNotes(linesOf(`kept by Ann\n${TEXT}`, ","), WORDS);
  const text = textOfLines(sent, ",");
  assert.ok(!/Ann|hello|neighbor/.test(text));
  assert.equal(sent.length, 3);
  assert.deepEqual(sent[2].slice(0, 3), ["2027-04-15", "7.2", "<0.25"]);
});

test("of a file without a heading nothing is sent", () => {
  assert.ok(!/[a-z]/.test(textOfLines(withoutNotes([["Ann", "fish"]], WORDS), ",")));
});
