// The driver's design goes to the room as it changes, not too often.

const BETWEEN = 150; // milliseconds between two designs

/**
 * @param {() => boolean} drives
 * @param {() => Frame | undefined} frame
 * @param {(message: object) => void} said
 */
export function driverOf(drives, frame, said) {
  /** @type {string | null | undefined} */
  let newest = null; // the newest design that was sent, or found in the room
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let later;
  let last = 0;
  /** @param {string} token */
  function send(token) {
    if (!drives() || token === newest) return;
    clearTimeout(later);
    const wait = last + BETWEEN - performance.now();
    if (wait > 0) {
      later = setTimeout(() => send(frame()?.token || token), wait);
      return;
    }
    last = performance.now();
    newest = token;
    said({ do: "design", token });
  }
  return {
    send,
    newest: () => newest,
    /** @param {string | null | undefined} token */
    found(token) {
      newest = token;
    },
  };
}
