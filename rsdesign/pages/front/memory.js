// What this browser remembers between visits.

const KEEP = "rsdesign.v1";

/** @returns {Record<string, any>} */
export function remembered() {
  try {
    return JSON.parse(localStorage.getItem(KEEP) || "null") || {};
  } catch {
    return {};
  }
}

/** @param {Record<string, any>} more */
export function remember(more) {
  try {
    localStorage.setItem(KEEP, JSON.stringify({ ...remembered(), ...more }));
  } catch {
    /* a private window keeps nothing */
  }
}
