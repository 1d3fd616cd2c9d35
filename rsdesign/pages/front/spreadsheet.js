// The first sheet of a spreadsheet file (.xlsx) as lines of cells, read in this browser.
// Layout: ECMA-376 part 1, 18.2 to 18.8.

import { archive, SheetError } from "./archive.js";

const MOST_LINES = 20_000;
const MOST_COLUMNS = 200;
const DAY = 86_400_000; // milliseconds

/** @param {Uint8Array} bytes */
export const isSpreadsheet = (bytes) => bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
/** @param {Uint8Array} bytes */
export const isOldSpreadsheet = (bytes) => bytes[0] === 0xd0 && bytes[1] === 0xcf && bytes[2] === 0x11;

/**
 * The first sheet of a spreadsheet, cells as they would be typed; lines keep their numbers.
 * @param {Uint8Array} bytes
 * @returns {Promise<{ lines: string[][], remark: string }>}
 */
export async function linesOfSpreadsheet(bytes) {
  try {
    return await read(bytes);
  } catch (wrong) {
    if (wrong instanceof SheetError) throw wrong;
    throw new SheetError("The spreadsheet cannot be opened; save it again as .xlsx or as CSV.");
  }
}

/** @param {Uint8Array} bytes */
async function read(bytes) {
  const open = archive(bytes);
  const book = await open("xl/workbook.xml");
  const sheets = all(book, "sheet");
  const id = sheets[0].getAttributeNS("http://schemas.openxmlformats.org/officeDocument/2006/relationships", "id");
  const links = all(await open("xl/_rels/workbook.xml.rels"), "Relationship");
  const target = links.find((link) => link.getAttribute("Id") === id)?.getAttribute("Target") ?? "";
  const sheet = await open(target.startsWith("/") ? target.slice(1) : `xl/${target}`);
  const from1904 = /^(1|true)$/.test(all(book, "workbookPr")[0]?.getAttribute("date1904") ?? "");
  const words = all(await open("xl/sharedStrings.xml", true), "si").map(textIn);
  const dates = dateStyles(await open("xl/styles.xml", true));
  const lines = linesOfSheet(sheet, (cell) => textOfCell(cell, words, dates, from1904));
  const many = `The spreadsheet has ${sheets.length} sheets; only the first is read.`;
  return { lines, remark: sheets.length > 1 ? many : "" };
}

/**
 * @param {Document | Element} within
 * @param {string} name
 */
const all = (within, name) => [...within.getElementsByTagNameNS("*", name)];

/**
 * The words of a cell, without what says how they are pronounced.
 * @param {Element} cell
 */
const textIn = (cell) =>
  all(cell, "t")
    .filter((part) => /** @type {Element} */ (part.parentNode).localName !== "rPh")
    .map((part) => part.textContent ?? "")
    .join("");

/**
 * For each style of a cell whether it shows a date or a time.
 * @param {Document} styles
 */
function dateStyles(styles) {
  const own = new Map(all(styles, "numFmt").map((f) => [f.getAttribute("numFmtId"), f.getAttribute("formatCode")]));
  const formats = all(styles, "cellXfs")[0];
  return (formats ? all(formats, "xf") : []).map((format) => {
    const id = format.getAttribute("numFmtId") ?? "0";
    const code = (own.get(id) ?? "").replace(/"[^"]*"|\[[^\]]*\]|\\./g, "");
    const known = [[14, 22], [27, 36], [45, 47], [50, 58]]; // prettier-ignore
    return own.has(id) ? /[dmyhs]/i.test(code) : known.some(([low, high]) => Number(id) >= low && Number(id) <= high);
  });
}

/**
 * @param {Element} cell
 * @param {string[]} words
 * @param {boolean[]} dates
 * @param {boolean} from1904
 */
function textOfCell(cell, words, dates, from1904) {
  const kind = cell.getAttribute("t") ?? "n";
  const value = all(cell, "v")[0]?.textContent ?? "";
  if (kind === "inlineStr") return textIn(cell).replace(/\r\n?/g, "\n");
  if (kind === "s") return named(words, value).replace(/\r\n?/g, "\n");
  if (kind === "b") return value === "1" ? "True" : "False";
  if (kind !== "n" || value === "") return value;
  const number = Number(value);
  const style = cell.getAttribute("s") ?? "0";
  if (style === "0" ? dates[0] : named(dates, style)) return dateOf(number, from1904);
  return String(Number(number.toPrecision(15)));
}

/**
 * One of a list by its number; a file that lacks it is damaged.
 * @template T
 * @param {T[]} list
 * @param {string} place
 */
function named(list, place) {
  const found = list[Number(place)];
  if (found === undefined) throw new Error(`no ${place}`);
  return found;
}

/**
 * A date, an hour, or both, of days since the start of 1900 (which is counted with a leap day) or of 1904.
 * @param {number} days
 * @param {boolean} from1904
 */
function dateOf(days, from1904) {
  const first = from1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, days >= 1 && days < 60 ? 31 : 30);
  const [day, hour] = new Date(first + Math.round(days * DAY)).toISOString().slice(0, 16).split("T");
  if (days >= 0 && days < 1) return hour;
  return hour === "00:00" ? day : `${day} ${hour}`;
}

/**
 * @param {Document} sheet
 * @param {(cell: Element) => string} textOf
 */
function linesOfSheet(sheet, textOf) {
  const lines = /** @type {string[][]} */ ([]);
  let at = 0;
  for (const row of all(sheet, "row")) {
    at = Number(row.getAttribute("r") ?? at + 1);
    let place = 0;
    for (const cell of all(row, "c")) {
      const letters = (cell.getAttribute("r") ?? "").replace(/[^A-Z]/g, "");
      if (letters) place = [...letters].reduce((n, letter) => 26 * n + letter.charCodeAt(0) - 64, 0) - 1;
      const text = place < MOST_COLUMNS ? textOf(cell) : "";
      if (text && at > MOST_LINES)
        throw new SheetError(`The spreadsheet has more than ${MOST_LINES} lines; part it by years.`);
      if (text) {
        while (lines.length < at) lines.push([]);
        lines[at - 1][place] = text;
      }
      place += 1;
    }
  }
  const width = Math.max(0, ...lines.map((line) => line.length));
  return lines.map((line) => Array.from({ length: width }, (_, k) => line[k] ?? ""));
}
