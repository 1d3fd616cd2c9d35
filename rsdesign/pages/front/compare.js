// Kept designs beside the present one: a card with a drawing each, and a table of what differs.

import { button, fill, keepingFocus, make, put } from "./dom.js";
import { table } from "./table.js";

/** @typedef {{ name: string, index: number | null, svg: string, wrong: string }} KeptColumn */
/** @typedef {{ label: string, kind: string, cells: string[] }} ComparedRow */
/** @typedef {{ columns: KeptColumn[], rows: ComparedRow[], same: boolean, full: boolean }} ComparisonNow */

/** @param {Say} say */
export function compareBlock(say) {
  const box = make("input", { id: "rs-keep-name", type: "text", maxlength: 60, autocomplete: "off" });
  const keep = () => {
    if (keeper.disabled) return;
    say({ do: "pin", name: box.value });
    box.value = "";
  };
  const keeper = button("Keep this one", keep);
  box.addEventListener("keydown", (e) => e.key === "Enter" && keep());
  const hint = make("p", { class: "rs-keephint" });
  const cards = make("ul", { class: "rs-kept" });
  const differs = make("div");
  const el = make(
    "div",
    { class: "rs-compare" },
    hint,
    make("div", { class: "rs-picks" }, make("label", { for: "rs-keep-name" }, "Name"), box, keeper),
    cards,
    differs,
  );

  /** @param {KeptColumn} kept */
  const card = (kept) =>
    make(
      "li",
      { class: "rs-keptcard" },
      make("strong", {}, kept.name),
      kept.svg ? make("div", { class: "rs-thumb", markup: kept.svg }) : null,
      kept.wrong ? make("p", { class: "rs-wrong" }, kept.wrong) : null,
      kept.index === null
        ? null
        : make(
            "div",
            { class: "rs-picks" },
            kept.wrong
              ? null
              : button("Open", () => say({ do: "open_pin", index: kept.index }), { "aria-label": `Open ${kept.name}` }),
            button("Remove", () => say({ do: "unpin", index: kept.index }), { "aria-label": `Remove ${kept.name}` }),
          ),
    );
  return {
    el,
    /** @param {ComparisonNow} now */
    show(now) {
      const some = now.columns.length > 1;
      keeper.disabled = now.full;
      put(
        hint,
        now.full ? "Four are kept. Remove one to keep another." : "Keep up to four designs and see what differs.",
      );
      keepingFocus(cards, () => fill(cards, some ? now.columns.map(card) : []));
      cards.hidden = !some;
      const headings = ["", ...now.columns.map((c) => c.name)];
      const rows = now.rows.map((r) => [r.label, ...r.cells.map((c) => c.replaceAll(" %)", "\u00a0%)"))]);
      keepingFocus(differs, () =>
        fill(
          differs,
          now.same ? make("p", {}, "They are the same in every choice and figure.") : null,
          rows.length ? table({ headings, rows }, "What differs, with the change from this design") : null,
        ),
      );
    },
  };
}
