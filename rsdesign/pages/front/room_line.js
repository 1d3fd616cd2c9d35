// The line to the room: opened again whenever it breaks.

import { deaf, giveUp, lineTo } from "./network.js";

const NO_SEAT = 30000; // milliseconds until a full room is asked again

/**
 * @param {string} base where the room is
 * @param {{ opened: () => void, heard: (now: any) => void, closed: () => void, full: (why: string) => void }} handlers
 */
export function roomLine(base, handlers) {
  /** @type {WebSocket | null} */
  let socket = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let soon;
  let tries = 0;
  let news = 0;
  let noSeatUntil = 0;
  const isOpen = () => !!socket && socket.readyState === WebSocket.OPEN;

  async function connect() {
    // A room that is another server of the same hub lets a browser in once it has been led through its sign-in.
    if (!location.pathname.startsWith(base)) {
      await fetch(`${base}room/style.css`, { cache: "no-store" }).catch(() => null);
    }
    clearTimeout(soon);
    if (socket && socket.readyState <= WebSocket.OPEN) return;
    socket = lineTo(`${base}room/socket`);
    socket.onopen = () => {
      tries = 0;
      handlers.opened();
    };
    socket.onmessage = (event) => {
      news += 1;
      handlers.heard(JSON.parse(event.data));
    };
    socket.onclose = (event) => {
      tries += 1;
      handlers.closed();
      const refused = event.code === 1008; // no seat is left in the room: the reason stands until there is one
      if (refused) {
        noSeatUntil = Date.now() + NO_SEAT;
        handlers.full(event.reason);
      }
      soon = setTimeout(connect, refused ? NO_SEAT : Math.min(tries < 12 ? 8000 : 30000, 300 * 2 ** tries));
    };
  }

  async function probe() {
    if (document.hidden || !socket || socket.readyState === WebSocket.CONNECTING) return;
    const asked = socket;
    if (!isOpen()) {
      if (Date.now() < noSeatUntil) return;
      tries = 0;
      connect();
      return;
    }
    const silent = await deaf(asked, JSON.stringify({ do: "hello" }), () => news);
    if (!silent || socket !== asked || document.hidden) return;
    giveUp(asked);
    socket = null;
    connect();
  }

  document.addEventListener("visibilitychange", probe);
  window.addEventListener("online", probe);
  setInterval(() => isOpen() && probe(), 20000);
  return {
    connect,
    /** A seat was given: whether one had been refused before. */
    seated() {
      const refused = noSeatUntil > 0;
      noSeatUntil = 0;
      return refused;
    },
    /**
     * @param {object} message
     * @returns {boolean} whether there is a line that takes it
     */
    send(message) {
      const open = isOpen();
      if (open && socket) socket.send(JSON.stringify(message));
      return open;
    },
  };
}
