// A log of water tests as lines of cells: read from a file's text, written again, and without what is private.

const OPENS_QUOTED = /^\s*"/;

/**
 * The lines of a text, each with its cells; a cell in quotation marks may hold marks and line ends.
 * @param {string} text
 * @param {string} mark what stands between cells
 */
export function linesOf(text, mark) {
  const lines = /** @type {string[][]} */ ([]);
  let [cell, cells, inside] = ["", /** @type {string[]} */ ([]), false];
  const endCell = () => {
    cells.push(cell);
    cell = "";
  };
  const endLine = () => {
    endCell();
    lines.push(cells);
    cells = [];
  };
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at];
    if (inside && sign === '"' && text[at + 1] === '"') {
      cell += '"';
      at += 1;
    } else if (sign === '"' && (inside || !cell.trim())) inside = !inside;
    else if (inside) cell += sign;
    else if (sign === mark) endCell();
    else if (sign === "\n") endLine();
    else if (sign !== "\r") cell += sign;
  }
  if (cell || cells.length) endLine();
  return lines;
}

/**
 * What stands between the cells of a text: the sign that is found most often in its first lines.
 * @param {string} text
 */
export function markOf(text) {
  const head = text.split("\n").slice(0, 30).join("\n");
  const count = (/** @type {string} */ sign) => head.split(sign).length;
  return [",", ";", "\t"].reduce((best, sign) => (count(sign) > count(best) ? sign : best));
}

/**
 * Lines of cells as text.
 * @param {string[][]} lines
 * @param {string} mark
 */
export function textOfLines(lines, mark) {
  const said = (/** @type {string} */ cell) =>
    cell.includes(mark) || /["\n]/.test(cell) || OPENS_QUOTED.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
  return lines.map((cells) => cells.map(said).join(mark)).join("\n");
}

const plainWords = (/** @type {string} */ text) => text.trim().toLowerCase();

/**
 * The line that names the columns: the first with a date and another known word; -1 where there is none.
 * @param {string[][]} lines
 * @param {string[]} words
 */
export function headingAt(lines, words) {
  return lines.slice(0, 30).findIndex((cells) => {
    const known = cells.filter((cell) => isKnown(cell, words));
    return known.length > 1 && known.some((cell) => /^\s*(date|day|fecha)/i.test(cell));
  });
}

/**
 * Whether a heading begins with the word of a column that is read.
 * @param {string} heading
 * @param {string[]} words
 */
export function isKnown(heading, words) {
  const text = plainWords(heading);
  return words.some((word) => text.startsWith(word) && !/[\p{L}\p{N}_]/u.test(text[word.length] ?? ""));
}

/**
 * The log without notes and without columns that are not read; lines keep their numbers.
 * @param {string[][]} lines
 * @param {string[]} words how a heading that is read may begin
 */
export function withoutNotes(lines, words) {
  const head = headingAt(lines, words);
  if (head < 0) return lines.slice(0, 30).map((cells) => cells.map(() => ""));
  const known = lines[head].map((cell) => isKnown(cell, words));
  return lines.map((cells, at) =>
    at < head ? cells.map(() => "") : cells.map((cell, place) => (known[place] ? cell : "")),
  );
}
