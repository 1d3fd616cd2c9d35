// A set, and the papers made of it.

import { button, fill, folded, make, put, section } from "../dom.js";

/** @param {Say} say */
export function printPart(say) {
  const { el, body, head } = section("print", "3 Choose a set and print");
  const set = make("select", { id: "rs-setname", onchange: () => say({ do: "set", name: set.value }) });
  const about = make("div"),
    papers = make("ul", { class: "rs-papers" }),
    notice = make("p", { role: "status" });
  const made = new Map();
  const ask = (which, words) => button(words, () => say({ do: "papers", which }));
  body.append(
    make("div", { class: "rs-picks" }, make("label", { for: "rs-setname" }, "Set"), set),
    about,
    make(
      "div",
      { class: "rs-picks" },
      ask("sheets", "Make the sheets"),
      ask("cards", "Make the code cards"),
      ask("key", "Make the key"),
      ask("grid", "Grid as a file"),
      ask("tickets", "Tickets for work at home"),
      ask("qti", "For a course platform (QTI 2.1)"),
      ask("cartridge", "For a course platform (Common Cartridge)"),
    ),
    notice,
    papers,
  );
  let chosen = "";
  return {
    el,
    head,
    show(blocks) {
      if (blocks.sets) {
        const s = blocks.sets;
        if (!set.children.length)
          fill(
            set,
            make(
              "optgroup",
              { label: "Sets" },
              s.sets.map((p) => make("option", { value: p.name }, p.title)),
            ),
            make(
              "optgroup",
              { label: "Practice" },
              s.topics.map((p) => make("option", { value: p.name }, p.title)),
            ),
          );
        set.value = s.chosen;
        if (chosen && chosen !== s.chosen) {
          made.clear();
          fill(papers);
        }
        chosen = s.chosen;
        fill(
          about,
          make("p", {}, s.rules.join(" ")),
          s.paper ? make("p", {}, s.paper) : null,
          folded(
            "What is in it",
            make(
              "ul",
              {},
              s.before.length ? make("li", {}, `Before and after: ${s.before.join("; ")}`) : null,
              s.sessions.map((x) => make("li", {}, `${x.title} (${x.minutes} min): ${x.exercises.join("; ")}`)),
            ),
          ),
        );
      }
      if ("class" in blocks) {
        made.clear();
        fill(papers);
        put(notice, "");
      }
      if (blocks.reply && blocks.reply.paper) {
        const r = blocks.reply,
          url = URL.createObjectURL(blobOf(r));
        made.set(r.paper, [r, url]);
        fill(
          papers,
          [...made.values()].map(([x, u]) =>
            make(
              "li",
              {},
              make("strong", {}, `${x.title}: `),
              x.type === "text/html"
                ? [
                    make(
                      "a",
                      { class: "rs-button", href: u, target: "_blank", rel: "noopener" },
                      `Open ${x.title.toLowerCase()} to print`,
                    ),
                    " ",
                  ]
                : null,
              make("a", { class: "rs-button", href: u, download: x.file }, `Save ${x.file}`),
            ),
          ),
        );
        put(
          notice,
          `${r.title} made${r.paper === "key" ? ": it holds every answer, so keep it apart" : ""}. ` +
            "It opens in a tab of its own; print it from there.",
        );
        if (r.type !== "text/html") put(notice, `${r.title} made. ${r.words || "Save it on this machine."}`);
      }
    },
  };
}

/**
 * What was made, as a file: text, or bytes that came as text.
 * @param {any} r
 */
function blobOf(r) {
  if (!r.base64) return new Blob([r.text], { type: `${r.type};charset=utf-8` });
  return new Blob([Uint8Array.from(atob(r.base64), (c) => c.charCodeAt(0))], { type: r.type });
}
