// The line to a kernel: opened again, said again, and what a person is told.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { fresh, server, settled, sockets } from "./page.js";

const { kernelLink } = await import("../../rsdesign/pages/front/link.js");

const said = (socket) =>
  socket.sent.filter((m) => m.header.msg_type === "comm_msg").map((m) => m.content.data.content.n);
const answer = (n) => ({
  msg_type: "comm_msg",
  content: { comm_id: "c", data: { method: "custom", content: { ack: n } } },
});
const told = () => document.getElementById("rs-lost");
const newest = () => sockets[sockets.length - 1];

async function pass(milliseconds) {
  for (let left = milliseconds; left > 0; left -= 250) {
    mock.timers.tick(Math.min(250, left));
    await settled();
  }
}

let link;
beforeEach(() => {
  mock.timers.reset();
  mock.timers.enable({ apis: ["setTimeout", "setInterval", "Date"], now: 1000000 });
  fresh();
  link = kernelLink({ baseUrl: "/", kernelId: "k" }, "c");
});
const say = (n, act = "set") => link.send({ n, message: { do: act } });

test("messages wait for the line and go once, each in an envelope of its own", () => {
  say(1);
  say(2);
  assert.deepEqual(said(newest()), []);
  newest().open();
  assert.deepEqual(said(newest()), [1, 2]);
  const names = newest().sent.map((m) => m.header.msg_id);
  assert.equal(new Set(names).size, 2);
  assert.ok(newest().url.startsWith("ws://127.0.0.1:8866/api/kernels/k/channels"));
});

test("a lost line: what was not answered is said again once, the same numbers by the same page", async () => {
  newest().open();
  say(1);
  say(2);
  newest().hear(answer(1));
  const first = newest();
  first.close();
  say(3);
  await pass(2000);
  assert.equal(sockets.length, 2);
  newest().open();
  assert.deepEqual(said(newest()), []); // late answers have their time
  await pass(1500);
  assert.deepEqual(said(newest()), [2, 3]);
  const pages = [...first.sent, ...newest().sent].map((m) => m.content.data.content.page);
  assert.equal(new Set(pages).size, 1);
  newest().hear(answer(2));
  newest().hear(answer(3));
  await pass(3000);
  assert.deepEqual(said(newest()), [2, 3]);
});

test("an answer reaches the page, and one after it left reaches nobody", () => {
  const heard = [];
  const f = (content) => heard.push(content.ack);
  link.on("msg:custom", f);
  newest().open();
  say(1);
  newest().hear(answer(1));
  link.off("msg:custom", f);
  newest().hear(answer(2));
  assert.deepEqual(heard, [1]);
});

test("no answer from the server is said once the line is down, and taken back when it stands", async () => {
  newest().open();
  server.status = null;
  newest().close();
  await pass(6000);
  assert.equal(told().hidden, false);
  assert.match(told().textContent, /^Not connected\. Your design is kept\. We go on trying\.$/);
  server.status = 200;
  await pass(8000);
  newest().open();
  assert.equal(told().hidden, true);
});

test("a program that is gone is said, with the change that may be missing", async () => {
  newest().open();
  document.body.dataset.ready = "1";
  say(1, "set");
  server.status = 404;
  await pass(6000);
  assert.equal(told().hidden, false);
  assert.match(told().textContent, /lost its program.*Your last change may be missing/);
  say(2);
  assert.deepEqual(said(newest()), [1]);
});

test("a program that is gone where nothing was changed: no word of a missing change", async () => {
  newest().open();
  document.body.dataset.ready = "1";
  say(1, "page");
  newest().hear({ msg_type: "status", content: { execution_state: "dead" } });
  assert.match(told().textContent, /lost its program/);
  assert.doesNotMatch(told().textContent, /missing/);
});

test("a notice of the server is shown", () => {
  newest().open();
  newest().hear({ msg_type: "rsdesign_notice", content: { text: "That was too fast." } });
  assert.equal(told().textContent, "That was too fast.");
});

test("more than two hundred that wait are refused in a sentence that stays", async () => {
  for (let n = 1; n <= 201; n += 1) say(n);
  assert.match(told().textContent, /^More than 200 changes wait/);
  newest().open();
  assert.equal(told().hidden, false);
  assert.equal(said(newest()).length, 20);
});

test("a message that the server would refuse is not sent", () => {
  newest().open();
  link.send({ n: 1, message: { do: "load", text: "x".repeat(900001) } });
  assert.match(told().textContent, /too large/);
  assert.deepEqual(said(newest()), []);
});

test("lines that close again before they open are told of after the fourth", async () => {
  for (let i = 0; i < 4; i += 1) {
    newest().close();
    await pass(9000);
  }
  newest().close();
  await pass(5000);
  assert.match(told().textContent, /the line to it closes again/);
});
