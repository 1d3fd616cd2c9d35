// Where a water test is typed in: the log stays in this browser, and its numbers go to the page's program.

import { button, fill, folded, keepingFocus, make, put, saveFile } from "./dom.js";
import { linesOfFile } from "./log_file.js";
import { keepLog, keptLog } from "./log_store.js";
import { headingAt, textOfLines, withoutNotes } from "./log_table.js";
import { entryForm } from "./log_form.js";

const LOG_FILES = ".csv,.txt,.tsv,.xlsx,text/csv";

/** @param {Say} say */
export function logEntry(say) {
  const form = entryForm(add);
  const said = make("p", { role: "status" });
  const problems = make("ul", { class: "rs-logproblems" });
  const kept = make("div");
  const told = make("p", {});
  const file = make("input", { type: "file", accept: LOG_FILES, hidden: true, onchange: opened });
  const tools = make("div", { class: "rs-picks" });
  let log = keptLog();
  let undo = /** @type {typeof log | null} */ (null);
  /** @type {any} */
  let now = null;
  let sent = "";

  function tell() {
    const text = log.lines.length ? textOfLines(withoutNotes(log.lines, now.words), log.mark) : "";
    sent = text;
    say({ do: "log", text });
  }
  /**
   * @param {typeof log} changed
   * @param {string} words
   */
  function take(changed, words) {
    undo = log;
    log = changed;
    const stored = keepLog(log);
    put(said, stored ? words : `${words} This browser keeps nothing here: save the log as a file.`);
    tell();
    draw();
  }
  /** @param {import("./log_form.js").LogTest} test */
  function add({ cells, heads, kits }) {
    const lines = log.lines.map((line) => [...line]);
    if (!lines.length) lines.push(["date", "time"]);
    const head = Math.max(headingAt(lines, now.words), 0);
    const known = log.lines.length ? { date: 0, time: 1, ...now.places } : { date: 0, time: 1 };
    const line = lines[head].map(() => "");
    for (const [name, text] of Object.entries(cells)) {
      if (!text) continue;
      if (!(name in known)) {
        known[name] = lines[head].length;
        lines[head].push(heads[name] ?? name);
      }
      line[known[name]] = text;
    }
    lines.push(Array.from(line, (cell) => cell ?? ""));
    now.places = known;
    take({ ...log, lines, kits }, `The test of ${cells.date} is in the log.`);
  }
  async function opened() {
    const [first] = file.files ?? [];
    file.value = "";
    if (!first) return;
    const { lines, mark, wrong, remark } = await linesOfFile(first);
    const none = "It has to have a line that names its columns: date, pH and so on.";
    const why = wrong || (headingAt(lines, now.words) < 0 ? none : "");
    if (why) return put(said, `${first.name} was not opened, and your log is as it was. ${why}`);
    const open = `${first.name} is open: ${lines.length} lines. ${remark} Undo brings the log before back.`;
    take({ lines, mark, kits: log.kits }, open.replace("  ", " "));
  }
  function save() {
    saveFile({ file: "my_log.csv", text: `${textOfLines(log.lines, log.mark)}\n`, type: "text/csv" });
  }
  function back() {
    if (!undo) return;
    take(undo, "The log is as it was before.");
    undo = null;
    draw();
  }
  function draw() {
    const has = log.lines.length > 1;
    keepingFocus(tools, () =>
      fill(
        tools,
        button("Open a file", () => file.click()),
        has ? button("Save as a file", save) : null,
        undo ? button("Undo", back) : null,
        now?.sample
          ? button(has ? "Back to my log" : "Close the example", tell)
          : button("See an invented log", () => say({ do: "sample_log" })),
        has && !now?.sample
          ? button("Take away the last test", () => {
              take({ ...log, lines: log.lines.slice(0, -1) }, "The last line is taken away. Undo brings it back.");
            })
          : null,
      ),
    );
    const lines = log.lines.slice(1).slice(-5);
    fill(
      kept,
      has
        ? folded(
            `Your log: ${log.lines.length - 1} lines`,
            make(
              "pre",
              { class: "rs-loglines", tabindex: "0" },
              textOfLines([log.lines[0], ...lines], log.mark),
            ),
          )
        : null,
    );
  }
  return {
    el: make(
      "div",
      { class: "rs-log" },
      form.el,
      said,
      problems,
      tools,
      file,
      kept,
      folded("Where my log is kept", told),
    ),
    /** @param {any} block */
    show(block) {
      const first = now === null;
      now = block;
      form.show(block, log.kits);
      put(told, block.told);
      fill(
        problems,
        block.problems.map((/** @type {string} */ p) => make("li", {}, p)),
      );
      problems.hidden = !block.problems.length;
      if (first && log.lines.length && !sent) tell();
      draw();
    },
  };
}
