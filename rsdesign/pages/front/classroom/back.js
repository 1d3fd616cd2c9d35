// What comes back from learners: files, short texts, answers on paper.

import { gridPart } from "./grid.js";
import { button, folded, make, put, section } from "../dom.js";
import { signed } from "../network.js";

const LARGEST_WORK = 256000,
  LARGEST_BATCH = 300000;

/**
 * What learners handed in to this machine's room, read like files.
 * @param {boolean} late
 * @param {Say} say
 * @param {HTMLElement} notice
 */
async function takeFromRoom(late, say, notice) {
  try {
    const answer = await fetch(`${window.rsRoom}room/handed.json`, { headers: signed() });
    const found = await answer.json();
    if (!answer.ok) return put(notice, found.refused || "The room did not answer.");
    if (!found.files.length) return put(notice, "Nothing was handed in to this room yet.");
    const files = found.files.map((f) => new File([f.text], f.name, { type: "application/json" }));
    return addFiles(files, late, say);
  } catch {
    return put(notice, "The room cannot be reached: open this page where the room is served.");
  }
}

/**
 * Files as messages of a bearable size; one that is too large goes by its name alone and is refused.
 * @param {Iterable<File>} files
 * @param {boolean} late
 * @param {Say} say
 */
async function addFiles(files, late, say) {
  let batch = [],
    size = 0;
  const list = [...files];
  for (const [i, f] of list.entries()) {
    const text = f.size > LARGEST_WORK ? null : await f.text();
    if (batch.length && size + (text || "").length > LARGEST_BATCH) {
      say({ do: "add", files: batch, late, more: true });
      batch = [];
      size = 0;
    }
    batch.push({ name: f.name, text });
    size += (text || "").length;
    if (i === list.length - 1) say({ do: "add", files: batch, late, more: false });
  }
}

/** @param {Say} say */
export function backPart(say) {
  const { el, body, head } = section("back", "4 Take in what comes back");
  const late = make("input", { id: "rs-late", type: "checkbox" });
  const files = make("input", { id: "rs-work", type: "file", multiple: true, accept: ".json,.txt,.csv" });
  files.addEventListener("change", () =>
    addFiles(files.files || [], late.checked, say).then(() => {
      files.value = "";
    }),
  );
  const paste = make("textarea", { id: "rs-paste", rows: 3 });
  const added = make("p", { role: "status" }),
    grid = gridPart(say);
  body.append(
    make("div", { class: "rs-tick" }, late, make("label", { for: "rs-late" }, " what I add now came late")),
    make(
      "div",
      { class: "rs-picks" },
      make("label", { for: "rs-work" }, "Files of learners"),
      files,
      window.rsRoom
        ? button("Take what was handed in to this room", () => takeFromRoom(late.checked, say, added))
        : null,
    ),
    make("label", { for: "rs-paste" }, "Short texts, pasted or scanned, one on a line"),
    paste,
    make(
      "div",
      { class: "rs-picks" },
      button("Take the short texts", () => {
        say({ do: "paste", text: paste.value, late: late.checked });
        paste.value = "";
      }),
    ),
    added,
    button("Put the files away", () => say({ do: "clear" })),
    folded("Type answers from paper", grid.el),
    make(
      "div",
      { class: "rs-picks" },
      button("Mark all", () => say({ do: "mark" })),
    ),
  );
  return {
    el,
    head,
    show(blocks) {
      if (blocks.files) put(added, takenIn(blocks.files));
      if ("grid" in blocks) grid.show(blocks.grid);
    },
  };
}

/** @param {{ late: boolean }[]} files */
function takenIn(files) {
  if (!files.length) return "Nothing taken in yet.";
  const late = files.filter((f) => f.late).length;
  return `${files.length} taken in${late ? `, ${late} of them late` : ""}.`;
}
