// The log that this browser keeps, in its own storage; nothing of it is kept anywhere else.

const LOG_PLACE = "rsdesign.log.v1";

/** @typedef {{ lines: string[][], mark: string, kits: Record<string, string> }} KeptLog */

/** @returns {KeptLog} */
export function keptLog() {
  try {
    const kept = JSON.parse(localStorage.getItem(LOG_PLACE) || "null");
    if (kept && Array.isArray(kept.lines)) return { mark: ",", kits: {}, ...kept };
  } catch {
    /* what cannot be read is as good as nothing; it is written over only by a new test */
  }
  return { lines: [], mark: ",", kits: {} };
}

/**
 * Whether the log could be kept: a private window or a full disk keeps nothing.
 * @param {KeptLog} log
 */
export function keepLog(log) {
  try {
    localStorage.setItem(LOG_PLACE, JSON.stringify(log));
    return true;
  } catch {
    return false;
  }
}
