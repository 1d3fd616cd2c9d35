// Drawings of a page as they were sent last: of the next one only what changed is sent.

/** @typedef {{ of: number, edits: [number, string][] }} Edits how long the drawing was, and its pieces that changed */

const DRAWN = ["svg", "plan"];

/**
 * A drawing with its pieces that changed; null where it is not the one that they were found for.
 * @param {string | undefined} before
 * @param {Edits} edits
 */
export function withEdits(before, { of, edits }) {
  if (before === undefined || before.length !== of) return null;
  const pieces = before.split('"');
  for (const [place, piece] of edits) pieces[place] = piece;
  return pieces.join('"');
}

/** The drawings of a page by the names of their blocks. */
export function keptDrawings() {
  /** @type {Record<string, string>} */
  const kept = {};
  /**
   * Puts whole drawings into blocks; what cannot be drawn is taken out.
   * @param {Blocks} blocks
   * @returns {boolean} whether all could be drawn
   */
  return function complete(blocks) {
    let all = true;
    for (const [name, block] of Object.entries(blocks))
      for (const field of DRAWN) {
        const drawing = block?.[field];
        if (drawing === undefined || drawing === null) continue;
        const place = `${name}.${field}`;
        const whole = typeof drawing === "string" ? drawing : withEdits(kept[place], drawing);
        if (whole === null) {
          delete blocks[name];
          all = false;
          break;
        }
        kept[place] = block[field] = whole;
      }
    return all;
  };
}
