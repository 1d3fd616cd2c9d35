// A file of a log as lines of cells: text or a spreadsheet, read in this browser.

import { SheetError } from "./archive.js";
import { linesOf, markOf } from "./log_table.js";
import { isOldSpreadsheet, isSpreadsheet, linesOfSpreadsheet } from "./spreadsheet.js";

const LARGEST_LOG = 2_000_000; // bytes of a file

/**
 * @typedef {{ lines: string[][], mark: string, wrong: string, remark: string }} LogFile `wrong`: a sentence, or nothing
 * @param {File} file
 * @returns {Promise<LogFile>}
 */
export async function linesOfFile(file) {
  const none = { lines: [], mark: ",", remark: "" };
  if (file.size > LARGEST_LOG)
    return { ...none, wrong: "It is too large for a log of water tests; save the log alone." };
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    if (isOldSpreadsheet(bytes))
      return { ...none, wrong: "It is a spreadsheet of an old kind; save it as .xlsx or as CSV." };
    if (isSpreadsheet(bytes)) return { ...none, ...(await linesOfSpreadsheet(bytes)), wrong: "" };
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    const mark = markOf(text);
    return { ...none, lines: linesOf(text, mark), mark, wrong: "" };
  } catch (wrong) {
    const said = "It has to be a spreadsheet (.xlsx) or a text file in UTF-8, such as CSV.";
    return { ...none, wrong: wrong instanceof SheetError ? wrong.message : said };
  }
}
