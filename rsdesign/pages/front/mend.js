// What to mend first: stub until the real one is merged.

import { fill, make } from "./dom.js";

/** @param {Say} say */
export function mendBlock(say) {
  const list = make("ol", { class: "rs-mendlist" });
  return {
    el: list,
    show(now) {
      fill(list, now.worst.map((w) => make("li", { class: `rs-check rs-${w.plaque}` }, make("strong", {}, w.title), " ", w.words)));
    },
  };
}
