// The served page speaks to its kernel itself: one web socket, one comm. It opens in a fraction of
// the time that a whole notebook front end takes to start, and it can say when the line is lost.

function kernelLink(config, comm) {
  const listeners = new Set();
  const session = Math.random().toString(36).slice(2) + Date.now().toString(36);
  const base = config.baseUrl;
  const told = document.getElementById("rs-lost");
  let socket = null, tries = 0, queue = [], count = 0, gone = false;
  const api = new URL(`${base}api/kernels/${config.kernelId}`, location.href);

  function connect() {
    const url = new URL(`${api.pathname}/channels?session_id=${session}`, location.href);
    url.protocol = location.protocol === "https:" ? "wss:" : "ws:";
    socket = new WebSocket(url);
    socket.onopen = () => { tries = 0; if (!gone) told.hidden = true; queue.splice(0).forEach((m) => socket.send(m)); };
    socket.onmessage = (event) => {
      if (typeof event.data !== "string") return;
      const m = JSON.parse(event.data);
      if (m.msg_type === "comm_msg" && m.content.comm_id === comm && m.content.data.method === "custom")
        listeners.forEach((f) => f(m.content.data.content, []));
      if (m.msg_type === "status" && ["dead", "restarting", "autorestarting"].includes(m.content.execution_state)) lost();
    };
    socket.onclose = () => { tries += 1; setTimeout(look, Math.min(4000, 250 * 2 ** tries)); };
  }
  function lost() {
    gone = true;
    told.hidden = false;
    put(told.firstElementChild, "This page has lost its program: figures no longer follow your changes. " + (window.rsKept || "Your design is kept in the address."));
  }
  function quiet() {
    told.hidden = false;
    put(told.firstElementChild, `Not connected. ${window.rsKept || "Your design is kept."} We go on trying.`);
  }
  // Is the kernel there? A refusal says it is gone; no answer says that the line is down.
  async function look() {
    try {
      const answer = await fetch(api, { cache: "no-store" });
      if (!answer.ok) return lost();
      if (!gone && socket.readyState === WebSocket.CLOSED) connect();
    } catch { quiet(); if (socket.readyState === WebSocket.CLOSED) setTimeout(look, 2000); }
  }
  setInterval(() => { if (!document.hidden) look(); }, 5000);
  document.addEventListener("visibilitychange", async () => {
    if (document.hidden) return;
    await look();
    if (gone) location.reload();
  });
  connect();
  return {
    on: (name, f) => listeners.add(f),
    off: (name, f) => listeners.delete(f),
    send(content) {
      if (gone) return;
      count += 1;
      const text = JSON.stringify({ channel: "shell", buffers: [], parent_header: {}, metadata: {},
        header: { msg_id: `${session}-${count}`, session, username: "", msg_type: "comm_msg", version: "5.3", date: new Date().toISOString() },
        content: { comm_id: comm, data: { method: "custom", content } } });
      if (socket.readyState === WebSocket.OPEN) socket.send(text);
      else queue = [...queue.slice(-20), text];
    },
  };
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
