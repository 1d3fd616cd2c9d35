// Undo, and a menu of what is needed now and then: redo, reset, units, everything, share, team.

import { button, make } from "./dom.js";
import { remember } from "./memory.js";
import { shareBlock } from "./share.js";

/**
 * The tools for the whole design.
 * @param {Say} say
 * @param {() => Frame} frame
 * @param {Room | null} room
 */
export function toolbar(say, frame, room) {
  const undo = button("Undo", () => say({ do: "undo" }));
  const redo = button("Redo", () => say({ do: "redo" }));
  const resetAll = button("Reset all", () => say({ do: "reset_all" }));
  const units = make(
    "select",
    {
      id: "rs-units",
      onchange: () => {
        say({ do: "units", units: units.value });
        remember({ units: units.value });
      },
    },
    make("option", { value: "us" }, "US units"),
    make("option", { value: "metric" }, "Metric"),
  );
  const showMore = () => {
    say({ do: "depth", full: !frame().full });
    remember({ full: !frame().full });
  };
  const depth = button("Show everything", showMore, { "aria-pressed": "false" });
  const share = shareBlock(say);
  const more = make(
    "div",
    { class: "rs-menu" },
    make(
      "div",
      { class: "rs-picks" },
      redo,
      resetAll,
      depth,
      make("label", { for: "rs-units", class: "rs-hush" }, "Units"),
      units,
    ),
    share.el,
    room && room.el,
  );
  const menu = make("details", { class: "rs-moretools" }, make("summary", { class: "rs-button" }, "More"), more);
  menu.addEventListener("keydown", (e) => {
    if (e.key !== "Escape" || !menu.open) return;
    menu.open = false;
    menu.querySelector("summary")?.focus();
  });
  const el = make("div", { class: "rs-toolbar", role: "group", "aria-label": "Design" }, undo, menu);
  return { el, undo, redo, resetAll, units, depth, share, menu };
}
