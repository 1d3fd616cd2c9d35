// The form of what pages start from.

import { askRoom } from "./asking.js";
import { attr, make, put, section } from "./dom.js";
import { filled, forget, given, isUnset } from "./unset.js";

/**
 * @param {any} now what the room is set to
 * @param {{ say: (found: any) => boolean, act: (asked: object) => Promise<void>, done: (found: any) => Promise<void>,
 *   show: () => Promise<void>, wrong: HTMLElement }} acts
 */
export function settingsForm(now, { say, act, done, show, wrong }) {
  const s = section("settings", "What pages start from");
  const boxes = {},
    whys = {};
  const field = (f) => {
    const id = "rs-" + f.path.replace(/\W/g, "-"),
      why = make("p", { class: "rs-wrong", id: id + "-wrong", hidden: true });
    const box = f.options.length
      ? make(
          "select",
          { id, "aria-describedby": why.id },
          make("option", { value: "" }, "left to each design"),
          f.options.map((o) => make("option", { value: o }, o)),
        )
      : make("input", { id, type: "text", autocomplete: "off", "aria-describedby": why.id });
    filled(box, f.text);
    boxes[f.path] = box;
    whys[f.path] = why;
    return make(
      "div",
      { class: "rs-setting" },
      make("label", { for: id }, f.label),
      box,
      make("span", { class: "rs-unit" }, f.unit),
      make("span", { class: "rs-note" }, f.else),
      why,
    );
  };
  const system = make(
    "select",
    {
      id: "rs-system",
      onchange: () => {
        // A number that is typed and not set means its old unit.
        forget(system);
        if (Object.values(boxes).some((box) => isUnset(box))) {
          system.value = now.system;
          say({ refused: "Set the room first: what you typed is in the units shown." });
          return;
        }
        now.system = system.value;
        show();
      },
    },
    make("option", { value: "us" }, "US units"),
    make("option", { value: "metric" }, "Metric"),
  );
  system.value = now.system;
  const units = make(
    "select",
    { id: "rs-room-units" },
    make("option", { value: "" }, "left to each"),
    make("option", { value: "us" }, "US units"),
    make("option", { value: "metric" }, "Metric"),
  );
  filled(units, now.units);
  const pages = now.pages.map((p) => [p.name, make("input", { type: "checkbox", id: `rs-page-${p.name}` }), p]);
  pages.forEach(([, box, p]) => {
    box.checked = p.on;
  });
  const save = async (e) => {
    e.preventDefault();
    const found = await askRoom("room/act", {
      do: "set",
      system: now.system,
      units: units.value,
      path: pages.filter(([, b]) => b.checked).map(([n]) => n),
      texts: Object.fromEntries(Object.entries(boxes).map(([p, b]) => [p, b.value])),
    });
    const said = found.wrong || {};
    if (!found.wrong && !found.refused) given([units, ...Object.values(boxes)]);
    for (const [path, why] of Object.entries(whys)) {
      put(why, said[path] || "");
      why.hidden = !said[path];
      attr(boxes[path], "aria-invalid", said[path] ? "true" : null);
    }
    await done(found);
    if (found.wrong) {
      const first = Object.keys(said).find((p) => boxes[p]),
        rest = Object.entries(said)
          .filter(([p]) => !boxes[p])
          .map(([, w]) => w);
      if (rest.length) put(wrong, rest.join(" "));
      if (first) boxes[first].focus();
    }
  };
  const file = make("input", { id: "rs-prices", type: "file", accept: ".toml,text/plain" });
  file.addEventListener("change", () => {
    const f = file.files?.[0];
    if (f) f.text().then((text) => act({ do: "prices", text }));
  });
  s.body.append(
    make(
      "p",
      {},
      "A page that opens without a design of its own starts from these. An empty box is left to each design.",
    ),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-system" }, "Type numbers in"), system),
    make(
      "form",
      { novalidate: true, onsubmit: save },
      make("div", { class: "rs-picks" }, make("label", { for: "rs-room-units" }, "Pages open in"), units),
      make(
        "fieldset",
        {},
        make("legend", {}, "Pages of the short path (none means all)"),
        pages.map(([, box, p]) => make("label", { class: "rs-tick" }, box, p.title)),
      ),
      now.groups.map((g) => make("fieldset", {}, make("legend", {}, g.title), g.fields.map(field))),
      make("button", { type: "submit", class: "rs-button" }, "Set the room"),
    ),
    make("div", { class: "rs-picks" }, make("label", { for: "rs-prices" }, "Or take the prices of a file "), file),
  );
  return s.el;
}
