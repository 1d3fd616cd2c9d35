// A candidate of one's own among the parts that could be bought.

import { make } from "./dom.js";

// What is typed for a candidate of one's own is kept here while other parts of the page are drawn anew.
const typedCandidate = { part: "", count: 0, texts: {} };

/**
 * @param {any} b
 * @param {Say} say
 */
export function ownCandidate(b, say) {
  const keep = typedCandidate;
  if (keep.part !== b.part || b.own.length > keep.count) keep.texts = {};
  Object.assign(keep, { part: b.part, count: b.own.length });
  const field = ([name, words, must]) => {
    const id = `rs-own-${name}`;
    const box = make("input", {
      id,
      type: "text",
      autocomplete: "off",
      required: must,
      value: keep.texts[name] || null,
      inputmode: name === "name" ? null : "decimal",
      maxlength: 40,
      "aria-describedby": "rs-own-wrong",
      oninput: () => {
        keep.texts[name] = box.value;
      },
    });
    return make("div", { class: "rs-line" }, make("label", { for: id }, must ? words : `${words} (if any)`), box);
  };
  const form = make(
    "form",
    {
      novalidate: true,
      onsubmit: (e) => {
        e.preventDefault();
        say({ ...keep.texts, do: "add_candidate", part: b.part });
      },
    },
    b.asked.map(field),
    make("p", { class: "rs-wrong", id: "rs-own-wrong", role: "alert", hidden: !b.wrong }, b.wrong),
    make("button", { type: "submit", class: "rs-button" }, `Add to the ${b.part} list`),
  );
  return make(
    "div",
    { class: "rs-owncandidate" },
    make("h3", {}, "Add your own"),
    b.full ? make("p", {}, "No more fit for this part: take one away first.") : form,
    b.own.length
      ? make(
          "ul",
          { class: "rs-picks rs-plainlist" },
          b.own.map((name) =>
            make(
              "li",
              {},
              name,
              " ",
              make(
                "button",
                {
                  type: "button",
                  class: "rs-small",
                  "aria-label": `Take away ${name}`,
                  onclick: () => say({ do: "drop_candidate", part: b.part, name }),
                },
                "Take away",
              ),
            ),
          ),
        )
      : null,
  );
}
