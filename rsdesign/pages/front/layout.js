// What stands on a design page, and where: the stage first, then what explains it in calm sections.

import { checkFold } from "./blocks.js";
import { chartList, tradeoffBlock } from "./charts.js";
import { choiceList } from "./choices.js";
import { compareBlock } from "./compare.js";
import { courseBlock } from "./course.js";
import { make, openOnPaper, quiet, section } from "./dom.js";
import { fadedBlock } from "./faded.js";
import { figureList } from "./figures.js";
import { guessBlock } from "./guess.js";
import { headlineList } from "./headline.js";
import { ladderBlock } from "./ladder.js";
import { measureBlock } from "./measure.js";
import { mendBlock } from "./mend.js";
import { momentBlock } from "./moment.js";
import { ownBlocks } from "./own.js";
import { panelsBlock, pictureBlock, stillPicture } from "./picture.js";
import { studyBlock } from "./study.js";
import { toolbar } from "./toolbar.js";

/**
 * A section whose content is folded behind its title.
 * @param {string} name
 * @param {string} title
 * @param {...Node} inside
 */
function foldedSection(name, title, ...inside) {
  const head = make("summary", {}, title);
  const fold = make("details", { class: "rs-paper" }, head, ...inside);
  const el = make("section", { class: `rs-${name}` }, fold);
  return { el, fold, head };
}

/**
 * @param {string} name
 * @param {string} title
 * @param {HTMLElement} body
 */
const quietSection = (name, title, body) => ({ el: quiet(`rs-${name}`, title, body), body });

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
  const picture = pictureBlock(say, frame);
  const moment = momentBlock(say, picture.el);
  const views = {
    guess: guessBlock(say),
    headline: headlineList(),
    choices: choiceList(say, () => frame().full),
    picture,
    course: courseBlock(say, moment.below),
    moment,
    tradeoff: panelsBlock(),
    ladder: ladderBlock(),
    measure: measureBlock(say),
    study: studyBlock(say),
    mend: mendBlock(say),
    compare: compareBlock(say),
    checks: checkFold(),
    close: stillPicture(),
    figures: figureList(say),
    wayIn: ownBlocks(say),
    charts: chartList(model),
    explore: tradeoffBlock(model, say),
    own: ownBlocks(say),
    faded: fadedBlock(say, () => frame().page),
  };
  const summary = make("p", { class: "rs-strip", role: "status" });
  const notice = make("p", { class: "rs-notice", role: "alert", hidden: true });
  const question = make("h1");
  const lead = make("p", { class: "rs-lead" });
  const intro = make("div", { class: "rs-intro" });
  const year = make("div");
  const attempt = make("p");
  const next = make("p", { class: "rs-next" });
  const words = make("div", { class: "rs-words" });
  const parts = {
    choices: section("choices", "Choices"),
    tradeoff: section("tradeoff", "What you get, what you pay"),
    course: section("course", "Your plan"),
    ladder: section("ladder", "Fish each part can carry"),
    measure: section("measurefirst", "Measure this first"),
    study: { el: views.study.el },
    mend: section("mendfirst", "Mend first"),
    guess: quietSection("guess", "Your guess", views.guess.el),
    why: quietSection("why", "Why", intro),
    year: foldedSection("year", "What a year allows", year),
    cautions: section("cautions", "Take care"),
    more: foldedSection("morechoices", "More choices"),
    close: foldedSection("close", "A closer look", views.close.el),
    figures: foldedSection("figures", "All figures, and how we got them", views.figures.el),
    charts: foldedSection("charts", "Charts", views.charts.el),
    compare: foldedSection("compared", "Designs side by side", views.compare.el),
    explore: foldedSection("explore", "Other trade-offs", views.explore.el),
    attempt: quietSection("try", "Try this", attempt),
  };
  parts.charts.fold.addEventListener("toggle", () => showAll(parts.charts.fold));
  parts.explore.fold.addEventListener("toggle", () => showAll(parts.explore.fold));
  /** @param {HTMLDetailsElement} fold */
  function showAll(fold) {
    if (fold.open && !frame().full) say({ do: "depth", full: true });
  }
  const locked = [views.choices.first, views.choices.more, views.wayIn.el].map((el) =>
    make("fieldset", { class: "rs-plain" }, el),
  );
  parts.choices.head.className = "rs-hush";
  parts.choices.body.append(locked[0]);
  parts.course.el.hidden = true;
  parts.course.body.append(views.course.el);
  parts.tradeoff.body.append(views.tradeoff.el);
  parts.ladder.body.append(views.ladder.el);
  parts.measure.el.hidden = true;
  parts.measure.body.append(views.measure.el);
  parts.mend.body.append(views.mend.el, views.checks.el);
  parts.more.el.replaceChildren(locked[1]);
  const ask = make("div", { class: "rs-question" }, question, lead, tools.el);
  parts.study.el.hidden = true;
  const see = make("div", { class: "rs-see" }, views.headline.el, views.picture.el);
  const under = make("div", { class: "rs-under" }, views.moment.el, views.picture.plan, summary, views.picture.caption);
  const side = make(
    "div",
    { class: "rs-side" },
    parts.course.el,
    parts.measure.el,
    parts.tradeoff.el,
    parts.ladder.el,
    parts.mend.el,
  );
  const stage = make(
    "div",
    { class: "rs-stage" },
    see,
    parts.choices.el,
    parts.study.el,
    under,
    side,
  );
  const own = make("div", { class: "rs-ownplace" }, views.own.el);
  const calm = make(
    "div",
    { class: "rs-calm" },
    own,
    parts.year.el,
    parts.why.el,
    parts.guess.el,
    words,
    parts.cautions.el,
    parts.more.el,
    parts.figures.el,
    parts.close.el,
    parts.charts.el,
    parts.explore.el,
    parts.compare.el,
    views.faded.el,
    parts.attempt.el,
    room && room.wall,
  );
  root.append(...(room ? [room.bar] : []), ask, notice, locked[2], stage, calm, next);
  openOnPaper(root, views.checks.draw);
  const places = { root, see, under, side, own, calm };
  return { ...places, tools, summary, notice, question, lead, intro, year, words, next, parts, views, locked };
}
