// A slider under a finger: a tap moves it, and so does its thumb drawn sideways. A swipe that begins on
// the track scrolls the page and changes nothing, so the browser's own slider is out of reach where a
// screen can be touched (style.css), and the track around it takes the finger.

const THUMB = 24; // pixels
const REACH = 24; // how near its middle a finger holds it
const MEANT = 6; // how far is a move

/**
 * @param {HTMLElement} track
 * @param {HTMLInputElement} slider
 */
export function slideByTouch(track, slider) {
  let hold = null; // the pointer on the track, and whether it moves the thumb
  const bounds = () => slider.getBoundingClientRect();
  const place = (x) => {
    const b = bounds(),
      share = (x - b.left - THUMB / 2) / Math.max(1, b.width - THUMB);
    return Math.round(Number(slider.min) + Math.min(1, Math.max(0, share)) * (Number(slider.max) - Number(slider.min)));
  };
  const middle = () => {
    const b = bounds();
    return (
      b.left +
      THUMB / 2 +
      ((b.width - THUMB) * (Number(slider.value) - Number(slider.min))) / (Number(slider.max) - Number(slider.min))
    );
  };
  const move = (x) => {
    const at = String(place(x));
    if (at === slider.value) return;
    slider.value = at;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const end = () => {
    hold = null;
    slider.dispatchEvent(new Event("change", { bubbles: true }));
  };
  const take = (e) => {
    hold.moves = true;
    track.setPointerCapture(e.pointerId);
    slider.focus({ preventScroll: true });
  };
  track.addEventListener("pointerdown", (e) => {
    const b = bounds();
    if (
      e.target === slider ||
      slider.matches(":disabled") ||
      e.button !== 0 ||
      !e.isPrimary ||
      e.clientY < b.top ||
      e.clientY > b.bottom
    )
      return;
    const grip = e.clientX - middle(),
      near = Math.abs(grip) <= REACH;
    hold = {
      id: e.pointerId,
      x: e.clientX,
      y: e.clientY,
      grip: near ? grip : 0,
      near,
      moves: false,
      mouse: e.pointerType === "mouse",
    };
    if (!hold.mouse) return;
    e.preventDefault(); // a mouse beside a touch screen: as on any slider
    take(e);
    if (!near) move(e.clientX);
  });
  track.addEventListener("pointermove", (e) => {
    if (!hold || e.pointerId !== hold.id) return;
    const [dx, dy] = [Math.abs(e.clientX - hold.x), Math.abs(e.clientY - hold.y)];
    if (!hold.moves && hold.near && dx >= MEANT && dx > dy) take(e);
    if (hold.moves) move(e.clientX - hold.grip);
  });
  track.addEventListener("pointerup", (e) => {
    if (!hold || e.pointerId !== hold.id) return;
    if (hold.moves) end();
    else hold.up = true; // a tap, unless the browser says otherwise
  });
  track.addEventListener("pointercancel", () => {
    if (hold && hold.moves) end();
    hold = null;
  }); // it scrolls
  // The browser sends a click after a tap, and none after a swipe or after a finger that stopped a scroll.
  track.addEventListener("click", (e) => {
    const tap = hold && hold.up && Math.hypot(e.clientX - hold.x, e.clientY - hold.y) < 2 * MEANT;
    if (hold && hold.up) hold = null;
    if (!tap || slider.matches(":disabled")) return;
    slider.focus({ preventScroll: true });
    move(e.clientX);
    end();
  });
}
