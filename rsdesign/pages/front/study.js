// A study that runs beside the page: how far it is, and how to stop it or start it again.

import { button, make, put } from "./dom.js";

const STUDY_REST = 500; // milliseconds at rest before a study is asked for
const STUDY_AGAIN = 400; // milliseconds between two questions how far it is

/** @typedef {{ state: string, share: number, words: string }} StudyNow */

/** @param {Say} say */
export function studyBlock(say) {
  const words = make("span", { role: "status" });
  const bar = make("progress", { max: "1", "aria-label": "How much of it is done" });
  const stop = button("Stop", () => say({ do: "stop_study" }));
  const start = button("Work it out", () => say({ do: "study", again: true }));
  const el = make("p", { class: "rs-study" }, bar, words, stop, start);
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let later;
  const ask = () => {
    if (document.hidden || !el.isConnected) later = setTimeout(ask, 4 * STUDY_AGAIN);
    else say({ do: "study" });
  };
  return {
    el,
    /** @param {StudyNow} now */
    show(now) {
      clearTimeout(later);
      const running = now.state === "running",
        waits = now.state === "waiting";
      el.dataset.state = now.state;
      put(words, now.words);
      bar.hidden = !running;
      bar.value = now.share;
      stop.hidden = !running;
      start.hidden = now.state !== "stopped" && now.state !== "failed";
      if (running || waits) later = setTimeout(ask, running ? STUDY_AGAIN : STUDY_REST);
    },
  };
}
