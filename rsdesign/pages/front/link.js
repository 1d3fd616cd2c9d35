// The served page speaks to its kernel itself: one web socket, one comm. It opens in a fraction of
// the time that a whole notebook front end takes to start, and it can say when the line is lost.

import { put } from "./dom.js";
import { SENTENCES, kept } from "./link_words.js";
import { answerOfKernel, deaf, envelopes, giveUp, lineTo } from "./network.js";
import { OUTBOX, outboxState } from "./outbox.js";
import { isLeaving, reloadOnce } from "./reload.js";

const LARGEST = 900000; // characters of one message; the server closes the line above a million bytes
const REFUSED_LINES = 4; // lines closed in a row before they opened, after which a sentence says so
const LATE = 1500; // milliseconds for answers that the server kept while the line was broken
const DEAD = ["dead", "restarting", "autorestarting"];

/**
 * The line to a page's kernel, with what a page needs of a widget's model.
 * @param {{ baseUrl: string, kernelId: string }} config
 * @param {string} comm
 * @returns {Model}
 */
export function kernelLink(config, comm) {
  /** @type {Set<(content: any, buffers: any[]) => void>} */
  const listeners = new Set();
  const session = Math.random().toString(36).slice(2) + Date.now().toString(36);
  const envelope = envelopes(session);
  const outbox = outboxState();
  const told = /** @type {HTMLElement} */ (document.getElementById("rs-lost"));
  const api = new URL(`${config.baseUrl}api/kernels/${config.kernelId}`, location.href);
  /** @type {WebSocket} */
  let socket;
  let gone = false; // the program is
  let down = false; // the line is
  let tries = 0; // lines that closed since one opened
  let heard = 0; // messages that came
  let silences = 0; // lines in a row that brought nothing
  let wokeAt = 0;
  let silentUntil = 0; // until then a lost program is replaced without a word
  let restUntil = 0; // until then no further line is tried
  let tick = Date.now();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let due;

  const isOpen = () => socket.readyState === WebSocket.OPEN;
  /** @param {Numbered} content */
  const saying = (content) =>
    envelope("comm_msg", { comm_id: comm, data: { method: "custom", content: { ...content, page: session } } });
  /** @param {Numbered[]} list */
  const sayAll = (list) => list.forEach((content) => socket.send(saying(content)));
  const pump = () => isOpen() && sayAll(OUTBOX.next(outbox));

  /** @param {string} words */
  function tell(words) {
    if (isLeaving()) return;
    told.hidden = false;
    put(/** @type {Element} */ (told.firstElementChild), words);
  }

  /** @param {any} m */
  function take(m) {
    if (m.msg_type === "rsdesign_notice") tell(m.content.text);
    if (m.msg_type === "comm_msg" && m.content.comm_id === comm && m.content.data.method === "custom") {
      const said = m.content.data.content;
      OUTBOX.heard(outbox, said.ack);
      listeners.forEach((f) => f(said, []));
      pump();
    }
    if (m.msg_type === "status" && DEAD.includes(m.content.execution_state)) lost();
  }

  function connect() {
    const mine = lineTo(`${api.pathname}/channels?session_id=${session}`);
    socket = mine;
    OUTBOX.closed(outbox);
    socket.onopen = () => {
      tries = 0;
      if (!gone && !outbox.tooMany) told.hidden = true;
      const last = OUTBOX.swallowed(outbox);
      const begin = () => {
        if (socket === mine && isOpen()) sayAll(OUTBOX.opened(outbox, last));
      };
      if (last) setTimeout(begin, LATE);
      else begin();
    };
    socket.onmessage = (event) => {
      if (typeof event.data !== "string") return;
      heard += 1;
      silences = 0;
      take(JSON.parse(event.data));
    };
    socket.onclose = () => {
      OUTBOX.closed(outbox);
      tries += 1;
      const pause = Math.min(tries < REFUSED_LINES ? 4000 : 30000, 250 * 2 ** tries);
      restUntil = Date.now() + pause - 100;
      lookIn(pause);
    };
  }

  /** @param {number} pause */
  function lookIn(pause) {
    clearTimeout(due);
    due = setTimeout(look, pause);
  }

  function lost() {
    gone = true;
    if (document.hidden) return; // told, or mended, when it wakes
    const changing = OUTBOX.changing(outbox);
    // A program that died before it showed anything was nobody's yet: another is asked for. A change
    // that it never answered is in no address, so then a sentence stands before the page is loaded anew.
    if ((!document.body.dataset.ready || (Date.now() < silentUntil && !changing)) && reloadOnce()) return;
    tell(SENTENCES.lost + kept("Your design is kept in the address.") + (changing ? SENTENCES.missing : ""));
  }

  function quiet() {
    down = true;
    tries = restUntil = 0;
    const justWoken = Date.now() - wokeAt <= 5000;
    if (outbox.tooMany || document.hidden || justWoken) return;
    tell(`Not connected. ${kept("Your design is kept.")} We go on trying.`);
  }

  // Is the kernel there? A refusal says it is gone; no answer, or that of a proxy whose server starts
  // again, says that the line is down. Led elsewhere, a script has read the page of a sign-in.
  async function look() {
    const answer = await answerOfKernel(api);
    const closed = socket.readyState === WebSocket.CLOSED;
    if (!answer || answer.status >= 500) {
      quiet();
      if (closed) lookIn(2000);
      return;
    }
    const wasDown = down;
    down = false;
    if (wasDown) silentUntil = Date.now() + 30000;
    if (!answer.ok) return lost();
    if (wasDown && !gone && isOpen()) {
      if (!outbox.tooMany) told.hidden = true;
      probe(); // it may have slept through all this, or not
    }
    if (gone || !closed) return;
    if (answer.redirected && new URL(answer.url).pathname !== api.pathname) {
      return tell(SENTENCES.signedOut + kept("your design is kept in its address.").replace(/^Y/, "y"));
    }
    if (tries >= REFUSED_LINES) tell(SENTENCES.refused + kept("Your design is kept."));
    if (Date.now() >= restUntil) connect();
  }

  async function probe() {
    const asked = socket;
    if (!(await deaf(asked, envelope("kernel_info_request", {}), () => heard)) || socket !== asked || gone) return;
    silences += 1;
    if (outbox.kept.size && silences > 1 && reloadOnce()) return; // a second such line: the program hangs
    giveUp(asked);
    connect();
  }

  async function wake() {
    if (document.hidden || Date.now() - wokeAt < 1000) return;
    wokeAt = Date.now();
    silentUntil = wokeAt + 30000;
    restUntil = 0;
    if (gone) lost();
    else await look();
    if (!gone && isOpen()) probe();
  }

  setInterval(() => {
    const slept = Date.now() - tick > 20000; // a machine that was shut and opened again
    tick = Date.now();
    if (slept) wake();
    else if (!document.hidden) look();
  }, 5000);
  document.addEventListener("visibilitychange", wake);
  window.addEventListener("online", wake);
  window.addEventListener("pageshow", (e) => e.persisted && wake());
  connect();
  return {
    on: (name, f) => void listeners.add(f),
    off: (name, f) => void listeners.delete(f),
    send(content) {
      if (gone) return;
      if (saying(content).length > LARGEST) return tell(SENTENCES.tooLarge);
      if (!OUTBOX.keep(outbox, content)) return tell(SENTENCES.tooMany);
      pump();
    },
  };
}
