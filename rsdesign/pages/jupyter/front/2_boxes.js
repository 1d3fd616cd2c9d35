// Boxes of text on a page: each is an entry (1_entry.js) that says its text when the box is left.

// The box that somebody is typing in, left neither by Enter nor by another place.
let typing = null;
const IS_TEXT = "input:not([type=range]):not([type=checkbox]):not([type=file]), textarea";
if (typeof document !== "undefined") {
  document.addEventListener("input", (e) => { if (e.target.matches && e.target.matches(IS_TEXT)) typing = e.target; }, true);
  document.addEventListener("focusout", () => { typing = null; }, true);
  document.addEventListener("keydown", (e) => { if (e.key === "Enter") typing = null; }, true);
}
const typingIn = (el) => typing !== null && el.contains(typing);

// What is not caused by the person at this page: a text that they have only begun is not said for it.
const BY_OTHERS = ["follow", "enter", "units", "open"];

// A page's way to say something, with the entries of its boxes. `send` gives the number of a message.
function sayer(send) {
  const entries = new Set();
  const say = (message, drag) => {
    if (!BY_OTHERS.includes(message.do)) say.leaveAll();
    return (say.last = send(message, drag));
  };
  return Object.assign(say, { entries, held: new Map(), last: 0,
    leaveAll() { entries.forEach((e) => e.leave()); },
    answered(number) { entries.forEach((e) => e.answered(number)); },
    lockAll() { entries.forEach((e) => e.lock()); },
    unanswered: () => [...entries].map((e) => e.unanswered()).filter(Boolean) });
}

// `message(text, units)` is what is said; `about.lost(text)` is told what a locked box could not say, and
// `about.found()` that the design which came instead has it.
function entryOf(box, say, message, about = {}) {
  const s = entryState(box.value), pick = box.tagName === "SELECT";
  let lost = null; // what a lock took away, and the last message before the design that came instead
  const draw = () => {
    if (box.value === s.shown) return;
    const all = document.activeElement === box && !pick && box.selectionStart === 0 && box.selectionEnd === box.value.length;
    box.value = s.shown;
    if (all) box.select(); // who came in by Tab goes on typing over the whole
  };
  const typed = () => { ENTRY.typed(s, box.value); if (about.typed) about.typed(); };
  const entry = { box,
    leave() {
      if (box.value !== s.shown) typed();
      const said = ENTRY.left(s);
      if (said) ENTRY.sent(s, say(message(said.text, said.units)));
    },
    told(text, units) { ENTRY.told(s, text, units); draw(); },
    answered(number) {
      ENTRY.answered(s, number);
      draw();
      if (lost && lost.number <= number) { if (s.known === lost.text) about.found(); lost = null; }
    },
    lock() {
      if (!about.lost) return;
      const text = ENTRY.lock(s);
      draw();
      if (text === null) return;
      lost = { text, number: say.last };
      about.lost(text);
    },
    // Said again on a page that was loaded anew.
    again(text, units) { box.value = text; ENTRY.typed(s, text); s.units = units || s.units; entry.leave(); },
    unanswered() {
      const text = s.typed ? { text: s.shown, units: s.units } : s.said;
      return about.path && text ? { path: about.path, ...text } : null;
    },
    end() { entry.leave(); say.entries.delete(entry); } };
  if (!pick) {
    box.addEventListener("input", typed);
    box.addEventListener("focus", () => ENTRY.focus(s));
    box.addEventListener("keydown", (e) => { if (e.key === "Enter") entry.leave(); });
    box.addEventListener("blur", () => { entry.leave(); ENTRY.blur(s); draw(); });
  }
  box.addEventListener("change", () => entry.leave());
  say.entries.add(entry);
  return entry;
}

// A box that outlives the block around it: drawn anew, the block takes the same box in again.
function heldBox(say, id, made, text, message) {
  let held = say.held.get(id);
  if (!held) {
    const box = made();
    say.held.set(id, (held = { box, entry: message ? entryOf(box, say, message) : null }));
  }
  if (held.entry) held.entry.told(text);
  return held.box;
}

// What a page that is loaded anew had not been answered, and its design where the address that is asked
// for is older: kept for this tab alone, and for these addresses.
const DRAFTS = "rsdesign.drafts";
const placeNow = () => location.pathname + location.search;
function keepDrafts(places, list, token) {
  try { sessionStorage.setItem(DRAFTS, JSON.stringify({ at: places, list, token })); } catch { /* nothing can be kept here */ }
}
function dropDrafts() {
  try { sessionStorage.removeItem(DRAFTS); } catch { /* nothing was kept */ }
}
function takeDrafts() {
  const none = { list: [], token: "" };
  try {
    const kept = JSON.parse(sessionStorage.getItem(DRAFTS));
    dropDrafts();
    return kept && kept.at.includes(placeNow()) && Array.isArray(kept.list) ? kept : none;
  } catch { return none; }
}
