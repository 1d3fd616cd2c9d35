// What waits for its answer, and what goes over the line: the state machine alone.

import assert from "node:assert/strict";
import { test } from "node:test";

import { MOST_KEPT, OUTBOX, outboxState } from "../../rsdesign/pages/front/outbox.js";

const message = (n, act = "set") => ({ n, message: { do: act } });
const numbers = (list) => list.map((content) => content.n);

function filled(count) {
  const s = outboxState();
  for (let n = 1; n <= count; n += 1) OUTBOX.keep(s, message(n));
  return s;
}

test("nothing goes before the line is open, then all in order", () => {
  const s = filled(3);
  assert.deepEqual(numbers(OUTBOX.next(s)), []);
  assert.deepEqual(numbers(OUTBOX.opened(s)), [1, 2, 3]);
  assert.deepEqual(numbers(OUTBOX.next(s)), []);
});

test("what is answered is kept no longer", () => {
  const s = filled(2);
  OUTBOX.opened(s);
  OUTBOX.heard(s, 1);
  assert.deepEqual([...s.kept.keys()], [2]);
  OUTBOX.heard(s, undefined); // figures that come before their answer
  assert.deepEqual([...s.kept.keys()], [2]);
});

test("twenty messages fly at once, and each answer lets the next one go", () => {
  const s = filled(25);
  assert.equal(OUTBOX.opened(s).length, 20);
  OUTBOX.heard(s, 1);
  assert.deepEqual(numbers(OUTBOX.next(s)), [21]);
  OUTBOX.heard(s, 4);
  assert.deepEqual(numbers(OUTBOX.next(s)), [22, 23, 24]);
});

test("after a lost line what is not answered is said again, once and in order", () => {
  const s = filled(3);
  OUTBOX.opened(s);
  OUTBOX.heard(s, 1);
  OUTBOX.closed(s);
  OUTBOX.keep(s, message(4));
  assert.deepEqual(numbers(OUTBOX.next(s)), []);
  const last = OUTBOX.swallowed(s);
  assert.equal(last.n, 3);
  assert.deepEqual(numbers(OUTBOX.opened(s, last)), [2, 3, 4]);
  assert.deepEqual(numbers(OUTBOX.next(s)), []);
});

test("where every answer came late the last message is said again: its blocks may be lost", () => {
  const s = filled(2);
  OUTBOX.opened(s);
  OUTBOX.closed(s);
  const last = OUTBOX.swallowed(s);
  OUTBOX.heard(s, 1);
  OUTBOX.heard(s, 2);
  assert.deepEqual(numbers(OUTBOX.opened(s, last)), [2]);
});

test("a message that no line took is not called swallowed", () => {
  const s = filled(2);
  assert.equal(OUTBOX.swallowed(s), undefined);
});

test("too many are refused, not dropped in silence", () => {
  const s = filled(MOST_KEPT);
  assert.equal(s.tooMany, false);
  assert.equal(OUTBOX.keep(s, message(MOST_KEPT + 1)), false);
  assert.equal(s.tooMany, true);
  assert.equal(s.kept.size, MOST_KEPT);
});

test("only what changes a design is called a change", () => {
  const s = outboxState();
  OUTBOX.keep(s, message(1, "page"));
  assert.equal(OUTBOX.changing(s), false);
  OUTBOX.keep(s, message(2, "slide"));
  assert.equal(OUTBOX.changing(s), true);
});

test("in any order of opening, closing, answering nothing is lost and a line never takes a number twice", () => {
  for (let seed = 1; seed <= 500; seed += 1) {
    let x = seed;
    const random = (below) => (x = (x * 48271) % 2147483647) % below;
    const s = outboxState();
    const done = new Set();
    let line = [];
    let n = 0;
    const open = () => {
      line = OUTBOX.opened(s);
    };
    const answer = () => {
      const content = line.shift();
      if (!content) return;
      done.add(content.n);
      OUTBOX.heard(s, content.n);
      line.push(...OUTBOX.next(s));
    };
    for (let step = 0; step < 60; step += 1) {
      const act = random(5);
      if (act < 2) {
        n += 1;
        OUTBOX.keep(s, message(n));
        line.push(...OUTBOX.next(s));
      } else if (act === 2) answer();
      else if (act === 3) {
        OUTBOX.closed(s);
        line = [];
      } else open();
      assert.deepEqual(
        numbers(line),
        [...new Set(numbers(line))].sort((a, b) => a - b),
        `seed ${seed}`,
      );
    }
    open();
    while (line.length) answer();
    assert.deepEqual(
      [...done].sort((a, b) => a - b),
      Array.from({ length: n }, (_, i) => i + 1),
      `seed ${seed}`,
    );
    assert.equal(s.kept.size, 0);
  }
});
