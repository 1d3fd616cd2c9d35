// A design page: what the kernel composed is put where it belongs, and what a person does is said.

import { placeOf } from "./address.js";
import { addressBar } from "./address_bar.js";
import { renderClass } from "./classroom/page.js";
import { classPageOf, classWays } from "./classroom/ways.js";
import { make, onPhone } from "./dom.js";
import { takeDrafts } from "./drafts.js";
import { exchange, keepKeys } from "./exchange.js";
import { layOut } from "./layout.js";
import { remember, remembered } from "./memory.js";
import { navigation, roomSeries } from "./nav.js";
import { lockPage, showBlocks, showNext, showState, showText } from "./page_parts.js";
import { asideAsker, widthOf } from "./rest.js";

/**
 * A page in an element; `roomOf` makes its line to the room, where a server of ours serves it.
 * @param {{ model: Model, el: HTMLElement }} place
 * @param {((say: Say, frame: () => Frame) => Room) | null} roomOf
 * @param {Blocks} carried the blocks that came with the page itself, before its kernel was spoken to
 * @returns {() => void} what takes the page away
 */
export function render({ model, el }, roomOf = null, carried = {}) {
  const classPage = classPageOf(model);
  if (classPage) return renderClass({ model, el, page: classPage });
  const served = !!window.rsServed;
  /** @type {Blocks} */
  const now = {};
  /** @type {Frame} */
  let lastFrame;
  const root = make("div", { class: served ? "rs" : "rs rs-lab" });
  const loseKeys = keepKeys(root);
  const line = exchange(model);
  const say = line.say;
  const drafts = served ? takeDrafts() : { list: [], token: "" };
  const frame = () => now.frame;
  const room = served && roomOf ? roomOf(say, frame) : null;
  const laid = layOut(root, say, model, frame, room);
  const address = served ? addressBar(say, frame) : null;
  el.replaceChildren(root);
  const width = widthOf(laid.see);
  const asides = asideAsker(line);

  /** @param {any} message */
  function hear(message) {
    if (!message.blocks) return;
    line.answered(message.ack, message.blocks);
    Object.assign(now, message.blocks);
    show(message.blocks);
    if (message.ack !== undefined) {
      root.dataset.ack = message.ack;
      say.answered(message.ack);
      if (drafts.list.length) laid.views.choices.again(drafts.list.splice(0));
    }
    line.release();
    if (message.ack !== undefined && !message.quiet) asides.ask(message.ack);
  }

  /**
   * @param {Blocks} blocks
   * @param {boolean} [early] before the kernel knows what this browser remembers
   */
  function show(blocks, early = false) {
    if (blocks.frame) showFrame(blocks.frame, early);
    else if (blocks.strip && address) navigation(lastFrame, say, blocks.strip);
    if (blocks.text) showText(laid, blocks.text);
    showBlocks(laid, blocks, now);
    if (blocks.reply && !(room && room.take(blocks.reply))) laid.tools.share.take(blocks.reply);
    document.body.dataset.drawn = "1";
    if (early) return;
    root.dataset.ready = "1";
    document.body.dataset.ready = "1";
  }

  /**
   * @param {Frame} f
   * @param {boolean} [early]
   */
  function showFrame(f, early = false) {
    showState(laid, f);
    const follows = !!room && room.following;
    if (follows) say.lockAll(); // before the boxes are left by being locked
    lockPage(laid, f, follows);
    const inRoom = room ? seriesInRoom(f, room) : f;
    lastFrame = inRoom;
    if (address) {
      navigation(inRoom, say, now.strip || []);
      classWays(inRoom);
    }
    if (!early) {
      if (room) room.design(inRoom);
      remember({ guesses: f.guesses, pins: f.pins.map((p) => [p.name, p.token]), own: f.own });
      if (address) address(inRoom);
    }
    showNext(laid, inRoom, served, say);
  }

  model.on("msg:custom", hear);
  setInterval(() => root.classList.toggle("rs-busy", line.busy()), 200);
  const asked = served ? placeOf(location) : { page: undefined, token: "", units: null };
  if (drafts.token) asked.token = drafts.token;
  if (room) room.redraw = () => now.frame && showFrame(now.frame);
  const drawn = fits(carried, asked) && !drafts.list.length;
  if (drawn) {
    const { phone, ...blocks } = carried;
    line.complete(blocks);
    if (onPhone()) {
      // Drawn for a desk, it would only be seen until the drawing for a phone comes.
      delete blocks.picture;
      laid.views.picture.wait(phone);
    }
    show(Object.assign(now, blocks), true);
  }
  const wider = new ResizeObserver(() => {
    const changed = width.changed();
    if (changed && now.frame) say({ do: "width", ...changed });
  });
  // Measured when the page is asked for: the browser has laid it out by then, and does not do so twice.
  const about = () => (wider.observe(laid.see), { ...width(), drawn, edits: true });
  openPage(line, asked, frame, room, about);
  return () => {
    wider.disconnect();
    model.off("msg:custom", hear);
    loseKeys();
  };
}

/**
 * Whether the blocks that came with a page are what it is going to show, as far as can be told by now.
 * @param {Blocks} carried
 * @param {{ page: string | undefined, token: string, units: string | null }} asked
 */
function fits({ frame: f }, asked) {
  const { units, full } = remembered();
  const wanted = asked.units || units;
  return !!f && !asked.token && !full && (!wanted || wanted === f.units) && (!asked.page || asked.page === f.page);
}

/**
 * The page is asked for, with what this browser remembers and what the room starts from.
 * @param {ReturnType<typeof exchange>} line
 * @param {{ page: string | undefined, token: string, units: string | null }} asked
 * @param {() => Frame | undefined} frame
 * @param {Room | null} room
 * @param {() => { width: number, narrow: boolean, drawn: boolean }} about how wide it is, and whether it was drawn
 */
function openPage(line, asked, frame, room, about) {
  const kept = remembered();
  const { guesses, pins, full, own } = kept;
  const start = (/** @type {RoomSettings | null} */ set) =>
    line.send({
      do: "open",
      page: asked.page,
      token: asked.token || "",
      units: asked.units || kept.units || (set && set.units),
      full,
      ...about(),
      guesses,
      pins,
      own: own || {},
      start: true,
      room: set ? set.values : null,
    });
  if (!room) {
    start(null);
    return;
  }
  const roomUnits = (/** @type {RoomSettings} */ set) => {
    const f = frame();
    if (!set.units || asked.units || remembered().units || (f && f.units === set.units)) return;
    line.say({ do: "units", units: set.units });
  };
  room.changed = (set, late = false) => {
    line.say({ do: "enter", room: set.values, late: late && !asked.token });
    roomUnits(set);
  };
  // With a design of its own a page waits for nobody; what the room sets for later doors follows.
  if (!asked.token) room.first().then(start);
  else {
    start(null);
    room.first().then((set) => {
      if (set && Object.keys(set.values).length) line.say({ do: "enter", room: set.values });
      if (set) roomUnits(set);
    });
  }
}

/**
 * The series as the room walks it.
 * @param {Frame} f
 * @param {Room} room
 * @returns {Frame}
 */
function seriesInRoom(f, room) {
  const more = () => {
    room.path = [];
    room.redraw();
  };
  return { ...f, all: f.series, series: roomSeries(f.series, room.path, f.page), more };
}
