// A page for the tests of this folder: elements by jsdom, a socket and a server that a test holds in its hands.

import { JSDOM } from "jsdom";

const HTML = `<body><div id="rs-lost" hidden><p></p></div><main id="place"></main></body>`;
const URL_OF_PAGE = "http://127.0.0.1:8866/voila/render/05_solids.ipynb";

/** Sockets that were opened, the newest last. */
export const sockets = [];

/** What the server answers to a question about the kernel; null for no answer. */
export const server = { status: 200 };

export class FakeSocket {
  static CONNECTING = 0;
  static OPEN = 1;
  static CLOSED = 3;
  constructor(url) {
    this.url = String(url);
    this.readyState = FakeSocket.CONNECTING;
    this.sent = [];
    sockets.push(this);
  }
  send(text) {
    this.sent.push(JSON.parse(text));
  }
  open() {
    this.readyState = FakeSocket.OPEN;
    this.onopen?.();
  }
  close() {
    this.readyState = FakeSocket.CLOSED;
    this.onclose?.({ code: 1006 });
  }
  hear(message) {
    this.onmessage?.({ data: JSON.stringify(message) });
  }
}

const dom = new JSDOM(HTML, { url: URL_OF_PAGE, pretendToBeVisual: true });
const names = ["window", "document", "location", "history", "sessionStorage", "localStorage", "Node", "Event"];
const elements = ["Element", "HTMLElement", "HTMLSelectElement", "HTMLInputElement", "KeyboardEvent"];
for (const name of [...names, ...elements]) {
  Object.defineProperty(globalThis, name, { value: dom.window[name], configurable: true });
}
globalThis.WebSocket = FakeSocket;
globalThis.matchMedia = () => ({ matches: false }); // a desk
globalThis.fetch = async (url) => {
  if (server.status === null) throw new TypeError("no answer");
  return { status: server.status, ok: server.status < 400, redirected: false, url: String(url) };
};

/** The state of a page that was just opened. */
export function fresh() {
  sockets.length = 0;
  server.status = 200;
  sessionStorage.clear();
  document.getElementById("rs-lost").hidden = true;
  document.getElementById("place").replaceChildren();
  delete document.body.dataset.ready;
}

/** Promises that are ready are settled; mock timers do not reach them. */
export async function settled() {
  for (let i = 0; i < 20; i += 1) await Promise.resolve();
}
