// A file of a log: a spreadsheet gives the same cells as its text, and what is no log gets a sentence.

import assert from "node:assert/strict";
import { test } from "node:test";
import { crc32, deflateRawSync } from "node:zlib";
import { JSDOM } from "jsdom";

globalThis.DOMParser = new JSDOM().window.DOMParser;
const { linesOfFile } = await import("../../rsdesign/pages/front/log_file.js");

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const xml = (name, inside) => `<?xml version="1.0"?><${name} xmlns="${MAIN}" xmlns:r="${LINKS}">${inside}</${name}>`;
const SHEET = xml(
  "worksheet",
  `<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>time</t></is></c>
    <c r="C1" t="s"><v>1</v></c><c r="D1" t="s"><v>2</v></c></row>
   <row r="3"><c r="A3" s="1"><v>46492</v></c><c r="B3" s="2"><v>0.3125</v></c><c r="C3"><v>7.1999999999999993</v></c>
    <c r="D3" t="s"><v>3</v></c></row>
   <row r="4"><c r="A4" s="3"><v>46493.305555555555</v></c><c r="C4" t="str"><v>&lt;0.25</v></c></row>
   <row r="5"><c r="A5" s="1"/><c r="D5"/></row></sheetData>`,
);
const FILES = {
  "xl/workbook.xml": xml("workbook", `<sheets><sheet name="Log" sheetId="1" r:id="rId7"/></sheets>`),
  "xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId7" Target="worksheets/log.xml"/></Relationships>`,
  "xl/worksheets/log.xml": SHEET,
  "xl/sharedStrings.xml": xml(
    "sst",
    `<si><t>date</t></si><si><r><t>p</t></r><r><t>H</t></r><rPh><t>no</t></rPh></si><si><t>note</t></si>
     <si><t>Ann's,\r\nsecond</t></si>`,
  ),
  "xl/styles.xml": xml(
    "styleSheet",
    `<numFmts><numFmt numFmtId="170" formatCode="yyyy\\-mm\\-dd hh:mm"/>
      <numFmt numFmtId="171" formatCode="0.0&quot;d&quot;"/></numFmts>
     <cellXfs>${["0", "14", "20", "170", "171"].map((id) => `<xf numFmtId="${id}"/>`).join("")}</cellXfs>`,
  ),
};

/** A ZIP archive. */
function zip(files, packed = true) {
  const pieces = [];
  const list = [];
  let at = 0;
  for (const [name, text] of Object.entries(files)) {
    const plain = Buffer.from(text);
    const data = packed ? deflateRawSync(plain) : plain;
    const entry = Buffer.alloc(46);
    entry.writeUInt32LE(0x02014b50, 0);
    entry.writeUInt16LE(packed ? 8 : 0, 10);
    entry.writeUInt32LE(crc32(plain), 16);
    entry.writeUInt32LE(data.length, 20);
    entry.writeUInt32LE(plain.length, 24);
    entry.writeUInt16LE(name.length, 28);
    entry.writeUInt32LE(at, 42);
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(name.length, 26);
    pieces.push(local, Buffer.from(name), data);
    list.push(entry, Buffer.from(name));
    at += 30 + name.length + data.length;
  }
  const size = list.reduce((n, piece) => n + piece.length, 0);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(Object.keys(files).length, 10);
  end.writeUInt32LE(size, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...pieces, ...list, end]);
}
const opened = (content, name = "log.xlsx") => linesOfFile(new File([content], name));
const WANTED = [
  ["date", "time", "pH", "note"],
  ["", "", "", ""],
  ["2027-04-15", "07:30", "7.2", "Ann's,\nsecond"],
  ["2027-04-16 07:20", "", "<0.25", ""],
];

test("cells of a spreadsheet are those that would be typed, in their lines", async () => {
  for (const packed of [true, false]) {
    const { lines, wrong, mark, remark } = await opened(zip(FILES, packed));
    assert.equal(wrong, "");
    assert.equal(mark, ",");
    assert.equal(remark, "");
    assert.deepEqual(lines, WANTED);
  }
});

test("of many sheets only the first is read, and it is said", async () => {
  const sheets = `<sheets><sheet name="b" r:id="rId7"/><sheet name="a" r:id="rId1"/></sheets>`;
  const { lines, remark } = await opened(zip({ ...FILES, "xl/workbook.xml": xml("workbook", sheets) }));
  assert.deepEqual(lines, WANTED);
  assert.match(remark, /2 sheets/);
});

test("days may be counted from 1904, and a number with a d in its words is no date", async () => {
  const book = `<workbookPr date1904="1"/><sheets><sheet name="b" r:id="rId7"/></sheets>`;
  const cells = `<sheetData><row><c s="1"><v>45030</v></c><c s="4"><v>12.5</v></c></row></sheetData>`;
  const from1904 = { "xl/workbook.xml": xml("workbook", book), "xl/worksheets/log.xml": xml("worksheet", cells) };
  assert.deepEqual((await opened(zip({ ...FILES, ...from1904 }))).lines, [["2027-04-15", "12.5"]]);
});

test("what cannot be read is a sentence, never an error", async () => {
  const whole = zip(FILES);
  const some = [whole.subarray(0, 400), whole.subarray(0, whole.length - 30), Buffer.from("PK\x03\x04 none")];
  const less = Object.fromEntries(Object.entries(FILES).filter(([name]) => name !== "xl/workbook.xml"));
  some.push(zip(less), zip({ ...FILES, "xl/worksheets/log.xml": "<worksheet><row></worksheet>" }));
  some.push(Buffer.from([0xd0, 0xcf, 0x11, 0xe0]), Buffer.from([0xff, 0xfe, 0x41]), Buffer.alloc(2_000_001));
  const far = `<sheetData><row r="900000"><c t="str"><v>x</v></c></row></sheetData>`;
  some.push(zip({ ...FILES, "xl/worksheets/log.xml": xml("worksheet", far) }));
  for (let at = 5; at < whole.length; at += 41) {
    const spoiled = Buffer.from(whole);
    spoiled[at] ^= 0x55;
    const { lines, wrong } = await opened(spoiled);
    if (wrong) assert.match(wrong, /\.$/);
    else assert.deepEqual(lines, WANTED); // what was hurt is not read
  }
  for (const content of some) {
    const { lines, wrong } = await opened(content);
    assert.deepEqual(lines, []);
    assert.match(wrong, /\.$/);
  }
});

test("an archive that unpacks to far more than a log is refused", async () => {
  const huge = `${" ".repeat(60_000_000)}<sst/>`;
  assert.match((await opened(zip({ ...FILES, "xl/sharedStrings.xml": huge }))).wrong, /far too large/);
});

test("a text gives its lines and what stands between them", async () => {
  const { lines, mark, wrong } = await opened("\uFEFFdate;pH\n2027-04-15;7,2\n", "log.csv");
  assert.equal(wrong, "");
  assert.equal(mark, ";");
  assert.deepEqual(lines, [["date", "pH"], ["2027-04-15", "7,2"]]); // prettier-ignore
});
