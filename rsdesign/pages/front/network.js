// Web sockets of this site: opened, asked whether they still carry anything, and given up.

/**
 * @param {string} path
 * @returns {WebSocket}
 */
export function lineTo(path) {
  const url = new URL(path, location.href);
  url.protocol = location.protocol === "https:" ? "wss:" : "ws:";
  return new WebSocket(url);
}

/**
 * A line that slept looks open and carries nothing: whether a question brings back nothing at all.
 * @param {WebSocket} socket
 * @param {string} question
 * @param {() => number} heard how many messages came
 */
export async function deaf(socket, question, heard) {
  const before = heard();
  socket.send(question);
  await new Promise((done) => setTimeout(done, 5000));
  return heard() === before;
}

/** @param {WebSocket} socket */
export function giveUp(socket) {
  socket.onclose = socket.onmessage = null;
  socket.close();
}

/**
 * A server behind a sign-in answers a script only when it repeats the word that it gave this page.
 * @returns {Record<string, string>}
 */
export function signed() {
  const word = /(?:^|; )_xsrf=([^;]*)/.exec(document.cookie);
  return word ? { "X-XSRFToken": word[1] } : {};
}

/**
 * Messages of the kernel's protocol. Each is made anew when it is sent: a program refuses a message whose
 * header it has seen.
 * @param {string} session
 */
export function envelopes(session) {
  let count = 0;
  return (/** @type {string} */ kind, /** @type {object} */ content) => {
    count += 1;
    const about = { msg_id: `${session}-${count}`, session, username: "", msg_type: kind, version: "5.3" };
    const header = { ...about, date: new Date().toISOString() };
    return JSON.stringify({ channel: "shell", buffers: [], parent_header: {}, metadata: {}, content, header });
  };
}

/**
 * @param {URL} api
 * @returns {Promise<Response | null>} null where nothing answers
 */
export async function answerOfKernel(api) {
  try {
    return await fetch(api, { cache: "no-store", headers: signed(), signal: window.AbortSignal?.timeout?.(6000) });
  } catch {
    return null;
  }
}
