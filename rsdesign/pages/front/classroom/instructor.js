// The instructor's page: a class, the bank, papers, and marks. It opens on the instructor's machine only.

import { backPart } from "./back.js";
import { bankPart } from "./bank.js";
import { tablePart } from "./marks.js";
import { printPart } from "./print.js";
import { forgetClass } from "./store.js";
import { button, fill, folded, make, put, saveFile, section } from "../dom.js";

/**
 * @param {Say} say
 * @param {Model} model
 * @param {Blocks} now
 */
export function instructorParts(say, model, now) {
  const parts = [classPart(say), bankPart(say), printPart(say), backPart(say), tablePart(say, model)];
  // Straight to a part, past the long list of exercises.
  const jump = (/** @type {HTMLElement} */ head) => {
    head.tabIndex = -1;
    head.focus();
    head.scrollIntoView({ block: "start" });
  };
  const ways = make(
    "nav",
    { class: "rs-parts", "aria-label": "Parts of this page" },
    make(
      "ul",
      {},
      parts.map((p) =>
        make(
          "li",
          {},
          make("button", { type: "button", class: "rs-small", onclick: () => jump(p.head) }, p.head.textContent),
        ),
      ),
    ),
  );
  return {
    el: make(
      "div",
      {},
      ways,
      parts.map((p) => p.el),
    ),
    show(blocks) {
      parts.forEach((p) => p.show(blocks, now));
      if (blocks.reply && blocks.reply.file && !blocks.reply.paper) saveFile(blocks.reply);
    },
  };
}

/** @param {Say} say */
function classPart(say) {
  const { el, body, head } = section("class", "1 Your class");
  const count = make("input", {
    id: "rs-count",
    type: "text",
    inputmode: "numeric",
    value: "20",
    maxlength: 3,
    size: 4,
  });
  const file = make("input", { id: "rs-classfile", type: "file", accept: ".toml,text/plain" });
  file.addEventListener("change", () => {
    const f = file.files?.[0];
    if (f)
      f.text().then((text) => {
        say({ do: "load_class", text });
        file.value = "";
      });
  });
  const notice = make("p", { role: "status" }),
    codes = make("ul", { class: "rs-codes" }),
    shown = folded("All codes", codes);
  const keep = make(
    "div",
    { class: "rs-picks", hidden: true },
    button("Save the class as a file", () => say({ do: "save_class" })),
    button("Take the class off this browser", () => {
      if (confirm("Take the class off this browser? Without its file nothing can be marked.")) {
        forgetClass("instructor");
        say({ do: "forget" });
      }
    }),
  );
  const fresh = () => {
    if (notice.dataset.some !== "1" || confirm("Make another class? The one here stays only in its file."))
      say({ do: "make", count: count.value });
  };
  body.append(
    make(
      "form",
      {
        class: "rs-picks",
        onsubmit: (e) => {
          e.preventDefault();
          fresh();
        },
      },
      make("label", { for: "rs-count" }, "Learners"),
      count,
      make("button", { type: "submit", class: "rs-button" }, "Make a class of codes"),
    ),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-classfile" }, "Or open the file of a class"), file),
    notice,
    keep,
    shown,
  );
  return {
    el,
    head,
    show(blocks) {
      if (!("class" in blocks)) return;
      const c = blocks.class;
      notice.dataset.some = c ? "1" : "";
      put(
        notice,
        c
          ? `A class of ${c.count} codes is here (class ${c.mark}). ` +
              "Its file class.toml holds the key: keep it on this machine, and keep a copy."
          : "No class yet.",
      );
      keep.hidden = shown.hidden = !c;
      fill(codes, c ? c.codes.map((x) => make("li", {}, x)) : []);
    },
  };
}
