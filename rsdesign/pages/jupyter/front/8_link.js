// The served page speaks to its kernel itself: one web socket, one comm. It opens in a fraction of
// the time that a whole notebook front end takes to start, and it can say when the line is lost.

const LARGEST = 900000; // characters of one message; the server closes the line above a million bytes
const MOST_KEPT = 200; // messages that wait for their answer
const FLYING = 20; // messages on the line at once: the server takes more for a flood
const REFUSED_LINES = 4; // lines closed in a row before they opened, after which a sentence says so
const LOOKS = ["open", "follow", "page", "depth", "units", "working", "tradeoff", "qr", "save", "handout"]; // none of these changes a design
const LATE = 1500; // milliseconds for answers that the server kept while the line was broken

function kernelLink(config, comm) {
  const listeners = new Set(), kept = new Map(); // what is not answered, by its number, in order
  const session = Math.random().toString(36).slice(2) + Date.now().toString(36);
  const base = config.baseUrl;
  const told = document.getElementById("rs-lost");
  let socket = null, tries = 0, count = 0, gone = false, leaving = false, heard = 0;
  let live = false, onLine = 0, everSent = 0, answered = 0, tooMany = false, silences = 0; // live: messages may go; onLine: the last that this line took
  let down = false, wokeAt = 0, silentUntil = 0, tick = Date.now(), restUntil = 0, due = 0;
  const api = new URL(`${base}api/kernels/${config.kernelId}`, location.href);

  function message(kind, content) {
    count += 1;
    return JSON.stringify({ channel: "shell", buffers: [], parent_header: {}, metadata: {}, content,
      header: { msg_id: `${session}-${count}`, session, username: "", msg_type: kind, version: "5.3", date: new Date().toISOString() } });
  }
  // Made anew each time it is sent: a program refuses a message whose header it has seen.
  const saying = (content) => message("comm_msg", { comm_id: comm, data: { method: "custom", content: { ...content, page: session } } });
  function tell(words) {
    if (leaving) return;
    told.hidden = false;
    put(told.firstElementChild, words);
  }
  const changing = () => [...kept.values()].some((c) => !LOOKS.includes(c.message.do));
  // What a broken line swallowed is said again, in order: the program answers what it has done already
  // with the whole page and does it no second time.
  function pump() {
    if (!live || socket.readyState !== WebSocket.OPEN) return;
    for (const [n, content] of kept) {
      if (n <= onLine) continue;
      if ([...kept.keys()].filter((k) => k > answered && k <= onLine).length >= FLYING) return;
      socket.send(saying(content));
      onLine = n;
      everSent = Math.max(everSent, n);
    }
  }
  function begin(last) {
    live = true;
    onLine = answered = 0;
    // Of an answer that came late the first part may be lost: the whole page is asked for.
    if (last && ![...kept.keys()].some((n) => n <= last[0])) socket.send(saying(last[1]));
    pump();
  }
  function connect() {
    const mine = lineTo(`${api.pathname}/channels?session_id=${session}`);
    socket = mine;
    live = false;
    socket.onopen = () => {
      tries = 0;
      if (!gone && !tooMany) told.hidden = true;
      const last = [...kept].filter(([n]) => n <= everSent).pop();
      if (last) setTimeout(() => { if (socket === mine && mine.readyState === WebSocket.OPEN) begin(last); }, LATE); else begin();
    };
    socket.onmessage = (event) => {
      if (typeof event.data !== "string") return;
      heard += 1;
      silences = 0;
      const m = JSON.parse(event.data);
      if (m.msg_type === "rsdesign_told") tell(m.content.text);
      if (m.msg_type === "comm_msg" && m.content.comm_id === comm && m.content.data.method === "custom") {
        const said = m.content.data.content;
        kept.delete(said.ack);
        answered = Math.max(answered, said.ack || 0);
        listeners.forEach((f) => f(said, []));
        pump();
      }
      if (m.msg_type === "status" && ["dead", "restarting", "autorestarting"].includes(m.content.execution_state)) lost();
    };
    socket.onclose = () => {
      live = false;
      tries += 1;
      const pause = Math.min(tries < REFUSED_LINES ? 4000 : 30000, 250 * 2 ** tries);
      restUntil = Date.now() + pause - 100;
      later(pause);
    };
  }
  function later(pause) {
    clearTimeout(due);
    due = setTimeout(look, pause);
  }
  // The same design in a new program, without a word: after sleep, or after the line was down. A
  // reload that did not help is not followed by another at once; then a sentence says so.
  function again() {
    if (leaving) return true;
    let last = 0;
    try {
      last = Number(sessionStorage.getItem("rsdesign.again")) || 0;
      if (Date.now() - last > 10000) sessionStorage.setItem("rsdesign.again", Date.now());
    } catch { last = performance.now() < 10000 ? Date.now() : 0; } // nothing can be kept: a page just opened is the trace
    if (Date.now() - last < 10000) return false;
    leaving = true;
    location.reload();
    return true;
  }
  function lost() {
    gone = true;
    if (document.hidden) return; // told, or mended, when it wakes
    // A program that died before it showed anything was nobody's yet: another is asked for. A change
    // that it never answered is in no address, so then a sentence stands before the page is loaded anew.
    if ((!document.body.dataset.ready || (Date.now() < silentUntil && !changing())) && again()) return;
    tell("This page has lost its program: figures no longer follow your changes. " + (window.rsKept || "Your design is kept in the address.")
      + (changing() ? " Your last change may be missing: look for it." : ""));
  }
  function quiet() {
    down = true;
    tries = restUntil = 0;
    if (!tooMany && !document.hidden && Date.now() - wokeAt > 5000) tell(`Not connected. ${window.rsKept || "Your design is kept."} We go on trying.`);
  }
  // Is the kernel there? A refusal says it is gone; no answer, or that of a proxy whose server starts
  // again, says that the line is down. Led elsewhere, a script has read the page of a sign-in.
  async function look() {
    let answer = null;
    try {
      const patience = window.AbortSignal && AbortSignal.timeout ? AbortSignal.timeout(6000) : undefined;
      answer = await fetch(api, { cache: "no-store", headers: signed(), signal: patience });
    } catch { /* no answer */ }
    const closed = socket.readyState === WebSocket.CLOSED;
    if (!answer || answer.status >= 500) { quiet(); if (closed) later(2000); return; }
    const wasDown = down;
    down = false;
    if (wasDown) silentUntil = Date.now() + 30000;
    if (!answer.ok) return lost();
    if (wasDown && !gone && socket.readyState === WebSocket.OPEN) { // it may have slept through all this, or not
      if (!tooMany) told.hidden = true;
      probe();
    }
    if (gone || !closed) return;
    if (answer.redirected && new URL(answer.url).pathname !== api.pathname)
      return tell(`You are signed out. Reload the page to sign in again; ${(window.rsKept || "your design is kept in its address.").replace(/^Y/, "y")}`);
    if (tries >= REFUSED_LINES) tell(`The page reaches its program and the line to it closes again. We go on trying; reload the page if this stays. ${window.rsKept || "Your design is kept."}`);
    if (Date.now() >= restUntil) connect();
  }
  async function probe() {
    const asked = socket;
    if (!await deaf(asked, message("kernel_info_request", {}), () => heard) || socket !== asked || gone) return;
    silences += 1;
    if (kept.size && silences > 1 && again()) return; // a second line that brings nothing: the program hangs
    giveUp(asked);
    connect();
  }
  async function wake() {
    if (document.hidden || Date.now() - wokeAt < 1000) return;
    wokeAt = Date.now();
    silentUntil = wokeAt + 30000;
    restUntil = 0;
    if (gone) lost(); else await look();
    if (!gone && socket.readyState === WebSocket.OPEN) probe();
  }
  setInterval(() => {
    const slept = Date.now() - tick > 20000; // a machine that was shut and opened again
    tick = Date.now();
    if (slept) wake(); else if (!document.hidden) look();
  }, 5000);
  document.addEventListener("visibilitychange", wake);
  window.addEventListener("online", wake);
  window.addEventListener("pageshow", (e) => { if (e.persisted) wake(); });
  connect();
  return {
    on: (name, f) => listeners.add(f),
    off: (name, f) => listeners.delete(f),
    send(content) {
      if (gone) return;
      if (saying(content).length > LARGEST) return tell("That is too large for a design and was not sent. Reload the page to go on.");
      if (kept.size >= MOST_KEPT) {
        tooMany = true;
        return tell(`More than ${MOST_KEPT} changes wait for the line, and the last are not taken. Once the page is connected again, reload it to see your design as it is.`);
      }
      kept.set(content.n, content);
      pump();
    },
  };
}

// A server behind a sign-in answers a script only when it repeats the word that it gave this page.
function signed() {
  const word = /(?:^|; )_xsrf=([^;]*)/.exec(document.cookie);
  return word ? { "X-XSRFToken": word[1] } : {};
}

function startServed() {
  const outputs = [...document.querySelectorAll('script[type="application/vnd.voila.cell-output+json"]')]
    .map((s) => JSON.parse(s.textContent)).map((o) => (o.data || {})["application/vnd.jupyter.widget-view+json"]).filter(Boolean);
  const loading = document.getElementById("loading");
  if (!outputs.length) {
    loading.textContent = "The page could not be started. Reload it; if that does not help, start 'rsdesign serve' again.";
    return;
  }
  const config = JSON.parse(document.getElementById("jupyter-config-data").textContent);
  const place = document.getElementById("rs-place");
  window.rsServed = true;
  render({ model: kernelLink(config, outputs[0].model_id), el: place });
  const seen = new MutationObserver(() => {
    if (!document.body.dataset.ready) return;
    seen.disconnect();
    loading.remove();
    document.getElementById("rendered_cells").hidden = true;
  });
  seen.observe(document.body, { attributes: true, attributeFilter: ["data-ready"] });
}
