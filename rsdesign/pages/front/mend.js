// Mend first: the worst checks in words, and for one of them what mends it, what that costs and what else it does.

import { attr, button, fill, folded, keepingFocus, make, put } from "./dom.js";

/** @typedef {{ side: string[], reddened: string[], note: string }} MendEffects */
/** @typedef {MendEffects & { label: string, sentence: string, cost_year: string, cost_first: string }} MendWay */
/** @typedef {MendWay & { advice: string[], options: MendWay[] }} MendOpen */
/** @typedef {{ key: string, state: string, title: string, words: string, open: MendOpen | null }} MendRow */
/** @typedef {{ worst: MendRow[], count: number, failed: number, tight: number, done: string }} MendNow */

/**
 * How the checks came out, in one line.
 * @param {{ count: number, failed: number, tight: number }} now
 */
export function standing(now) {
  const hold = now.count - now.failed - now.tight;
  if (hold === now.count) return `Nothing to mend. All ${now.count} checks hold.`;
  const parts = [];
  if (now.failed) parts.push(now.failed === 1 ? "1 fails" : `${now.failed} fail`);
  if (now.tight) parts.push(now.tight === 1 ? "1 is tight" : `${now.tight} are tight`);
  parts.push(hold === 1 ? "1 holds" : `${hold} hold`);
  return `Of ${now.count} checks ${parts.join(", ")}.`;
}

/**
 * The facts of one way to mend: its cost, what else changes, what fails then.
 * @param {MendWay} way
 */
function mendFacts(way) {
  const facts = [way.cost_year, way.cost_first, ...way.side].filter(Boolean).map((w) => make("li", {}, w));
  if (way.reddened.length)
    facts.push(make("li", { class: "rs-then" }, make("strong", {}, `Then this fails: ${way.reddened.join("; ")}.`)));
  return [
    facts.length ? make("ul", {}, facts) : null,
    way.note ? make("p", { class: "rs-source" }, way.note) : null,
  ];
}

/**
 * @param {MendRow} row
 * @param {Say} say
 * @param {(place: string) => void} next where the focus belongs once the program has answered
 */
function proposalOf(row, say, next) {
  const open = /** @type {MendOpen} */ (row.open);
  const cure = (/** @type {number} */ index) => () => {
    next("done");
    say({ do: "cure", check: row.key, index });
  };
  const leave = () => {
    next(`row ${row.key}`);
    say({ do: "put_off" });
  };
  const others = open.options.slice(1).map((way, i) =>
    make(
      "li",
      {},
      make("p", {}, way.sentence),
      mendFacts(way),
      button("Do this instead", cure(i + 1), { "aria-label": `Do this instead: ${way.label}` }),
    ),
  );
  return make(
    "div",
    { class: "rs-proposal", role: "group", tabindex: "-1", "aria-label": `How to mend: ${row.title}` },
    make("p", { class: "rs-way" }, open.sentence),
    mendFacts(open),
    open.advice.map((w) => make("p", {}, w)),
    make(
      "div",
      { class: "rs-picks" },
      open.options.length ? button("Do this", cure(0), { "aria-label": `Do this: ${open.options[0].label}` }) : null,
      button(open.options.length ? "Not now" : "Close", leave),
    ),
    others.length
      ? folded(others.length === 1 ? "One other way" : `${others.length} other ways`, make("ul", {}, others))
      : null,
  );
}

/** @param {Say} say */
export function mendBlock(say) {
  const counted = make("p", { class: "rs-standing" });
  const list = make("ul", { class: "rs-mendlist", "aria-live": "polite" });
  const told = make("span");
  const undo = button("Undo", () => {
    wanted = "list";
    say({ do: "undo" });
  });
  const done = make("p", { class: "rs-mended", tabindex: "-1", hidden: true }, told, " ", undo);
  const status = make("div", { role: "status" }, done);
  const el = make("div", { class: "rs-mendfirst", tabindex: "-1" }, status, list, counted);
  let wanted = ""; // where the focus belongs once the program has answered
  const next = (/** @type {string} */ place) => {
    wanted = place;
  };

  /** @param {MendRow} row */
  const item = (row) => {
    const mend = () => {
      next(`open ${row.key}`);
      say({ do: "mend", check: row.key });
    };
    return make(
      "li",
      { class: `rs-mend rs-${row.state}`, "data-key": row.key },
      make("span", { class: "rs-mark", "aria-hidden": "true" }),
      make("span", { class: "rs-said" }, make("strong", {}, `${row.title}.`), ` ${row.words}`),
      row.open ? null : button("Mend it", mend, { class: "rs-mendit", "aria-label": `Mend it: ${row.title}` }),
      row.open ? proposalOf(row, say, next) : null,
    );
  };
  /** @param {MendNow} now */
  const goal = (now) => {
    const place = wanted;
    const rowOf = (/** @type {string} */ key) =>
      /** @type {HTMLElement[]} */ ([...list.children]).find((li) => li.dataset.key === key);
    if (place === "done") return now.done ? done : null;
    if (place === "list") return now.done ? null : (list.querySelector("button") ?? el);
    const row = rowOf(place.slice(place.indexOf(" ") + 1));
    if (place.startsWith("open ")) return row?.querySelector(".rs-proposal") ?? null;
    return place.startsWith("row ") ? (row?.querySelector(".rs-mendit") ?? null) : null;
  };
  return {
    el,
    /** @param {MendNow} now */
    show(now) {
      keepingFocus(list, () => fill(list, now.worst.map(item)));
      list.hidden = !now.worst.length;
      put(counted, standing(now));
      put(told, now.done);
      attr(done, "hidden", now.done ? null : "");
      const at = wanted ? goal(now) : null;
      if (!at) return;
      wanted = "";
      /** @type {HTMLElement} */ (at).focus({ preventScroll: true });
    },
  };
}
