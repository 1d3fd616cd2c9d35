// Small helpers: make elements, fill them, keep what did not change.

function make(tag, about = {}, ...children) {
  const el = document.createElement(tag);
  for (const [key, value] of Object.entries(about)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) el.addEventListener(key.slice(2), value);
    else if (key === "markup") el.innerHTML = value; // drawings and formulas of the package only
    else el.setAttribute(key, value === true ? "" : value);
  }
  el.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return el;
}

function fill(el, ...children) {
  el.replaceChildren(...children.flat().filter(Boolean));
}

function put(el, text) {
  if (el.textContent !== text) el.textContent = text;
}

function attr(el, key, value) {
  if (value === null || value === undefined || value === false) el.removeAttribute(key);
  else if (el.getAttribute(key) !== String(value)) el.setAttribute(key, value);
}

function section(name, title, level = "h2") {
  const body = make("div", { class: "rs-body" });
  const head = make(level, {}, title);
  const el = make("section", { class: `rs-${name}` }, head, body);
  return { el, body, head };
}

function table(data, caption) {
  const row = (cells, tag, total) => make("tr", { class: total ? "rs-total" : null }, cells.map((c, i) =>
    make(i === 0 && tag === "td" ? "th" : c === "" ? "td" : tag, { scope: c === "" ? null : tag === "th" ? "col" : i === 0 ? "row" : null }, c instanceof Node ? c : String(c))));
  return make("div", { class: "rs-scroll", tabindex: "0", role: "group", "aria-label": caption },
    make("table", {}, make("caption", {}, caption),
      make("thead", {}, row(data.headings, "th")), make("tbody", {}, data.rows.map((r, i) => row(r, "td", data.totals && data.totals.includes(i))))));
}

// The table behind a picture: where it is folded away, it waits for the end of a drag.
function behind(fold, area, caption) {
  let now = null, later = 0;
  const draw = () => { clearTimeout(later); later = 0; keepingFocus(area, () => fill(area, table(now, caption))); };
  fold.addEventListener("toggle", () => later && draw());
  return (data) => {
    now = data;
    clearTimeout(later);
    if (fold.open || !area.children.length) draw(); else later = setTimeout(draw, 150);
  };
}

// The text of a file, or null where it is no text: another encoding would come as odd signs.
async function textOf(file) {
  try { return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer()); } catch { return null; }
}

function folded(summary, ...children) {
  return make("details", {}, make("summary", {}, summary), ...children);
}

// Whoever works by keyboard must not lose their place when a part is drawn anew.
const REACHED = "a, button, input, select, summary, [tabindex]";

function keepingFocus(area, draw) {
  const at = area.contains(document.activeElement) ? [...area.querySelectorAll(REACHED)].filter((e) => e.getClientRects().length).indexOf(document.activeElement) : -1;
  draw();
  if (at < 0 || area.contains(document.activeElement)) return;
  const left = [...area.querySelectorAll(REACHED)].filter((e) => e.getClientRects().length);
  const next = left[Math.min(at, left.length - 1)] || area; // where fewer are left, the nearest
  if (next === area) area.setAttribute("tabindex", "-1");
  next.focus({ preventScroll: true });
}
