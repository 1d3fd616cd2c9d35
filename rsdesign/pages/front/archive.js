// A ZIP archive of XML files, opened in this browser: what a spreadsheet file is.
// Layout: PKWARE APPNOTE 6.3.10, 4.3.

const MOST_OPENED = 50_000_000; // bytes once unpacked
const [FILE_ENTRY, LAST_ENTRY] = [0x02014b50, 0x06054b50];

/** What is wrong with a spreadsheet, as a sentence. */
export class SheetError extends Error {}

/**
 * What opens a file of an archive by its name, as XML.
 * @param {Uint8Array} bytes
 */
export function archive(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (view.getUint32(end, true) !== LAST_ENTRY) end -= 1;
  /** @type {Map<string, { way: number, sum: number, size: number, start: number }>} */
  const files = new Map();
  let at = view.getUint32(end + 16, true);
  let left = MOST_OPENED;
  for (let n = view.getUint16(end + 10, true); n > 0 && view.getUint32(at, true) === FILE_ENTRY; n -= 1) {
    const [name, extra, remark] = [28, 30, 32].map((place) => view.getUint16(at + place, true));
    const start = view.getUint32(at + 42, true);
    files.set(new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + name)), {
      way: view.getUint16(at + 10, true),
      sum: view.getUint32(at + 16, true),
      size: view.getUint32(at + 20, true),
      start: start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true),
    });
    at += 46 + name + extra + remark;
  }
  /**
   * @param {string} name
   * @param {boolean} [mayMiss]
   */
  return async (name, mayMiss = false) => {
    const file = files.get(name);
    if (!file && mayMiss) return xmlOf("<none/>");
    if (!file || (file.way !== 0 && file.way !== 8)) throw new Error(name);
    const packed = bytes.subarray(file.start, file.start + file.size);
    const plain = file.way ? await unpacked(packed, left) : packed;
    left -= plain.length;
    if (sumOf(plain) !== file.sum) throw new Error(`${name} is damaged`);
    return xmlOf(new TextDecoder().decode(plain));
  };
}

/**
 * @param {Uint8Array} packed
 * @param {number} most bytes, beyond which a file is no log
 */
async function unpacked(packed, most) {
  if (typeof DecompressionStream === "undefined")
    throw new SheetError("This browser cannot open a spreadsheet; save it as CSV first.");
  const stream = new Blob([new Uint8Array(packed)]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const reader = stream.getReader();
  const pieces = [];
  let size = 0;
  for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
    size += piece.value.length;
    if (size > most) {
      await reader.cancel();
      throw new SheetError("The spreadsheet is far too large for a log of water tests; save the log alone.");
    }
    pieces.push(piece.value);
  }
  const plain = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    plain.set(piece, at);
    at += piece.length;
  }
  return plain;
}

/**
 * The sum by which an archive knows a damaged file: CRC-32.
 * @param {Uint8Array} bytes
 */
function sumOf(bytes) {
  let sum = -1;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

/** @param {string} text */
function xmlOf(text) {
  const found = new DOMParser().parseFromString(text, "application/xml");
  if (found.getElementsByTagName("parsererror").length) throw new Error("no XML");
  return found;
}
