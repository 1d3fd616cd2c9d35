// What a page says of the line to its program.

import { MOST_KEPT } from "./outbox.js";

export const SENTENCES = {
  tooLarge: "That is too large for a design and was not sent. Reload the page to go on.",
  tooMany:
    `More than ${MOST_KEPT} changes wait for the line, and the last are not taken. ` +
    "Once the page is connected again, reload it to see your design as it is.",
  lost: "This page has lost its program: figures no longer follow your changes. ",
  missing: " Your last change may be missing: look for it.",
  signedOut: "You are signed out. Reload the page to sign in again; ",
  refused:
    "The page reaches its program and the line to it closes again. We go on trying; reload the page if this stays. ",
};

/**
 * Where a person's work is kept: the page's own sentence, or `words`.
 * @param {string} words
 */
export const kept = (words) => window.rsKept || words;
