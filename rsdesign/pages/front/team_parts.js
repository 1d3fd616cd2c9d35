// What stands on a page for its team, the wall and the words of an instructor.

import { button, make } from "./dom.js";

/**
 * @param {string} id
 * @param {number} most
 */
const nameBox = (id, most) =>
  make("input", { id, type: "text", maxlength: most, autocomplete: "off", spellcheck: "false" });

/**
 * @param {() => void} act
 * @returns {(e: Event) => void}
 */
const submitted = (act) => (e) => {
  e.preventDefault();
  act();
};

/**
 * @param {Record<"drive" | "post" | "invite" | "leave", () => void> & { join: (about: TeamAsked) => void }} acts
 */
export function teamParts(acts) {
  const name = nameBox("rs-team-name", 30);
  const code = nameBox("rs-team-code", 7);
  const form = make(
    "form",
    { onsubmit: submitted(() => acts.join({ name: name.value, code: code.value })) },
    make("p", {}, "One of a team drives; the others follow the same design live. Whoever starts a team drives first."),
    make(
      "div",
      { class: "rs-picks" },
      make("label", { for: name.id }, "Team name (to start a team)"),
      name,
      make("label", { for: code.id }, "Team code (to join one)"),
      code,
      make("button", { type: "submit", class: "rs-button" }, "Join or start"),
    ),
  );
  const who = make("p");
  const qr = make("div", { class: "rs-qr" });
  const drive = button("I drive now", acts.drive);
  const tools = [
    drive,
    button("Post to the wall", acts.post),
    button("Show QR code for my team", acts.invite),
    button("Leave the team", acts.leave),
  ];
  const inTeam = make("div", { hidden: true }, who, make("div", { class: "rs-picks" }, tools), qr);
  const el = make(
    "details",
    { class: "rs-share rs-team", hidden: true },
    make("summary", {}, "Team"),
    make("div", { class: "rs-sharebody" }, form, inTeam),
  );
  return { el, form, inTeam, who, qr, drive };
}

/**
 * @param {string} base
 * @param {() => void} post
 * @param {(name: string) => void} join a team of this name, and post
 */
export function wallParts(base, post, join) {
  const name = nameBox("rs-wall-team", 30);
  const notice = make("p", { class: "rs-sentence" });
  const form = make(
    "form",
    { class: "rs-picks", onsubmit: submitted(() => join(name.value)) },
    make("label", { for: name.id }, "Team name"),
    name,
    make("button", { type: "submit", class: "rs-button" }, "Post to the wall"),
  );
  const again = button("Post to the wall", post);
  again.hidden = true; // until there is a team
  const body = make("details", { class: "rs-quiet" }, make("summary", {}, "Show it on the wall"));
  const el = make("section", { class: "rs-wallpost" }, body);
  body.append(
    make(
      "p",
      {},
      "Put this design beside those of the other teams. Everyone in the room can see it; post again to replace it.",
    ),
    form,
    again,
    make("p", {}, make("a", { href: `${base}wall`, target: "_blank", rel: "noopener" }, "Open the wall")),
    notice,
  );
  el.hidden = true;
  return { el, form, again, notice };
}

/** @param {() => void} drive */
export function roomBar(drive) {
  const message = make("p", { class: "rs-roommessage", role: "status", "aria-live": "polite" });
  const line = make("p", { class: "rs-teamline", role: "status" });
  const notice = make("p", { class: "rs-sentence", role: "status" });
  const offer = make("div", { class: "rs-picks rs-roomoffer", role: "status" });
  const lineDrive = button("I drive now", drive);
  lineDrive.hidden = true;
  const picks = make("div", { class: "rs-picks" }, line, lineDrive);
  const el = make("div", { class: "rs-roombar" }, message, picks, offer, notice);
  return { el, message, line, notice, offer, lineDrive };
}

/**
 * What a page says of its team.
 * @param {Team | null} team
 */
export function teamSentence(team) {
  if (!team) return "";
  if (team.driving) return `Team ${team.name}: you drive. ${followers(team)}`;
  return team.driver
    ? `Team ${team.name}: you follow the driver, so choices are locked. Press "I drive now" to change the design.`
    : `Team ${team.name}: nobody drives just now. Press "I drive now" to change the design.`;
}

/** @param {Team} team */
function followers(team) {
  if (team.members === 1) return `Code ${team.code}: nobody follows yet.`;
  return `Code ${team.code}: ${team.members - 1} follow${team.members === 2 ? "s" : ""}.`;
}

/**
 * The code by which a phone joins a team.
 * @param {Team} team
 * @param {string} markup the picture
 */
export const invitation = (team, markup) => [
  make("p", {}, `A phone in this room reads this to join team ${team.name}.`),
  make("div", { role: "img", "aria-label": `QR code to join team ${team.name}`, markup }),
];
