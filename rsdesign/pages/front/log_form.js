// The form of one water test: a box for each number, empty where nothing was tested.

import { attr, fill, folded, make, put } from "./dom.js";

const dateAndHour = () => {
  const now = new Date();
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  return [
    `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
    `${two(now.getHours())}:${two(now.getMinutes())}`,
  ];
};

/**
 * @typedef {{ cells: Record<string, string>, heads: Record<string, string>, kits: Record<string, string> }} LogTest
 */

/** @param {(test: LogTest) => void} add */
export function entryForm(add) {
  const [day, hour] = dateAndHour();
  /** @type {Map<string, HTMLInputElement>} */
  const boxes = new Map();
  /** @type {Map<string, HTMLSelectElement>} */
  const kits = new Map();
  const wrong = make("p", { class: "rs-wrong", role: "alert", hidden: true });
  const open = make("div", { class: "rs-logboxes" });
  const more = make("div", { class: "rs-logboxes" });
  const ways = make("div", { class: "rs-logboxes" });
  let known = "";
  /** @type {any[]} */
  let columns = [];

  /**
   * @param {string} name
   * @param {string} label
   * @param {Record<string, any>} about
   */
  function line(name, label, about) {
    const box = make("input", { id: `rs-log-${name}`, type: "text", autocomplete: "off", maxlength: 40, ...about });
    boxes.set(name, box);
    return make("div", { class: "rs-logbox" }, make("label", { for: box.id }, label), box);
  }
  /** @param {any} c */
  const labelOf = (c) => (c.unit ? `${c.label}, ${c.unit}` : c.label);
  /** @param {any} c */
  function box(c) {
    return line(c.name, labelOf(c), { inputmode: c.whole ? "numeric" : "decimal", title: c.help });
  }
  /** @param {any} c */
  function kit(c) {
    const pick = make(
      "select",
      { id: `rs-kit-${c.name}` },
      c.headings.map((/** @type {any} */ h) => make("option", { value: h.value }, h.label)),
    );
    kits.set(c.name, pick);
    return make("div", { class: "rs-logbox" }, make("label", { for: pick.id }, c.label), pick);
  }
  function build() {
    boxes.clear();
    kits.clear();
    fill(
      open,
      line("date", "Date", { value: day }),
      line("time", "Time", { value: hour }),
      columns.filter((c) => c.first).map(box),
    );
    fill(
      more,
      columns.filter((c) => !c.first).map(box),
      line("note", "Note, stays in this browser", { maxlength: 200 }),
    );
    fill(ways, columns.filter((c) => c.headings.length > 1).map(kit));
  }
  /** @param {Event} e */
  function submit(e) {
    e.preventDefault();
    const cells = Object.fromEntries([...boxes].map(([name, el]) => [name, el.value.trim()]));
    const numbers = columns.filter((c) => cells[c.name]);
    const said = !/^\d{4}-\d{1,2}-\d{1,2}$/.test(cells.date)
      ? `The date is "${cells.date}"; write year, month and day, such as ${day}.`
      : !numbers.length
        ? "Type one number at least; leave a box empty where you did not test."
        : "";
    put(wrong, said);
    wrong.hidden = !said;
    if (said) return;
    const picked = Object.fromEntries([...kits].map(([name, el]) => [name, el.value]));
    const heads = Object.fromEntries(
      columns.map((c) => [
        c.name,
        (c.headings.find((/** @type {any} */ h) => h.value === picked[c.name]) ?? c.headings[0]).heading,
      ]),
    );
    add({ cells, heads, kits: picked });
    for (const c of columns) /** @type {HTMLInputElement} */ (boxes.get(c.name)).value = "";
    /** @type {HTMLInputElement} */ (boxes.get("note")).value = "";
  }
  return {
    el: make(
      "form",
      { novalidate: true, onsubmit: submit },
      open,
      folded("More to write down", more),
      folded(
        "My kits: nitrogen or the ion?",
        make("p", {}, "Look on the card of the kit. The ion reads up to four times as high."),
        ways,
      ),
      wrong,
      make("button", { type: "submit", class: "rs-button" }, "Put into my log"),
    ),
    /**
     * @param {any} block
     * @param {Record<string, string>} kept the kits of the log
     */
    show(block, kept) {
      columns = block.columns;
      const names = columns.map((c) => c.name + c.unit).join();
      if (names !== known) {
        build();
        for (const [name, pick] of kits) if (kept[name]) pick.value = kept[name];
      }
      known = names;
      // The columns of a log that is there keep the kit that their heading names.
      for (const [name, pick] of kits) attr(pick, "disabled", name in block.places && !block.sample ? true : null);
    },
  };
}
