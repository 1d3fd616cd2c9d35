// A drawing made anew where it stands: only what changed of its markup is changed in the page.

/**
 * The place of an element among all of a drawing, the attributes that change (null takes one away), and its
 * first words where they change.
 * @typedef {[number, Record<string, string | null>, string | null]} Edit
 */
/**
 * Parts of a drawing that others take the place of: the first of them, how many, and the markup of the others.
 * @typedef {{ parent: number, from: number, count: number, markup: string }} Swap
 */

const TAG = /<[^<]*/g;
const NAME = /^<\/?[\w:-]+/;
const ATTRIBUTE = /([\w:-]+)="([^"]*)"/g;
/** @type {Record<string, string>} */
const SIGNS = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&quot;": '"', "&#39;": "'", "&#x27;": "'" };

/** @param {string} text */
const plain = (text) => text.replace(/&(?:amp|lt|gt|quot|#39|#x27);/g, (sign) => SIGNS[sign]);
/** @param {string} tag */
const head = (tag) => tag.slice(0, tag.indexOf(">") + 1);
/** @param {string} tag */
const tail = (tag) => tag.slice(tag.indexOf(">") + 1);

/**
 * The parts of a drawing: each opening or closing of a sheet, and each thing on a sheet, as their tags.
 * @param {string} svg
 */
function partsOf(svg) {
  /** @type {{ tags: string[], shape: string, opened: number }[]} */
  const parts = [];
  let depth = 0;
  let tags = [];
  let opened = 0;
  for (const tag of svg.match(TAG) || []) {
    tags.push(tag);
    if (tag[1] === "/") depth -= 1;
    else {
      opened += 1;
      if (!head(tag).endsWith("/>")) depth += 1;
    }
    if (depth > 1) continue;
    parts.push({ tags, shape: tags.map((t) => t.match(NAME)).join(), opened });
    tags = [];
    opened = 0;
  }
  return parts;
}

/** @param {string} tag */
const attributes = (tag) => Object.fromEntries([...head(tag).matchAll(ATTRIBUTE)].map((m) => [m[1], plain(m[2])]));

/**
 * What changes in the parts that stayed; null where that cannot be said tag by tag.
 * @param {ReturnType<typeof partsOf>} before
 * @param {ReturnType<typeof partsOf>} after
 * @param {number} first the place of their first element
 * @param {Edit[]} edits
 */
function compare(before, after, first, edits) {
  let at = first - 1;
  for (let i = 0; i < before.length; i++)
    for (let j = 0; j < before[i].tags.length; j++) {
      const [was, is] = [before[i].tags[j], after[i].tags[j]];
      const opens = is[1] !== "/";
      if (opens) at += 1;
      if (was === is) continue;
      const words = tail(was) === tail(is) ? null : plain(tail(is));
      if (words !== null && (!opens || head(is).endsWith("/>") || head(was).endsWith("/>"))) return false;
      const [old, now] = [attributes(was), attributes(is)];
      /** @type {Record<string, string | null>} */
      const changed = {};
      for (const name of Object.keys(old)) if (!(name in now)) changed[name] = null;
      for (const [name, value] of Object.entries(now)) if (old[name] !== value) changed[name] = value;
      edits.push([at, changed, words]);
    }
  return true;
}

/** @param {ReturnType<typeof partsOf>} parts */
const elementsIn = (parts) => parts.reduce((sum, part) => sum + part.opened, 0);

/**
 * How one drawing becomes another; null where it is quicker to draw it whole.
 * @param {ReturnType<typeof partsOf>} was
 * @param {ReturnType<typeof partsOf>} is
 * @returns {{ elements: number, edits: Edit[], swap: Swap | null } | null}
 */
function changesBetween(was, is) {
  const most = Math.min(was.length, is.length);
  let same = 0;
  while (same < most && was[same].shape === is[same].shape) same += 1;
  let last = 0;
  while (last < most - same && was[was.length - 1 - last].shape === is[is.length - 1 - last].shape) last += 1;
  const [gone, come] = [was.slice(same, was.length - last), is.slice(same, is.length - last)];
  // Only things on one sheet are swapped, and some that stand there stay.
  const sheets = was.slice(0, same).reduce((at, part, i) => (part.shape === "<svg" ? i : at), -1);
  if (gone.length > most / 2 || [...gone, ...come].some((part) => /svg(?:,|$)/.test(part.shape))) return null;
  if ((gone.length || come.length) && (sheets < 0 || was.slice(sheets + 1, same).some((p) => p.shape === "</svg")))
    return null;
  /** @type {Edit[]} */
  const edits = [];
  const kept = [was.slice(0, same), was.slice(was.length - last)];
  const from = elementsIn(kept[0]);
  const behind = from + elementsIn(gone);
  if (!compare(kept[0], is.slice(0, same), 0, edits)) return null;
  if (!compare(kept[1], is.slice(is.length - last), behind, edits)) return null;
  const swap = {
    parent: elementsIn(was.slice(0, sheets)),
    from: same - sheets - 1,
    count: gone.length,
    markup: come.map((part) => part.tags.join("")).join(""),
  };
  return { elements: behind + elementsIn(kept[1]), edits, swap: gone.length || come.length ? swap : null };
}

/**
 * @param {string} before
 * @param {string} after
 */
export const changesOf = (before, after) => changesBetween(partsOf(before), partsOf(after));

/** @type {WeakMap<Element, { svg: string, parts: ReturnType<typeof partsOf> | null }>} */
const drawn = new WeakMap();

/**
 * Shows a drawing in a place. What is marked `rs-now` was put there by the page and does not count.
 * @param {HTMLElement} place
 * @param {string} svg
 */
export function redraw(place, svg) {
  const before = drawn.get(place);
  if (before?.svg === svg && place.firstElementChild) return;
  const parts = before?.svg ? partsOf(svg) : null; // the first is drawn whole
  drawn.set(place, { svg, parts });
  const changes = before && parts ? changesBetween(before.parts || partsOf(before.svg), parts) : null;
  const all = changes ? [...place.querySelectorAll("*:not(.rs-now)")] : [];
  if (!changes || all.length !== changes.elements) {
    place.innerHTML = svg;
    return;
  }
  for (const [at, attributes, words] of changes.edits) {
    const el = all[at];
    for (const [name, value] of Object.entries(attributes))
      if (value === null) el.removeAttribute(name);
      else el.setAttribute(name, value);
    if (words === null) continue;
    if (el.firstChild?.nodeType === Node.TEXT_NODE) el.firstChild.nodeValue = words;
    else el.prepend(words);
  }
  if (changes.swap) swapThings(all[changes.swap.parent], changes.swap);
}

/**
 * @param {Element} sheet
 * @param {Swap} swap
 */
function swapThings(sheet, { from, count, markup }) {
  const things = [...sheet.children].filter((el) => !el.classList.contains("rs-now"));
  const come = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  come.innerHTML = markup;
  const next = things[from + count] || null;
  for (const el of things.slice(from, from + count)) el.remove();
  for (const el of [...come.childNodes]) sheet.insertBefore(el, next);
}
