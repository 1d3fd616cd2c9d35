// What the wall and the instructor's page share: asking the server, and hearing when something changed.

import { deaf, giveUp, lineTo } from "./network.js";

/** Where the room is. */
export const base = window.rsBase || "/";

/**
 * @param {string} path
 * @param {object} [body]
 */
export async function askRoom(path, body) {
  try {
    const answer = await fetch(
      base + path,
      body === undefined
        ? { cache: "no-store" }
        : { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) },
    );
    if (!(answer.headers.get("Content-Type") || "").includes("json"))
      return { refused: "The room was started anew, so this page has to come in again: reload it." };
    const found = await answer.json();
    return answer.ok || found.refused ? found : { refused: "The room did not answer; try again." };
  } catch {
    return { refused: "The room cannot be reached. Is the server still running, and this device on its Wi-Fi?" };
  }
}

/** @param {(m: any) => void} changed */
export function watch(changed) {
  let tries = 0,
    news = 0;
  const connect = () => {
    const socket = lineTo(`${base}room/socket`);
    socket.onopen = () => {
      tries = 0;
      socket.send(JSON.stringify({ do: "watch" }));
    };
    socket.onmessage = (e) => {
      news += 1;
      const m = JSON.parse(e.data);
      if (m.wall || m.room) changed(m);
    };
    const again = () => {
      clearInterval(asking);
      tries += 1;
      setTimeout(connect, Math.min(5000, 300 * 2 ** tries));
    };
    socket.onclose = again;
    const asking = setInterval(async () => {
      if (socket.readyState !== WebSocket.OPEN || !(await deaf(socket, JSON.stringify({ do: "hello" }), () => news)))
        return;
      if (socket.readyState === WebSocket.OPEN) {
        giveUp(socket);
        again();
      }
    }, 10000);
  };
  connect();
}
