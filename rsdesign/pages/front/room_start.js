// What an instructor says to all, and what pages start from.

import { button, fill, make, put } from "./dom.js";
import { keepRefusal, refusedRoom } from "./team.js";

const PATIENCE = 1200; // milliseconds that a page waits for what its room starts from

/**
 * @param {ReturnType<typeof import("./team_parts.js").roomBar>} bar
 * @param {Say} say
 * @param {() => Frame | undefined} frame
 * @param {Room} room
 */
export function roomStart(bar, say, frame, room) {
  /** @type {string | null} */
  let values = null; // what pages start from
  let path = "[]"; // the short path
  let heard = 0; // the number of the message to all
  let late = false; // whether the page started before the room told what pages start from

  /**
   * What is set while a design stands here changes it only when somebody says so.
   * @param {Frame} f
   */
  function offer(f) {
    if (!f.room_differs || room.following || refusedRoom() === values) return fill(bar.offer);
    if (bar.offer.firstChild) return;
    const refuse = () => {
      keepRefusal(values || "");
      fill(bar.offer);
    };
    fill(
      bar.offer,
      make("p", {}, "The instructor has set prices, site or weather for the room. This design has others."),
      button("Use the room's", () => say({ do: "use_room" })),
      button("Keep mine", refuse),
    );
  }
  /** @param {RoomSettings} settings */
  function set(settings) {
    if (settings.number !== heard) {
      heard = settings.number;
      put(bar.message, settings.message);
    }
    bar.message.classList.toggle("rs-said", !!settings.message);
    const walk = JSON.stringify(settings.path);
    if (walk !== path) {
      path = walk;
      room.path = settings.path;
      if (frame()) room.redraw();
    }
    const now = JSON.stringify([settings.values, settings.units]);
    const some = Object.keys(settings.values).length > 0;
    if (late && values === null) room.changed(settings, true);
    else if (frame() && now !== values && (values !== null || settings.units || some)) room.changed(settings);
    values = now;
    const f = frame();
    if (f && some) offer(f); // the frame itself may stay as it was
  }
  /**
   * Waited for a moment at most: a page never hangs on its room.
   * @param {Promise<RoomSettings | null>} first
   */
  async function inTime(first) {
    const settings = await Promise.race([first, new Promise((done) => setTimeout(done, PATIENCE, null))]);
    late = !settings;
    return settings;
  }
  return { offer, set, inTime };
}
