// What stands on a design page, and where.

import { checkList, pictureBlock, plankList } from "./blocks.js";
import { chartList, tradeoffBlock } from "./charts.js";
import { choiceList } from "./choices.js";
import { button, make, section } from "./dom.js";
import { fadedBlock } from "./faded.js";
import { figureList } from "./figures.js";
import { guessBlock } from "./guess.js";
import { remember } from "./memory.js";
import { ownBlocks } from "./own.js";
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
  const el = make(
    "div",
    { class: "rs-toolbar", role: "group", "aria-label": "Design" },
    undo,
    redo,
    resetAll,
    make("label", { for: "rs-units", class: "rs-hush" }, "Units"),
    units,
    depth,
    share.el,
    room && room.el,
  );
  return { el, undo, redo, resetAll, units, depth, share };
}

/**
 * Every part of a page, empty; what a follower may not change stands in a fieldset, which locks whatever is
 * in it.
 * @param {HTMLElement} root
 * @param {Say} say
 * @param {Model} model
 * @param {() => Frame} frame
 * @param {Room | null} room
 */
export function layOut(root, say, model, frame, room) {
  const tools = toolbar(say, frame, room);
  const strip = make("p", { class: "rs-strip" });
  const notice = make("p", { class: "rs-notice", role: "alert", hidden: true });
  const question = make("h1");
  const intro = make("div", { class: "rs-intro" });
  const words = make("div", { class: "rs-words" });
  const next = make("p", { class: "rs-next" });
  const parts = {
    guess: section("guess", "Your guess"),
    choices: section("choices", "Choices"),
    picture: section("picture", "Picture"),
    figures: section("figures", "Figures"),
    checks: section("checks", "Checks"),
    parts: section("parts", "Every part"),
    cautions: section("cautions", "Take care"),
    charts: section("charts", "Charts"),
    trade: section("tradeoff", "Trade-offs"),
    attempt: section("try", "Try this"),
  };
  const views = {
    guess: guessBlock(say),
    choices: choiceList(say),
    picture: pictureBlock(),
    figures: figureList(say),
    checks: checkList(),
    parts: plankList(),
    wayIn: ownBlocks(say),
    charts: chartList(model),
    trade: tradeoffBlock(model, say),
    own: ownBlocks(say),
    faded: fadedBlock(say, () => frame().page),
  };
  const locked = [views.choices.el, views.wayIn.el].map((el) => make("fieldset", { class: "rs-plain" }, el));
  parts.choices.body.append(locked[0]);
  parts.guess.body.replaceWith(views.guess.el);
  parts.trade.body.replaceWith(views.trade.el);
  parts.picture.body.append(views.picture.el);
  parts.figures.body.append(views.figures.el);
  parts.checks.body.append(views.checks.el);
  parts.parts.body.append(views.parts.el);
  parts.charts.body.append(views.charts.el);
  const own = make("div", { class: "rs-ownplace" }, room && room.wall, views.own.el);
  const columns = [
    parts.choices.el,
    make("div", { class: "rs-middle" }, parts.picture.el, own),
    make("div", { class: "rs-right" }, parts.figures.el, parts.checks.el),
  ];
  root.append(
    strip,
    ...(room ? [room.bar] : []),
    tools.el,
    notice,
    question,
    intro,
    locked[1],
    parts.guess.el,
    make("div", { class: "rs-cols" }, ...columns),
    words,
    views.faded.el,
    parts.charts.el,
    parts.trade.el,
    parts.parts.el,
    parts.cautions.el,
    parts.attempt.el,
    next,
  );
  return { root, tools, strip, notice, question, intro, words, next, parts, views, locked };
}
