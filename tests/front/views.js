// A view on a page for tests: what it says, and its buttons by their words.

import { fresh } from "./page.js";

const { sayer } = await import("../../rsdesign/pages/front/boxes.js");

/** A fresh page: its place, what was said, and the means to put a view there and press its buttons. */
export function freshView() {
  fresh();
  const said = [];
  const place = document.getElementById("place");
  const named = (words) =>
    [...place.querySelectorAll("button")].find((b) =>
      (b.getAttribute("aria-label") || b.textContent).startsWith(words),
    );
  return {
    said,
    say: sayer((message) => said.push(message)),
    place,
    put(view, now) {
      if (!place.contains(view.el)) place.append(view.el);
      view.show(now);
      return view;
    },
    named,
    press(words) {
      named(words).focus();
      named(words).click();
    },
  };
}
