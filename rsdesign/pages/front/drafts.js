// What a page that is loaded anew had not been answered, and its design where the address that is asked
// for is older: kept for this tab alone, and for these addresses.

const DRAFTS = "rsdesign.drafts";

export const placeNow = () => location.pathname + location.search;

/**
 * @param {string[]} places
 * @param {Draft[]} list
 * @param {string | null} token
 */
export function keepDrafts(places, list, token) {
  try {
    sessionStorage.setItem(DRAFTS, JSON.stringify({ at: places, list, token }));
  } catch {
    /* nothing can be kept here */
  }
}

export function dropDrafts() {
  try {
    sessionStorage.removeItem(DRAFTS);
  } catch {
    /* nothing was kept */
  }
}

/** @returns {{ list: Draft[], token: string }} */
export function takeDrafts() {
  const none = { list: [], token: "" };
  try {
    const kept = JSON.parse(sessionStorage.getItem(DRAFTS) || "null");
    dropDrafts();
    return kept && kept.at.includes(placeNow()) && Array.isArray(kept.list) ? kept : none;
  } catch {
    return none;
  }
}
