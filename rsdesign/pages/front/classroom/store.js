// What a person did on the pages of a class is kept in this browser; the kernel only ever sends what may be seen.

const KEEP_CLASS = "rsdesign.class.v1";

/** @returns {Record<string, any>} */
export function classStore() {
  try {
    return JSON.parse(localStorage.getItem(KEEP_CLASS) || "null") || {};
  } catch {
    return {};
  }
}

/** @param {object} all */
function storeClass(all) {
  try {
    localStorage.setItem(KEEP_CLASS, JSON.stringify(all));
  } catch {
    /* a private window keeps nothing: the file does */
  }
}

/** @param {{ file: string }} kept */
const savedTimes = (kept) => {
  try {
    return JSON.parse(kept.file).saved || 0;
  } catch {
    return 0;
  }
};

/** @typedef {{ set: string, code: string, file: string }} Work */

/**
 * Work is kept for each set and code; work with more in it is never written over, it steps aside.
 * @param {string} page
 * @param {Work} what
 */
export function keepClass(page, what) {
  const all = classStore();
  if (page === "exercises") {
    const key = `${what.set} ${what.code}`,
      works = all.works || {},
      there = works[key];
    if (there && savedTimes(there) > savedTimes(what)) all.old = there;
    all.works = { ...works, [key]: what };
  }
  storeClass({ ...all, [page]: what });
}

/** @param {string} page */
export function forgetClass(page) {
  const all = classStore();
  if (page === "exercises")
    try {
      sessionStorage.removeItem(UNCHECKED);
    } catch {
      /* nothing was kept */
    }
  for (const key of page === "exercises" ? [page, "works", "old"] : [page]) delete all[key];
  storeClass(all);
}

// What was typed for a problem and not checked yet, kept for this tab through another problem or a reload.
const UNCHECKED = "rsdesign.unchecked";

/** @returns {Record<string, any>} */
export function unchecked() {
  try {
    return JSON.parse(sessionStorage.getItem(UNCHECKED) || "null") || {};
  } catch {
    return {};
  }
}

/**
 * @param {string} key the problem
 * @param {object | null} texts
 */
export function keepUnchecked(key, texts) {
  const all = unchecked();
  if (texts) all[key] = texts;
  else delete all[key];
  try {
    sessionStorage.setItem(UNCHECKED, JSON.stringify(all));
  } catch {
    /* nothing can be kept here */
  }
}
