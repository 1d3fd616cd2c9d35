// Kept designs, the ladder and the way in: what they show and what they say.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { freshView } from "./views.js";

const { compareBlock } = await import("../../rsdesign/pages/front/compare.js");
const { ladderBlock } = await import("../../rsdesign/pages/front/ladder.js");
const { wayInBlock } = await import("../../rsdesign/pages/front/way_in.js");

let said, say, place, put, named, press;
beforeEach(() => {
  ({ said, say, place, put, named, press } = freshView());
});

// --- designs side by side

const column = (name, index, wrong = "") => ({ name, index, svg: wrong ? "" : "<svg></svg>", wrong });

test("a design is kept under its name, by the button or by Enter, and opened or removed by its place", () => {
  const view = put(compareBlock(say), { columns: [column("This design", null)], rows: [], same: false, full: false });
  assert.equal(place.querySelector(".rs-kept").hidden, true);
  const box = place.querySelector("input");
  box.value = "small";
  press("Keep this one");
  box.value = "large";
  box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  assert.deepEqual(said, [{ do: "pin", name: "small" }, { do: "pin", name: "large" }]);
  assert.equal(box.value, "");
  const columns = [column("This design", null), column("small", 0, "It cannot be computed."), column("large", 1)];
  const rows = [{ label: "Fish", kind: "choice", cells: ["200", "", "400 (+100 %)"] }];
  put(view, { columns, rows, same: false, full: false });
  assert.equal(named("Open small"), undefined);
  assert.match(place.textContent, /It cannot be computed\./);
  press("Open large");
  press("Remove small");
  assert.deepEqual(said.slice(2), [{ do: "open_pin", index: 1 }, { do: "unpin", index: 0 }]);
  assert.equal(place.querySelector("tbody th").getAttribute("scope"), "row");
  assert.equal(place.querySelectorAll("thead th[scope=col]").length, 3);
});

test("where four are kept no fifth is asked for", () => {
  const columns = [column("This design", null), ...[0, 1, 2, 3].map((k) => column(`d${k}`, k))];
  put(compareBlock(say), { columns, rows: [], same: true, full: true });
  assert.equal(named("Keep this one").disabled, true);
  place.querySelector("input").dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  assert.deepEqual(said, []);
  assert.match(place.textContent, /Four are kept\..*the same in every choice/);
});

// --- the ladder

test("every bar is told in words, and the line stands at the present number", () => {
  const rung = { label: "Filter", fish: "207", state: "tight", reach: 0.5175, words: "carries 207 fish" };
  put(ladderBlock(), {
    sentence: "Filter gives out first.",
    rungs: [rung, { ...rung, label: "Water", fish: "3,596", reach: 1, beyond: true, state: "enough" }],
    now: { label: "now 200 fish", reach: 0.5 },
    steady_title: "Flow sets these, not the fish",
    steady: [{ label: "Drain", state: "short", words: "96 % of need, short" }],
  });
  const bars = [...place.querySelectorAll(".rs-ladder .rs-bar")];
  assert.deepEqual(
    bars.map((b) => [b.style.width, b.className]),
    [
      ["51.75%", "rs-bar rs-tight"],
      ["100%", "rs-bar rs-enough rs-beyond"],
    ],
  );
  assert.equal(place.querySelector(".rs-ladder").style.getPropertyValue("--rs-now"), "50%");
  assert.match(place.querySelector(".rs-ladder li").textContent, /Filter.*carries 207 fish/);
  assert.match(place.querySelector(".rs-steady li").textContent, /Drain 96 % of need, short/);
});

// --- the way in

const START = {
  place: { path: "climate.weather", label: "Your place", value: "low desert", words: "",
           options: [{ value: "low desert", label: "Low desert" }, { value: "warm coast", label: "Warm coast" }] },
  box: { label: "Fish a year", text: "", wrong: "", example: "150 lb a year", or: "6 ft by 3 ft", units: "us" },
  demos: [{ name: "family", title: "A family's tank", words: "One tank." }],
  answer: "200 fish give 189 lb.", fix: null, mend: { key: "k", title: "Drain", words: "96 % of need." },
}; // prettier-ignore

test("what is typed is said once, with its units, by Enter or by the button", () => {
  put(wayInBlock(say), START);
  const box = place.querySelector("input");
  for (const end of [() => press("Plan it"), () => box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }))]) {
    box.focus();
    box.value = "150 lb";
    box.dispatchEvent(new Event("input", { bubbles: true }));
    end();
    box.blur();
    assert.deepEqual(said.splice(0), [{ do: "way_in", text: "150 lb", units: "us" }]);
    say.answered(Infinity);
  }
});

test("a text that was refused stays in its box beside the reason; one that was taken is cleared", () => {
  const view = put(wayInBlock(say), START);
  const box = place.querySelector("input");
  box.value = "lots";
  box.dispatchEvent(new Event("input", { bubbles: true }));
  press("Plan it");
  put(view, { ...START, box: { ...START.box, text: "lots", wrong: "'lots' was not understood." } });
  say.answered(1);
  assert.equal(box.value, "lots");
  assert.equal(box.getAttribute("aria-invalid"), "true");
  assert.equal(document.getElementById(box.getAttribute("aria-describedby")).textContent, "'lots' was not understood.");
  box.value = "70 kg";
  box.dispatchEvent(new Event("input", { bubbles: true }));
  press("Plan it");
  put(view, START);
  say.answered(2);
  assert.equal(box.value, "");
  assert.equal(box.getAttribute("aria-invalid"), null);
});

test("a place, an example and what is offered instead say what they are", () => {
  const fix = { fish: "166", words: "166 fish give 150 lb.", button: "Plan for 166 fish" };
  put(wayInBlock(say), { ...START, fix });
  const pick = place.querySelector("select");
  assert.equal(pick.value, "low desert");
  pick.value = "warm coast";
  pick.dispatchEvent(new Event("change", { bubbles: true }));
  press("A family's tank");
  press("Plan for 166 fish");
  assert.deepEqual(said, [
    { do: "set", path: "climate.weather", text: "warm coast" },
    { do: "demo", name: "family" },
    { do: "set", path: "goal.fish", text: "166" },
  ]);
  assert.match(place.textContent, /Mend first: Drain\. 96 % of need\./);
});
