// The same design in a new program, without a word: after sleep, or after the line was down.

const AGAIN = "rsdesign.again";
const SOON = 10000; // milliseconds
let leaving = false;

/** Whether this page is being loaded anew: then nothing is said any more. */
export const isLeaving = () => leaving;

/**
 * Load the page anew. A reload that did not help is not followed by another at once: false, and then a
 * sentence says so.
 * @returns {boolean}
 */
export function reloadOnce() {
  if (leaving) return true;
  let last = 0;
  try {
    last = Number(sessionStorage.getItem(AGAIN)) || 0;
    if (Date.now() - last > SOON) sessionStorage.setItem(AGAIN, String(Date.now()));
  } catch {
    last = performance.now() < SOON ? Date.now() : 0; // nothing can be kept: a page just opened is the trace
  }
  if (Date.now() - last < SOON) return false;
  leaving = true;
  location.reload();
  return true;
}
