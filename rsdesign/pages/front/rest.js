// What a page asks for once it is at rest: what stands beside the choices, and drawings for its width.

const REST = 16; // milliseconds without a move: a thumb that is drawn moves once a frame
const ONE_COLUMN = 760; // pixels; narrower pages stand in one column
const COARSE = 4; // pixels: a drawing is made for its place or a little less, so that no letter shrinks

/**
 * Ribbons, trade-off and ladder follow a move once nothing more is on its way.
 * @param {ReturnType<typeof import("./exchange.js").exchange>} line
 */
export function asideAsker(line) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let later;
  let asked = 0;
  const send = () => {
    if (line.waits()) later = setTimeout(send, REST);
    else asked = line.send({ do: "aside" });
  };
  return {
    /** @param {number} answered the message after whose answer it is asked, unless it was asked for itself */
    ask(answered) {
      if (answered === asked) return;
      clearTimeout(later);
      later = setTimeout(send, REST);
    },
  };
}

/**
 * How wide the drawing can be, and whether the page is as narrow as a phone.
 * @param {HTMLElement} see where the drawing stands
 */
export function widthOf(see) {
  let known = { width: 0, narrow: false };
  function measure() {
    const page = /** @type {HTMLElement} */ (see.closest(".rs"));
    const width = Math.floor(see.clientWidth / COARSE) * COARSE;
    known = { width, narrow: page.clientWidth < ONE_COLUMN };
    return known;
  }
  measure.changed = () => {
    const before = known,
      now = measure();
    return now.width && (now.width !== before.width || now.narrow !== before.narrow) ? now : null;
  };
  return measure;
}
