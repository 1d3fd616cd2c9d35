// The instructor's page: what the room starts from, a message to all, teams, the wall. Text stays text.

import { askRoom, base } from "./asking.js";
import { button, byId, fill, keepingFocus, make, put, section } from "./dom.js";
import { settingsForm } from "./settings_form.js";
import { sure } from "./sure.js";
import { table } from "./table.js";
import { filled, forget, given, typed } from "./unset.js";

const place = byId("rs-room");
const told = make("p", { role: "status", class: "rs-sentence rs-told" });
const wrong = make("p", { role: "alert", class: "rs-notice", hidden: true });
const body = make("div");
body.addEventListener("input", typed);
let now = null;
/** @param {any} found */
function say(found) {
  put(told, found.done || "");
  const words = found.refused || (found.wrong && "Nothing was changed: see the fields marked.") || "";
  put(wrong, words);
  wrong.hidden = !words;
  return !words;
}

/**
 * It is told once the form stands anew, so that nothing typed after the sentence is drawn over.
 * @param {any} found
 */
async function done(found) {
  if (!found.refused && !found.wrong) await show(false);
  say(found);
}

/** @param {object} asked */
async function act(asked) {
  await done(await askRoom("room/act", asked));
}

/** @param {boolean} [clean] */
async function show(clean = true) {
  const found = await askRoom(now ? `room/form.json?u=${now.system}` : "room/form.json");
  if (found.refused) {
    if (!now) fill(body, keyForm(found.refused));
    else say(found);
    return;
  }
  now = found;
  if (clean) say({});
  keepingFocus(body, () => fill(body, about(), message(), settingsForm(now, { say, act, done, show, wrong }), teams()));
  place.dataset.ready = "1";
}

/** @param {string} why */
function keyForm(why) {
  const box = make("input", { id: "rs-key", type: "text", autocomplete: "off", spellcheck: "false", maxlength: 40 });
  return make(
    "form",
    {
      onsubmit: async (e) => {
        e.preventDefault();
        if (say(await askRoom("room/key", { key: box.value }))) show();
      },
    },
    make("p", {}, why),
    make(
      "div",
      { class: "rs-picks" },
      make("label", { for: "rs-key" }, "Instructor's key"),
      box,
      make("button", { type: "submit", class: "rs-button" }, "I am the instructor"),
    ),
  );
}

const count = (n, what) => `${n} ${what}${n === 1 ? "" : "s"}`;

function about() {
  return make(
    "div",
    {},
    make(
      "p",
      {},
      `Open now: ${count(now.open_pages, "page")}, ${count(now.teams.length, "team")}, ` +
        `${count(now.posts.length, "design")} on the wall. ` +
        "All of it is kept in memory and gone when the server stops.",
    ),
    make(
      "div",
      { class: "rs-toolbar" },
      make("a", { class: "rs-button", href: `${base}wall` }, "Open the wall"),
      make("a", { class: "rs-button", href: `${base}room/export.csv`, download: "wall.csv" }, "Save the wall as CSV"),
      make(
        "a",
        { class: "rs-button", href: `${base}room/export.json`, download: "wall.json" },
        "Save the wall as JSON",
      ),
      sure("Clear the wall", () => act({ do: "clear" })),
    ),
    now.submissions
      ? make(
          "div",
          { class: "rs-toolbar" },
          make(
            "span",
            {},
            `${count(now.submissions, "file")} of work handed in. Take it on the page Instructor first.`,
          ),
          sure("Throw the work away", () => act({ do: "clear_submissions" })),
        )
      : null,
  );
}

function message() {
  const s = section("message", "A message to all");
  const box = filled(make("input", { id: "rs-say", type: "text", maxlength: 300 }), now.message);
  s.body.append(
    make(
      "form",
      {
        class: "rs-picks",
        onsubmit: (e) => {
          e.preventDefault();
          const text = box.value;
          given([box]);
          act({ do: "say", text });
        },
      },
      make("label", { for: "rs-say" }, "Message"),
      box,
      make("button", { type: "submit", class: "rs-button" }, "Show it on every page"),
      button("Take it away", () => {
        forget(box);
        act({ do: "say", text: "" });
      }),
    ),
  );
  return s.el;
}

function teams() {
  const s = section("teams", "Teams");
  s.body.append(
    now.teams.length
      ? table(
          {
            headings: ["Team", "Code", "Pages open", "Driver", "End"],
            rows: now.teams.map((t) => [
              t.name,
              t.code,
              t.members,
              t.driver ? "here" : "away",
              sure(`End team ${t.name}`, () => act({ do: "end_teams", team: t.name })),
            ]),
          },
          "Teams",
        )
      : make("p", {}, "No teams yet."),
    make(
      "div",
      { class: "rs-toolbar" },
      button("Look again", () => show()),
      sure("End teams nobody has open", () => act({ do: "end_teams" })),
    ),
  );
  if (now.posts.length)
    s.body.append(
      make(
        "ul",
        { class: "rs-plainlist" },
        now.posts.map((name) =>
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
                "aria-label": `Take ${name} from the wall`,
                onclick: () => act({ do: "clear", team: name }),
              },
              "Take from the wall",
            ),
          ),
        ),
      ),
    );
  return s.el;
}

place.append(wrong, told, body);
show();
