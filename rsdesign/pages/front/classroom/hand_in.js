// Keeping work and handing it in.

import { classStore, forgetClass } from "./store.js";
import { button, fill, make, put, saveFile } from "../dom.js";
import { signed } from "../network.js";

/**
 * Hand in to the room's own server (window.rsRoom is where it is); without one there is no button.
 * Gives one sentence. Before work goes in that holds less than what was handed in before, the room asks.
 * @param {string} text
 * @param {boolean} [sure]
 */
async function handInToRoom(text, sure = false) {
  try {
    const answer = await fetch(`${window.rsRoom}room/handin${sure ? "?sure=1" : ""}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", ...signed() },
      body: text,
    });
    const said = await answer.json().catch(() => ({}));
    if (answer.status === 409 && said.ask && !sure)
      return confirm(String(said.ask).slice(0, 500))
        ? handInToRoom(text, true)
        : "Not handed in. What was handed in before is still there.";
    const words = String(said.done || said.refused || "").slice(0, 300);
    if (answer.ok) return words || "Handed in. You may go on and hand in again: it counts together.";
    return words || "The room did not take it. Save your work as a file and give that to your instructor.";
  } catch {
    return "The room cannot be reached. Your work is kept here: try again, or save it as a file.";
  }
}

/**
 * @param {Say} say
 * @param {Blocks} now
 */
export function handParts(say, now) {
  const notice = make("p", { role: "status" }),
    short = make("textarea", { id: "rs-short", readonly: true, rows: 4 });
  const qr = make("div", { class: "rs-qr" });
  const shortPart = make(
    "div",
    { hidden: true },
    make("label", { for: "rs-short" }, "Short text: copy all of it, or show the code"),
    short,
    qr,
  );
  const file = make("input", { id: "rs-workfile", type: "file", accept: ".json,application/json" });
  file.addEventListener("change", () => {
    const f = file.files?.[0];
    if (f)
      f.text().then((text) => {
        say({ do: "load", text });
        file.value = "";
      });
  });
  const room = button("Hand in to the room", async () => {
    room.disabled = true;
    put(notice, await handInToRoom(now.keep.file));
    room.disabled = false;
  });
  const texts = button("Short text and QR code", () => say({ do: "hand_in" }));
  const forget = button("Forget my work here", () => {
    if (
      confirm(
        now.start.at_hand && now.set && now.set.hands_in
          ? "Take your work off this browser? Your attempts stay counted under your code."
          : "Take your work off this browser? Save it as a file first.",
      )
    ) {
      forgetClass("exercises");
      say({ do: "leave" });
    }
  });
  const old = button("Save older work as a file", () => {
    const kept = classStore().old;
    if (kept) saveFile({ file: `${kept.code}_${kept.set}_older.json`, text: kept.file });
  });
  const el = make(
    "section",
    { class: "rs-hand", hidden: true },
    make("h2", {}, "Keep and hand in"),
    make("p", { class: "rs-kept" }, "Your work is kept in this browser as you go. A file keeps it safe."),
    make(
      "div",
      { class: "rs-picks" },
      room,
      button("Save my work as a file", () => say({ do: "save" })),
      texts,
    ),
    notice,
    shortPart,
    make("div", { class: "rs-picks" }, make("label", { for: "rs-workfile" }, "Open my file "), file),
    make("div", { class: "rs-picks" }, forget, old),
  );
  return {
    el,
    at(s) {
      // Alone at home the only submission box is the learner's own: work put there would reach nobody.
      const alone = ["localhost", "127.0.0.1", "[::1]"].includes(location.hostname) && !now.start.at_hand;
      room.hidden = !window.rsRoom || !s.hands_in || alone;
      texts.hidden = !s.hands_in;
      old.hidden = !classStore().old;
    },
    take(reply) {
      shortPart.hidden = !reply.short;
      if (reply.file) {
        saveFile(reply);
        put(notice, `Saved as ${reply.file}. Hand in this file as it is.`);
      }
      if (reply.short) {
        short.value = reply.short;
        fill(
          qr,
          reply.qr ? make("div", { role: "img", "aria-label": "QR code of your work", markup: reply.qr }) : null,
        );
        put(notice, reply.words || "Here is your work as a short text and as a code to scan.");
        short.focus();
        short.select();
      }
    },
  };
}
