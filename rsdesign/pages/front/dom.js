// Small helpers: make elements, fill them, keep what did not change.

/** @typedef {Node | string | number | null | undefined | false} Child nothing stands for a child that is left out */

/**
 * An element with its attributes and children; `onclick` and its like are heard, and what is empty is left out.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, any>} [about]
 * @param {...(Child | Child[])} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, about = {}, ...children) {
  const el = document.createElement(tag);
  for (const [key, value] of Object.entries(about)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) el.addEventListener(key.slice(2), value);
    else if (key === "markup")
      el.innerHTML = value; // drawings and formulas of the package only
    else el.setAttribute(key, value === true ? "" : value);
  }
  for (const child of children.flat()) {
    if (child !== null && child !== undefined && child !== false)
      el.append(child instanceof Node ? child : String(child));
  }
  return el;
}

/**
 * @param {Element} el
 * @param {...(Child | Child[])} children
 */
export function fill(el, ...children) {
  el.replaceChildren(.../** @type {(Node | string)[]} */ (children.flat().filter(Boolean)));
}

/**
 * @param {Element} el
 * @param {string} text
 */
export function put(el, text) {
  if (el.textContent !== text) el.textContent = text;
}

/**
 * @param {Element} el
 * @param {string} key
 * @param {string | number | boolean | null | undefined} value
 */
export function attr(el, key, value) {
  if (value === null || value === undefined || value === false) el.removeAttribute(key);
  else if (el.getAttribute(key) !== String(value)) el.setAttribute(key, String(value));
}

/**
 * A part of a page under its heading.
 * @param {string} name
 * @param {string} title
 * @param {"h1" | "h2" | "h3"} [level]
 */
export function section(name, title, level = "h2") {
  const body = make("div", { class: "rs-body" });
  const head = make(level, {}, title);
  const el = make("section", { class: `rs-${name}` }, head, body);
  return { el, body, head };
}

/**
 * @param {string} summary
 * @param {...(Child | Child[])} children
 */
export function folded(summary, ...children) {
  return make("details", {}, make("summary", {}, summary), ...children);
}

/**
 * @param {string} words
 * @param {(e: Event) => void} act
 * @param {Record<string, any>} [more]
 */
export const button = (words, act, more = {}) =>
  make("button", { type: "button", class: "rs-button", onclick: act, ...more }, words);

/**
 * The text of a file, or null where it is no text: another encoding would come as odd signs.
 * @param {File} file
 * @returns {Promise<string | null>}
 */
export async function textOf(file) {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    return null;
  }
}

/**
 * An element that the page has.
 * @param {string} id
 */
export const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/**
 * The part of a page around an element.
 * @param {HTMLElement} el
 */
export const partOf = (el) => /** @type {HTMLElement} */ (el.parentNode);

/**
 * A file that came from the program is saved by the browser.
 * @param {{ file: string, text?: string, base64?: string, type?: string }} reply
 */
export function saveFile(reply) {
  const bytes = reply.base64 ? Uint8Array.from(atob(reply.base64), (c) => c.charCodeAt(0)) : reply.text || "";
  const a = make("a", {
    href: URL.createObjectURL(new Blob([bytes], { type: reply.type || "text/plain" })),
    download: reply.file,
  });
  document.body.append(a);
  a.click();
  a.remove();
}

const REACHED = "a, button, input, select, summary, [tabindex]";

/** @param {HTMLElement} area */
const reached = (area) =>
  [.../** @type {NodeListOf<HTMLElement>} */ (area.querySelectorAll(REACHED))].filter((e) => e.getClientRects().length);

/**
 * Whoever works by keyboard must not lose their place when a part is drawn anew.
 * @param {HTMLElement} area
 * @param {() => void} draw
 */
export function keepingFocus(area, draw) {
  const at = area.contains(document.activeElement)
    ? reached(area).indexOf(/** @type {HTMLElement} */ (document.activeElement))
    : -1;
  draw();
  if (at < 0 || area.contains(document.activeElement)) return;
  const left = reached(area);
  const next = left[Math.min(at, left.length - 1)] || area; // where fewer are left, the nearest
  if (next === area) area.setAttribute("tabindex", "-1");
  next.focus({ preventScroll: true });
}

/** Whether the window is as narrow as a phone. */
export const onPhone = () => matchMedia("(max-width: 759px)").matches;

/**
 * A short section that stands open on a desk and folded on a phone.
 * @param {string} name
 * @param {string} title
 * @param {...(Child | Child[])} inside
 */
export function quiet(name, title, ...inside) {
  const open = !onPhone();
  return make(
    "section",
    { class: name },
    make("details", { class: "rs-paper rs-quiet", open }, make("summary", {}, title), ...inside),
  );
}

/**
 * What is folded for the screen stands open on paper, and as it was after.
 * @param {HTMLElement} root
 * @param {() => void} draw what draws those that wait until they are opened
 */
export function openOnPaper(root, draw) {
  /** @type {HTMLDetailsElement[]} */
  let opened = [];
  window.addEventListener("beforeprint", () => {
    opened = [.../** @type {NodeListOf<HTMLDetailsElement>} */ (root.querySelectorAll("details.rs-paper:not([open])"))];
    for (const fold of opened) fold.open = true;
    draw();
  });
  window.addEventListener("afterprint", () => {
    for (const fold of opened) fold.open = false;
  });
}
