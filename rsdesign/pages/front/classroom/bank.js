// The bank of exercises: filtered, looked at in three variants, tried.

import { problemDesk } from "./desk.js";
import { problemWords } from "./problem.js";
import { button, fill, folded, make, put, section } from "../dom.js";

/** @param {Say} say */
export function bankPart(say) {
  const { el, body, head } = section("bank", "2 Look at the exercises");
  const pick = (id, words, first) => {
    const s = make("select", { id, onchange: ask }, make("option", { value: "" }, first));
    return { el: make("span", {}, make("label", { for: id }, words + " "), s), pick: s };
  };
  const { el: topicEl, pick: topic } = pick("rs-topic", "Topic", "all");
  const { el: formEl, pick: form } = pick("rs-form", "Form", "all");
  const { el: levelEl, pick: level } = pick("rs-level", "Level up to", "any");
  level.append(...[1, 2, 3].map((n) => make("option", { value: String(n) }, String(n))));
  const minutes = make("input", {
    id: "rs-minutes",
    type: "text",
    inputmode: "decimal",
    size: 4,
    maxlength: 4,
    onchange: ask,
  });
  const paper = make("input", { id: "rs-paper", type: "checkbox", onchange: ask });
  const notice = make("p", { role: "status" }),
    list = make("div", { class: "rs-scroll rs-tall", tabindex: "0", role: "group", "aria-label": "Exercises" });
  const desk = problemDesk(say, "rs-try"),
    variants = make("section", { class: "rs-variants", hidden: true, tabindex: "-1" });
  const close = button(
    "Put it away",
    () => {
      say({ do: "close" });
      notice.scrollIntoView({ block: "nearest" });
    },
    { hidden: true },
  );
  function ask() {
    say({
      do: "filter",
      topic: topic.value,
      form: form.value,
      level: level.value,
      minutes: minutes.value,
      paper: paper.checked,
    });
  }
  body.append(
    make(
      "div",
      { class: "rs-picks" },
      topicEl,
      formEl,
      levelEl,
      make("span", {}, make("label", { for: "rs-minutes" }, "Minutes up to "), minutes),
      make("span", { class: "rs-tick" }, paper, make("label", { for: "rs-paper" }, " on paper")),
    ),
    notice,
    list,
    desk.el,
    variants,
    close,
  );
  desk.el.hidden = true;
  let filled = false;
  const row = (x) =>
    make(
      "tr",
      {},
      make("th", { scope: "row" }, x.title),
      [x.topic, x.form, String(x.level), String(x.minutes), x.paper ? "yes" : "no"].map((w) => make("td", {}, w)),
      make(
        "td",
        {},
        make(
          "button",
          {
            type: "button",
            class: "rs-small",
            "aria-label": `Three variants of ${x.title}`,
            onclick: () => say({ do: "preview", name: x.name }),
          },
          "Three variants",
        ),
        " ",
        make(
          "button",
          {
            type: "button",
            class: "rs-small",
            "aria-label": `Try ${x.title}`,
            onclick: () => say({ do: "try", name: x.name }),
          },
          "Try it",
        ),
      ),
    );
  return {
    el,
    head,
    show(blocks, now) {
      if (blocks.bank) {
        const b = blocks.bank;
        if (!filled) {
          filled = true;
          topic.append(...b.topics.map((t) => make("option", { value: t.name }, t.title)));
          form.append(...b.forms.map((f) => make("option", { value: f }, f)));
        }
        put(notice, b.words);
        fill(
          list,
          make(
            "table",
            {},
            make("caption", {}, "Exercises"),
            make(
              "thead",
              {},
              make(
                "tr",
                {},
                ["Exercise", "Topic", "Form", "Level", "Minutes", "On paper", "Look"].map((w) =>
                  make("th", { scope: "col" }, w),
                ),
              ),
            ),
            make("tbody", {}, b.rows.map(row)),
          ),
        );
      }
      if ("preview" in blocks) {
        const v = blocks.preview;
        variants.hidden = !v;
        if (v) {
          fill(
            variants,
            make("h3", {}, v.title),
            make("p", {}, v.objective),
            make(
              "div",
              { class: "rs-three" },
              v.columns.map((c) =>
                make(
                  "div",
                  {},
                  make("h4", {}, `Code ${c.code}`),
                  problemWords(c.problem),
                  c.problem.asks.map((a) => (a.text ? make("p", {}, a.text) : null)),
                  make("p", {}, make("strong", {}, "Key: "), c.answers.map(([name, x]) => `${name} ${x}`).join("; ")),
                  folded(
                    "Hints",
                    make(
                      "ol",
                      {},
                      c.hints.map((h) => make("li", {}, h)),
                    ),
                  ),
                ),
              ),
            ),
            v.slips.length
              ? folded(
                  "Slips that are known, and their words",
                  make(
                    "ul",
                    {},
                    v.slips.map((s) => make("li", {}, make("strong", {}, `${s.name}: `), s.words)),
                  ),
                )
              : null,
          );
          variants.focus();
        }
      }
      if ("problem" in blocks || "work" in blocks) {
        desk.show(now.problem, now.work);
        if (blocks.problem) desk.head.focus();
      }
      close.hidden = !now.preview && !now.problem;
    },
  };
}
