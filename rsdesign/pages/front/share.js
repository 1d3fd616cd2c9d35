// Keep and pass on: link, QR code, file, print. Nothing here needs a secure address.

import { passedOn } from "./address.js";
import { button, fill, make, put, saveFile, textOf } from "./dom.js";
import { remembered } from "./memory.js";

/** @param {Say} say */
export function shareBlock(say) {
  const box = make("input", { id: "rs-link", type: "text", readonly: true, "aria-label": "Link to this design" });
  const qr = make("div", { class: "rs-qr" });
  const told = make("p", { role: "status" });
  const file = make("input", { id: "rs-file", type: "file", accept: ".toml,text/plain" });
  const link = () => {
    const u = passedOn();
    ["token", "team", "code"].forEach((k) => u.searchParams.delete(k));
    return u.toString();
  };
  const copy = () => {
    box.value = link();
    box.select();
    const said = () => put(told, "The link is copied.");
    const not = () => {
      box.focus();
      box.select();
      put(
        told,
        "The link stands selected: copy it with the menu of your browser, or let another phone read the code below.",
      );
      say({ do: "qr", url: box.value });
    };
    if (navigator.clipboard && isSecureContext) navigator.clipboard.writeText(box.value).then(said, not);
    else {
      let ok = false;
      try {
        ok = document.execCommand("copy");
      } catch {
        ok = false;
      }
      if (ok) said();
      else not();
    }
  };
  file.addEventListener("change", () => {
    const f = file.files?.[0];
    if (f && f.size > 200000) put(told, "That file is too large for a design; nothing was opened.");
    else if (f)
      textOf(f).then((text) => {
        say({ do: "load", text });
        file.value = "";
      });
  });
  const last = make("ul", {});
  const lastOnes = () =>
    fill(
      last,
      (remembered().last || [])
        .slice(1)
        .map((x) =>
          make(
            "li",
            {},
            make(
              "button",
              { type: "button", class: "rs-small", onclick: () => say({ do: "open", token: x.token }) },
              x.words,
            ),
          ),
        ),
    );
  const el = make(
    "details",
    { class: "rs-share" },
    make("summary", {}, "Keep and share"),
    make(
      "div",
      { class: "rs-sharebody" },
      make(
        "div",
        { class: "rs-picks" },
        button("Copy link", copy),
        button("Show QR code", () => say({ do: "qr", url: link() })),
        button("Save as a file", () => say({ do: "save" })),
        button("Print", () => window.print()),
      ),
      box,
      told,
      qr,
      make("div", { class: "rs-picks" }, make("label", { for: "rs-file" }, "Open a file "), file),
      window.rsLan
        ? make(
            "p",
            { class: "rs-note" },
            "This link works in this room only, while its machine is on. " +
              "To take your design home, save the file or print.",
          )
        : null,
      make("p", {}, "Last designs on this device"),
      last,
    ),
  );
  el.addEventListener("toggle", () => {
    box.value = link();
    lastOnes();
  });
  return {
    el,
    take(reply) {
      if (reply.qr)
        fill(qr, make("div", { role: "img", "aria-label": "QR code of the link to this design", markup: reply.qr }));
      if (reply.file) {
        saveFile(reply);
        put(told, `Saved as ${reply.file}.`);
      }
    },
  };
}
