// A grip of the drawing: drawn with a pointer, or moved with the arrow keys.

const STEP = 0.0254; // meters: an inch at each press of a key
const LEAP = 0.3048; // meters: a foot with page up and page down

/**
 * @param {HTMLElement} place where drawings are put anew after each move
 * @param {Say} say
 */
export function dragIn(place, say) {
  /** @type {any} */
  let hold = null; // the pointer, the choice that it moves, and where both stood at first
  /** @param {Element} grip */
  const perPixel = (grip) => {
    const svg = /** @type {SVGSVGElement} */ (grip.closest("svg"));
    return (Number(grip.getAttribute("data-scale")) * svg.viewBox.baseVal.width) / Math.max(1, svg.clientWidth);
  };
  /** @param {EventTarget | null} target */
  const gripOf = (target) => /** @type {Element | null} */ (target)?.closest?.("[data-drag]") ?? null;
  /**
   * @param {string} path
   * @param {number} meters
   * @param {boolean} end
   */
  const tell = (path, meters, end) => say({ do: "drag", path, meters, ...(end ? { end } : {}) }, end ? "" : path);

  place.addEventListener("pointerdown", (e) => {
    const grip = gripOf(e.target);
    if (!grip || e.button !== 0 || !e.isPrimary || place.closest("fieldset:disabled")) return;
    e.preventDefault();
    const axis = grip.getAttribute("data-axis") || "x";
    hold = {
      id: e.pointerId,
      path: grip.getAttribute("data-drag") || "",
      axis,
      scale: perPixel(grip),
      start: axis === "y" ? e.clientY : e.clientX,
      from: Number(grip.getAttribute("data-value")),
      last: Number(grip.getAttribute("data-value")),
    };
    place.setPointerCapture(e.pointerId);
    /** @type {HTMLElement} */ (/** @type {unknown} */ (grip)).focus({ preventScroll: true });
  });
  place.addEventListener("pointermove", (e) => {
    if (!hold || e.pointerId !== hold.id) return;
    const moved = hold.axis === "y" ? hold.start - e.clientY : e.clientX - hold.start;
    hold.last = Math.max(0, hold.from + moved * hold.scale);
    tell(hold.path, hold.last, false);
  });
  for (const over of /** @type {const} */ (["pointerup", "pointercancel"]))
    place.addEventListener(over, (e) => {
      if (!hold || e.pointerId !== hold.id) return;
      tell(hold.path, hold.last, true);
      hold = null;
    });
  place.addEventListener("keydown", (e) => {
    const grip = gripOf(e.target);
    if (!grip) return;
    const by = { ArrowUp: STEP, ArrowRight: STEP, ArrowDown: -STEP, ArrowLeft: -STEP, PageUp: LEAP, PageDown: -LEAP }[
      e.key
    ];
    if (!by || place.closest("fieldset:disabled")) return;
    e.preventDefault();
    tell(grip.getAttribute("data-drag") || "", Math.max(0, Number(grip.getAttribute("data-value")) + by), true);
  });
  return {
    /** What has the focus inside the drawing, as a selector. */
    focused() {
      const at = document.activeElement;
      if (!at || !place.contains(at)) return "";
      const path = at.getAttribute("data-drag"),
        page = at.getAttribute("data-page");
      return path ? `[data-drag="${path}"]` : page ? `a[data-page="${page}"]` : "";
    },
    /** @param {string} selector */
    refocus(selector) {
      if (!selector) return;
      const found = /** @type {HTMLElement | null} */ (place.querySelector(selector));
      if (found) found.focus({ preventScroll: true });
    },
  };
}
