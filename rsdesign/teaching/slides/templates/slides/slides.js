"use strict";
// Arrow keys, page keys, space and the buttons turn the slides; the address keeps the place.
const slides = [...document.querySelectorAll("section")];
const wanted = () => Number(location.hash.replace("#slide-", "")) - 1;
let shown = 0;
function show(place, focused = true) {
  shown = Math.min(Math.max(place || 0, 0), slides.length - 1);
  slides.forEach((slide, at) => slide.classList.toggle("shown", at === shown));
  history.replaceState(null, "", `#slide-${shown + 1}`);
  document.getElementById("back").disabled = shown === 0;
  document.getElementById("next").disabled = shown === slides.length - 1;
  scrollTo(0, 0);
  if (focused) slides[shown].focus();
}
const steps = { ArrowRight: 1, ArrowLeft: -1, PageDown: 1, PageUp: -1, " ": 1 };
addEventListener("keydown", (event) => {
  if (event.target.closest("button") && event.key === " ") return;
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key in steps) show(shown + steps[event.key]);
  else if (event.key === "Home") show(0);
  else if (event.key === "End") show(slides.length - 1);
  else if (event.key === "n") turnNotes();
  else return;
  event.preventDefault();
});
function turnNotes() {
  const on = document.body.classList.toggle("with-notes");
  document.getElementById("notes").setAttribute("aria-pressed", String(on));
}
document.getElementById("back").addEventListener("click", () => show(shown - 1, false));
document.getElementById("next").addEventListener("click", () => show(shown + 1, false));
document.getElementById("notes").addEventListener("click", turnNotes);
document.getElementById("print").addEventListener("click", () => print());
addEventListener("hashchange", () => show(wanted()));
show(wanted(), false);
