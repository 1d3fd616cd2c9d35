// The served page speaks to its kernel itself: one web socket, one comm. It opens in a fraction of
// the time that a whole notebook front end takes to start, and it can say when the line is lost.

const LARGEST = 900000; // characters of one message; the server closes the line above a million bytes

function kernelLink(config, comm) {
  const listeners = new Set(), unanswered = new Set();
  const session = Math.random().toString(36).slice(2) + Date.now().toString(36);
  const base = config.baseUrl;
  const told = document.getElementById("rs-lost");
  let socket = null, tries = 0, queue = [], count = 0, gone = false, leaving = false, heard = 0;
  let down = false, wokeAt = 0, silentUntil = 0, tick = Date.now();
  const api = new URL(`${base}api/kernels/${config.kernelId}`, location.href);

  function message(kind, content) {
    count += 1;
    return JSON.stringify({ channel: "shell", buffers: [], parent_header: {}, metadata: {}, content,
      header: { msg_id: `${session}-${count}`, session, username: "", msg_type: kind, version: "5.3", date: new Date().toISOString() } });
  }
  function tell(words) {
    if (leaving) return;
    told.hidden = false;
    put(told.firstElementChild, words);
  }
  function connect() {
    socket = lineTo(`${api.pathname}/channels?session_id=${session}`);
    socket.onopen = () => { tries = 0; if (!gone) told.hidden = true; queue.splice(0).forEach((m) => socket.send(m)); };
    socket.onmessage = (event) => {
      if (typeof event.data !== "string") return;
      heard += 1;
      const m = JSON.parse(event.data);
      if (m.msg_type === "rsdesign_told") tell(m.content.text);
      if (m.msg_type === "comm_msg" && m.content.comm_id === comm && m.content.data.method === "custom") {
        const said = m.content.data.content;
        unanswered.delete(said.ack);
        listeners.forEach((f) => f(said, []));
      }
      if (m.msg_type === "status" && ["dead", "restarting", "autorestarting"].includes(m.content.execution_state)) lost();
    };
    socket.onclose = () => { tries += 1; setTimeout(look, Math.min(4000, 250 * 2 ** tries)); };
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
    // A program that died before it showed anything was nobody's yet: another is asked for.
    if ((Date.now() < silentUntil || !document.body.dataset.ready) && again()) return;
    tell("This page has lost its program: figures no longer follow your changes. " + (window.rsKept || "Your design is kept in the address."));
  }
  function quiet() {
    down = true;
    if (!document.hidden && Date.now() - wokeAt > 5000) tell(`Not connected. ${window.rsKept || "Your design is kept."} We go on trying.`);
  }
  // Is the kernel there? A refusal says it is gone; no answer says that the line is down.
  async function look() {
    try {
      const patience = window.AbortSignal && AbortSignal.timeout ? AbortSignal.timeout(6000) : undefined;
      const answer = await fetch(api, { cache: "no-store", headers: signed(), signal: patience });
      if (down) silentUntil = Date.now() + 30000;
      down = false;
      if (!answer.ok) return lost();
      if (!gone && socket.readyState === WebSocket.CLOSED) connect();
    } catch { quiet(); if (socket.readyState === WebSocket.CLOSED) setTimeout(look, 2000); }
  }
  async function probe() {
    const asked = socket;
    if (!await deaf(asked, message("kernel_info_request", {}), () => heard) || socket !== asked || gone) return;
    if (unanswered.size && again()) return;
    giveUp(asked);
    connect();
  }
  async function wake() {
    if (document.hidden || Date.now() - wokeAt < 1000) return;
    wokeAt = Date.now();
    silentUntil = wokeAt + 30000;
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
      const text = message("comm_msg", { comm_id: comm, data: { method: "custom", content } });
      if (text.length > LARGEST) return tell("That is too large for a design and was not sent. Reload the page to go on.");
      unanswered.add(content.n);
      if (socket.readyState === WebSocket.OPEN) socket.send(text);
      else queue = [...queue.slice(-20), text];
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
