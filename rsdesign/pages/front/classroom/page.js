// The pages of a class: the same messages as a design page, other parts.

import { attr, fill, make, put } from "../dom.js";
import { exchange, keepKeys } from "../exchange.js";
import { instructorParts } from "./instructor.js";
import { learnerParts } from "./learner.js";
import { classStore, keepClass } from "./store.js";
import { classWays } from "./ways.js";

/**
 * @param {{ model: Model, el: HTMLElement, page: string }} place
 * @returns {() => void} what takes the page away
 */
export function renderClass({ model, el, page }) {
  /** @type {Blocks} */
  const now = {};
  const root = make("div", { class: "rs rs-classroom" });
  const loseKeys = keepKeys(root);
  const line = exchange(model);
  window.rsKept = "Your work is kept in this browser.";
  const again = document.querySelector("#rs-lost button");
  if (again) put(again, "Start again where you were");
  const busy = make("p", { class: "rs-source rs-working", "aria-hidden": "true", hidden: true }, "working");
  setInterval(() => attr(busy, "hidden", line.busy() ? null : ""), 200);
  const notice = make("p", { class: "rs-notice", role: "alert", hidden: true });
  const question = make("h1");
  const intro = make("div", { class: "rs-intro" });
  const parts = (page === "exercises" ? learnerParts : instructorParts)(line.say, model, now);
  root.append(question, intro, notice, busy, parts.el);
  el.replaceChildren(root);

  /** @param {Frame} f */
  function showFrame(f) {
    root.dataset.page = f.page;
    put(question, f.question);
    fill(intro, ...f.words.map((w) => make("p", {}, w)));
    put(notice, f.notice);
    notice.hidden = !f.notice;
    if (f.notice) notice.scrollIntoView({ block: "nearest" });
    if (!window.rsServed) return;
    classWays(f);
    document.title = `${f.title} · rsdesign`;
  }
  /** @param {any} message */
  function hear(message) {
    if (!message.blocks) return;
    line.answered(message.ack);
    Object.assign(now, message.blocks);
    if (message.blocks.frame) showFrame(message.blocks.frame);
    if (message.blocks.keep) keepClass(page, now.keep);
    parts.show(message.blocks);
    root.dataset.ready = "1";
    document.body.dataset.ready = "1";
    if (message.ack === undefined) return;
    root.dataset.ack = message.ack;
    line.say.answered(message.ack);
  }
  model.on("msg:custom", hear);
  line.say({ do: "open", kept: classStore()[page] || null });
  return () => {
    model.off("msg:custom", hear);
    loseKeys();
  };
}
