// The learner's page: choose a set, give a code, work, hand in.

const STATE_WORDS = { new: "", tried: "tried", right: "right", kept: "kept" };

// Hand in to the room's own server (window.rsRoom is where it is); without one there is no button.
// Gives one sentence. Before work goes in that holds less than what was handed in before, the room asks.
async function handInToRoom(text, sure = false) {
  try {
    const answer = await fetch(`${window.rsRoom}room/handin${sure ? "?sure=1" : ""}`, { method: "POST", headers: { "Content-Type": "application/json", ...signed() }, body: text });
    const said = await answer.json().catch(() => ({}));
    if (answer.status === 409 && said.ask && !sure) return confirm(String(said.ask).slice(0, 500)) ? handInToRoom(text, true) : "Not handed in. What was handed in before is still there.";
    const words = String(said.done || said.refused || "").slice(0, 300);
    if (answer.ok) return words || "Handed in. You may go on and hand in again: it counts together.";
    return words || "The room did not take it. Save your work as a file and give that to your instructor.";
  } catch {
    return "The room cannot be reached. Your work is kept here: try again, or save it as a file.";
  }
}

function learnerParts(say, model, now) {
  const set = make("select", { id: "rs-set" }), code = make("input", { id: "rs-code", type: "text", autocomplete: "off", autocapitalize: "characters", maxlength: 24 });
  const ticket = make("input", { id: "rs-ticket", type: "text", autocomplete: "off", maxlength: 120, "aria-describedby": "rs-ticket-note" });
  const ticketLine = make("div", { class: "rs-asked" }, make("label", { for: "rs-ticket" }, "Ticket"), ticket,
    make("p", { class: "rs-note", id: "rs-ticket-note" }, "For work on your own machine; your instructor gives it to you. Without one you practise: nobody marks it."));
  const form = make("form", { onsubmit: (e) => { e.preventDefault(); begin(); } },
    make("div", { class: "rs-asked" }, make("label", { for: "rs-set" }, "Set"), set),
    make("div", { class: "rs-asked" }, make("label", { for: "rs-code" }, "Your code"), code,
      make("p", { class: "rs-note" }, "It stands on your card. Do not type a name.")),
    ticketLine, make("button", { type: "submit", class: "rs-button rs-big" }, "Begin"));
  const again = make("summary", {}, "Begin"), start = make("details", { class: "rs-begin", open: true }, again, form);
  const title = make("h2", {}), who = make("p", {}), bar = make("progress", { "aria-label": "Done", max: 1, value: 0 }), told = make("p", { role: "status" });
  const rules = make("div"), list = make("div", { class: "rs-way" });
  const whole = make("section", { class: "rs-set", hidden: true }, title, who, make("div", { class: "rs-picks" }, bar, told), folded("What counts", rules), folded("All problems", list));
  const way = whole.lastChild;
  const desk = problemDesk(say, "rs-desk");
  const back = make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "go", name: now.set.before }) }, "Problem before");
  const on = make("button", { type: "button", class: "rs-button", onclick: () => say({ do: "go", name: now.set.next }) }, "Next problem");
  const steps = make("div", { class: "rs-picks", hidden: true }, back, on);
  const hand = handParts(say, now);
  let begun = false;
  function begin() {
    const kept = (classStore().works || {})[`${set.value} ${code.value.trim().toUpperCase()}`] || {};
    const asked = ticket.value.trim();
    say({ do: "begin", set: set.value, code: code.value, ticket: asked || kept.ticket || "", ...(kept.file && (!asked || asked === kept.ticket) ? { file: kept.file } : {}) });
  }
  return { el: make("div", {}, start, whole, desk.el, steps, hand.el), show(blocks) {
    if (blocks.start) {
      const s = blocks.start;
      if (!set.children.length) fill(set, make("optgroup", { label: "Sets" }, s.sets.map((p) => make("option", { value: p.name }, `${p.title} (${p.minutes} min)`))),
        make("optgroup", { label: "Practice" }, s.topics.map((p) => make("option", { value: p.name }, p.title))));
      put(again, s.begun ? "Another set or another code" : "Begin");
      ticketLine.hidden = s.at_hand;
      if (s.begun !== begun) start.open = !s.begun;
      begun = s.begun;
    }
    if ("set" in blocks) {
      const s = blocks.set;
      whole.hidden = steps.hidden = hand.el.hidden = !s;
      if (s) {
        start.open = start.open && !begun;
        put(title, s.title);
        put(who, `Your code: ${s.code}. ${s.mode}`);
        bar.max = s.of;
        bar.value = s.done;
        put(told, `${s.done} of ${s.of} done`);
        fill(rules, make("ul", {}, s.rules.map((w) => make("li", {}, w))));
        keepingFocus(list, () => fill(list, s.parts.map((part) => [make("h3", {}, part.title), make("ul", { class: "rs-plainlist" }, part.problems.map((p) => make("li", {},
          make("button", { type: "button", class: "rs-small", "aria-current": p.here ? "step" : null, onclick: () => { way.open = false; say({ do: "go", name: p.name }); } },
            p.title + (STATE_WORDS[p.state] ? ` (${STATE_WORDS[p.state]})` : "")))))]).flat()));
        back.disabled = !s.before;
        on.disabled = !s.next;
        hand.at(s);
      }
    }
    if ("problem" in blocks || "work" in blocks) desk.show(now.problem, now.work);
    if (blocks.reply) hand.take(blocks.reply);
  } };
}

