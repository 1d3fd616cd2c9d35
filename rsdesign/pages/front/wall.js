// The wall: cards side by side, what differs, a chart of two results. Everything typed is text.

import { askRoom, base, watch } from "./asking.js";
import { byId, fill, folded, keepingFocus, make, put, section } from "./dom.js";
import { table } from "./table.js";

const place = byId("rs-room");
const notice = make("p", { role: "status", class: "rs-sentence rs-told" });
const note = make("p", { class: "rs-notice", hidden: true });
const units = make(
  "select",
  { id: "rs-units", onchange: () => show() },
  make("option", { value: "us" }, "US units"),
  make("option", { value: "metric" }, "Metric"),
);
const picks = ["x", "y"].map((k) => make("select", { id: `rs-pick-${k}`, onchange: () => show() }));
const cards = make("ul", { class: "rs-cards" });
const results = make("div"),
  choices = make("div"),
  drawing = make("div", { class: "rs-drawing" }),
  numbers = make("div");
const sentence = make("p", { class: "rs-sentence" });
const tools = make(
  "div",
  { class: "rs-toolbar", role: "group", "aria-label": "Instructor", hidden: true },
  make("a", { class: "rs-button", href: `${base}room` }, "Room settings"),
  make("a", { class: "rs-button", href: `${base}room/export.csv`, download: "wall.csv" }, "Save as CSV"),
  make("a", { class: "rs-button", href: `${base}room/export.json`, download: "wall.json" }, "Save as JSON"),
);
const chart = section("chart", "Two results of every design"),
  differ = section("differ", "What differs"),
  chosen = section("chosen", "Choices that differ");
chart.body.append(
  make(
    "div",
    { class: "rs-picks" },
    make("label", { for: "rs-pick-x" }, "Across"),
    picks[0],
    make("label", { for: "rs-pick-y" }, "Up"),
    picks[1],
  ),
  make("figure", {}, drawing, make("figcaption", {}, sentence, folded("Show the numbers", numbers))),
);
differ.body.append(results);
chosen.body.append(choices);
const message = make("p", { class: "rs-roommessage", role: "status", "aria-live": "polite" });
place.append(
  message,
  make("div", { class: "rs-toolbar" }, make("label", { for: "rs-units" }, "Units"), units),
  tools,
  notice,
  note,
  cards,
  chart.el,
  differ.el,
  chosen.el,
);

let first = true,
  asked = 0;

async function show() {
  const mine = (asked += 1);
  const query = new URLSearchParams(first ? {} : { u: units.value, x: picks[0].value, y: picks[1].value });
  const now = await askRoom(`room/wall.json?${query}`);
  if (mine !== asked) return;
  if (now.refused) {
    put(notice, now.refused);
    return;
  }
  if (first)
    picks.forEach((p) =>
      fill(
        p,
        now.picks.map((o) => make("option", { value: o.path }, o.label)),
      ),
    );
  first = false;
  units.value = now.system;
  picks.forEach((p, i) => {
    p.value = now.chosen[i];
  });
  const count = now.cards.length;
  put(
    notice,
    count
      ? `${count === 1 ? "One design is" : `${count} designs are`} on the wall.`
      : "No design is on the wall yet. A team posts its own from the page of the whole design.",
  );
  put(note, now.note);
  note.hidden = !now.note;
  tools.hidden = !now.instructor;
  keepingFocus(cards, () =>
    fill(
      cards,
      now.cards.map((c) =>
        make(
          "li",
          { class: "rs-wallcard" },
          make("h2", {}, `${c.number} · ${c.team}`),
          make("div", { class: "rs-drawing", markup: c.svg }),
          make(
            "dl",
            {},
            c.rows.flatMap(([k, v]) => [make("dt", {}, k), make("dd", {}, v)]),
          ),
        ),
      ),
    ),
  );
  chart.el.hidden = !count;
  drawing.innerHTML = now.chart.svg;
  put(sentence, now.chart.sentence);
  fill(numbers, table(now.chart.table, "The numbers of the chart"));
  differ.el.hidden = count < 2;
  fill(
    results,
    now.results.rows.length
      ? table(now.results, "Results that differ")
      : make("p", {}, "The designs give the same results."),
  );
  chosen.el.hidden = count < 2;
  fill(
    choices,
    now.choices.rows.length
      ? table(now.choices, "Choices that differ")
      : make("p", {}, "The designs make the same choices."),
    now.choices.left ? make("p", { class: "rs-source" }, `And ${now.choices.left} more choices.`) : null,
  );
  place.dataset.ready = now.version;
}

// The settings come when the line opens and whenever they change; the wall when it changed.
watch((m) => {
  if (m.room) {
    put(message, m.room.message);
    message.classList.toggle("rs-said", !!m.room.message);
  }
  if (m.wall) show();
});
show();
