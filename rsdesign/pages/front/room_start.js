// What an instructor says to all, and what pages start from.

import { button, fill, make, put } from "./dom.js";
import { keepRefusal, refusedRoom } from "./team.js";

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
    if (frame() && now !== values && (values !== null || settings.units || some)) room.changed(settings);
    values = now;
    const f = frame();
    if (f && some) offer(f); // the frame itself may stay as it was
  }
  return { offer, set };
}