function handParts(say, now) {
  const told = make("p", { role: "status" }), short = make("textarea", { id: "rs-short", readonly: true, rows: 4 });
  const qr = make("div", { class: "rs-qr" });
  const shortPart = make("div", { hidden: true }, make("label", { for: "rs-short" }, "Short text: copy all of it, or show the code"), short, qr);
  const file = make("input", { id: "rs-workfile", type: "file", accept: ".json,application/json" });
  file.addEventListener("change", () => { const f = file.files[0]; if (f) f.text().then((text) => { say({ do: "load", text }); file.value = ""; }); });
  const button = (words, act) => make("button", { type: "button", class: "rs-button", onclick: act }, words);
  const room = button("Hand in to the room", async () => { room.disabled = true; put(told, await handInToRoom(now.keep.file)); room.disabled = false; });
  const texts = button("Short text and QR code", () => say({ do: "hand_in" }));
  const forget = button("Forget my work here", () => { if (confirm(now.start.at_hand && now.set && now.set.hands_in ? "Take your work off this browser? Your attempts stay counted under your code." : "Take your work off this browser? Save it as a file first.")) { forgetClass("exercises"); say({ do: "leave" }); } });
  const old = button("Save older work as a file", () => { const kept = classStore().old; if (kept) saveFile({ file: `${kept.code}_${kept.set}_older.json`, text: kept.file }); });
  const el = make("section", { class: "rs-hand", hidden: true }, make("h2", {}, "Keep and hand in"),
    make("p", { class: "rs-kept" }, "Your work is kept in this browser as you go. A file keeps it safe."),
    make("div", { class: "rs-picks" }, room, button("Save my work as a file", () => say({ do: "save" })), texts),
    told, shortPart, make("div", { class: "rs-picks" }, make("label", { for: "rs-workfile" }, "Open my file "), file), make("div", { class: "rs-picks" }, forget, old));
  return { el, at(s) {
    // Alone at home the only tray is the learner's own: work put there would reach nobody.
    const alone = ["localhost", "127.0.0.1", "[::1]"].includes(location.hostname) && !now.start.at_hand;
    room.hidden = !window.rsRoom || !s.hands_in || alone;
    texts.hidden = !s.hands_in;
    old.hidden = !classStore().old;
  }, take(reply) {
    shortPart.hidden = !reply.short;
    if (reply.file) { saveFile(reply); put(told, `Saved as ${reply.file}. Hand in this file as it is.`); }
    if (reply.short) {
      short.value = reply.short;
      fill(qr, reply.qr ? make("div", { role: "img", "aria-label": "QR code of your work", markup: reply.qr }) : null);
      put(told, reply.words || "Here is your work as a short text and as a code to scan.");
      short.focus();
      short.select();
    }
  } };
}
