// Something that cannot be taken back asks once more, on the same button.

import { button, put } from "./dom.js";

const PATIENCE_OF_SURE = 6000; // milliseconds

/**
 * @param {string} words
 * @param {() => void} act
 */
export function sure(words, act) {
  let asked = false;
  const el = button(words, () => {
    if (asked) act();
    else {
      asked = true;
      put(el, `${words}? Press again`);
      setTimeout(() => {
        asked = false;
        put(el, words);
      }, PATIENCE_OF_SURE);
    }
  });
  return el;
}
