// What the wall and the instructor's page share: asking the server, and hearing when something changed.

async function ask(path, body) {
  try {
    const answer = await fetch(BASE + path, body === undefined ? { cache: "no-store" }
      : { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    if (!(answer.headers.get("Content-Type") || "").includes("json")) return { refused: "The room was started anew, so this page has to come in again: reload it." };
    const found = await answer.json();
    return answer.ok || found.refused ? found : { refused: "The room did not answer; try again." };
  } catch { return { refused: "The room cannot be reached. Is the server still running, and this device on its Wi-Fi?" }; }
}

function watch(changed) {
  let tries = 0, news = 0;
  const connect = () => {
    const url = new URL(`${BASE}room/socket`, location.href);
    url.protocol = location.protocol === "https:" ? "wss:" : "ws:";
    const socket = new WebSocket(url);
    socket.onopen = () => { tries = 0; socket.send(JSON.stringify({ do: "watch" })); };
    socket.onmessage = (e) => { news += 1; const m = JSON.parse(e.data); if (m.wall || m.room) changed(m); };
    const again = () => { clearInterval(asking); tries += 1; setTimeout(connect, Math.min(5000, 300 * 2 ** tries)); };
    socket.onclose = again;
    // A line that slept looks open and carries nothing: ask, and open another when nothing comes back.
    let heard = -1;
    const asking = setInterval(() => {
      if (socket.readyState !== WebSocket.OPEN) return;
      if (heard === news) { socket.onclose = socket.onmessage = null; socket.close(); again(); return; }
      heard = news;
      socket.send(JSON.stringify({ do: "hello" }));
    }, 10000);
  };
  connect();
}

const button = (words, act, more = {}) => make("button", { type: "button", class: "rs-button", onclick: act, ...more }, words);
