// The design lives in the address bar; what was typed and not answered outlives a reload.

import { hrefOf, placeOf } from "./address.js";
import { dropDrafts, keepDrafts, placeNow } from "./drafts.js";
import { remember, remembered } from "./memory.js";

const LAST_DESIGNS = 8;

/**
 * The address of a served page, written as its design changes.
 * @param {Say} say
 * @param {() => Frame | undefined} frame
 */
export function addressBar(say, frame) {
  /** @type {string | null} */
  let token = null;
  /** @type {string | null} */
  let shownPage = null;
  /** @type {[object, string, string] | null} */
  let unwritten = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let writing;
  let reloading = ""; // a reload asks for the address as it stood when it began

  function write() {
    clearTimeout(writing);
    if (unwritten) history.replaceState(...unwritten);
    unwritten = null;
  }
  // A phone that is locked stops every timer: what it shows is written before it sleeps.
  // So is what was typed: it is said, and kept until it is answered.
  function leaving() {
    const place = placeNow();
    say.leaveAll();
    write();
    keepDrafts([reloading, place, placeNow()], say.unanswered(), token);
  }
  document.addEventListener("visibilitychange", () => (document.hidden ? leaving() : dropDrafts()));
  window.addEventListener("beforeunload", () => {
    reloading = placeNow();
  });
  window.addEventListener("pagehide", leaving);
  window.addEventListener("popstate", () => {
    const asked = placeOf(location);
    shownPage = asked.page;
    // Back and forward turn pages: what was typed since stays in the design, and Undo takes it back.
    if (asked.page && frame()) say.turn(asked.page);
    else say({ do: "open", page: asked.page, token: asked.token });
  });

  /** @param {Frame} f */
  return function show(f) {
    if (f.token !== token) {
      token = f.token;
      const others = (remembered().last || []).filter((/** @type {any} */ x) => x && x.token && x.token !== f.token);
      const here = { token: f.token, words: `${f.name || "Design"}: ${f.summary}` };
      remember({ last: [here, ...others].slice(0, LAST_DESIGNS) });
    }
    clearTimeout(writing);
    unwritten = null;
    const page = f.series.find((p) => p.name === f.page);
    const url = hrefOf(/** @type {SeriesPage} */ (page), f.token);
    if (shownPage && shownPage !== f.page) history.pushState({ page: f.page }, "", url);
    else {
      unwritten = [{ page: f.page }, "", url];
      writing = setTimeout(write, 300);
    }
    shownPage = f.page;
    document.title = `${f.title} · ${f.name || "rsdesign"}`;
  };
}
