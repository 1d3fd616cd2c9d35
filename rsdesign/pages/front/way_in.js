// Where to begin: the place, then what a person wants or has in one box, or an example that works.

import { entryOf } from "./boxes.js";
import { attr, button, fill, keepingFocus, make, put } from "./dom.js";

/** @typedef {{ value: string, label: string }} PlaceOption */
/**
 * @typedef {{
 *   place: { path: string, label: string, value: string, options: PlaceOption[], words: string },
 *   box: { label: string, text: string, wrong: string, example: string, or: string, units: string },
 *   demos: { name: string, title: string, words: string }[],
 *   answer: string,
 *   fix: { fish: string, words: string, button: string } | null,
 *   mend: { key: string, title: string, words: string } | null,
 * }} WayInNow
 */

/** @param {Say} say */
export function wayInBlock(say) {
  const place = make("select", { id: "rs-way-place" });
  const box = make("input", {
    id: "rs-way-in",
    type: "text",
    maxlength: 100,
    autocomplete: "off",
    "aria-describedby": "rs-way-in-wrong",
  });
  const path = { now: "" };
  const places = entryOf(place, say, (text) =>
    text === "" ? { do: "not_known", path: path.now } : { do: "set", path: path.now, text },
  );
  const typed = entryOf(box, say, (text, units) => ({ do: "way_in", text, units }));
  const placeLabel = make("label", { for: "rs-way-place" });
  const boxLabel = make("label", { for: "rs-way-in" });
  const wrong = make("p", { class: "rs-wrong", id: "rs-way-in-wrong", role: "alert", hidden: true });
  const demos = make("span", { class: "rs-demos" });
  const answer = make("p", { class: "rs-wayanswer", role: "status" });
  const more = make("p", { class: "rs-waymore" });
  let known = "";
  let shown = "";
  return {
    el: make(
      "div",
      { class: "rs-wayin" },
      make("div", { class: "rs-wayfield" }, placeLabel, place),
      make(
        "div",
        { class: "rs-wayfield rs-waytext" },
        boxLabel,
        make("span", { class: "rs-waybox" }, box, button("Plan it", () => typed.leave())),
      ),
      make("div", { class: "rs-wayfield" }, make("span", {}, "Or open an example"), demos),
      wrong,
      make("div", { class: "rs-wayend" }, answer, more),
    ),
    /** @param {WayInNow} now */
    show(now) {
      path.now = now.place.path;
      put(placeLabel, now.place.label);
      const options = JSON.stringify([now.place.options, now.place.value === ""]);
      if (options !== known) {
        known = options;
        const open = now.place.value ? [] : [make("option", { value: "" }, "Choose a place")];
        fill(place, open, now.place.options.map((o) => make("option", { value: o.value }, o.label)));
      }
      places.told(now.place.value);
      attr(place, "title", now.place.words || null);
      put(boxLabel, now.box.label);
      attr(box, "placeholder", `${now.box.example}, or ${now.box.or}`);
      attr(box, "aria-invalid", now.box.wrong ? "true" : null);
      typed.told(now.box.text, now.box.units);
      put(wrong, now.box.wrong);
      wrong.hidden = !now.box.wrong;
      const examples = JSON.stringify(now.demos);
      if (examples !== shown) {
        shown = examples;
        fill(
          demos,
          now.demos.map((d) => button(d.title, () => say({ do: "demo", name: d.name }), { title: d.words })),
        );
      }
      put(answer, now.place.words && !now.fix ? `${now.answer} ${now.place.words}` : now.answer);
      const { fix, mend } = now;
      const plan = () => say({ do: "set", path: "goal.fish", text: fix?.fish });
      keepingFocus(more, () =>
        fill(
          more,
          fix ? button(fix.button, plan, { title: fix.words }) : null,
          mend ? make("span", {}, make("strong", {}, `Mend first: ${mend.title}.`), ` ${mend.words}`) : null,
        ),
      );
    },
  };
}
