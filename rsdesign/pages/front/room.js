// The room: a team whose driver the others follow, the wall, and what an instructor says to all.
// Nothing is asked of the server but one line; without one the page is as it is for one person alone.

import { passedOn } from "./address.js";
import { fill, put } from "./dom.js";
import { driverOf } from "./driver.js";
import { roomLine } from "./room_line.js";
import { roomStart } from "./room_start.js";
import { keepTeam, teamKept } from "./team.js";
import { invitation, roomBar, teamParts, teamSentence, wallParts } from "./team_parts.js";

/**
 * @param {Say} say
 * @param {() => Frame | undefined} frame
 * @returns {Room}
 */
export function roomLink(say, frame) {
  const base = window.rsRoom || "";
  /** @type {Team | null} */
  let team = null;
  /** @type {string | null | undefined} */
  let taken = null; // the design that this follower took
  let asking = false; // whether the team is to be joined once the page stands
  let again = false; // whether this page was in its team before it was loaded anew
  let posting = false; // whether the design goes to the wall once there is a team
  let invited = "";
  /** @type {(settings: RoomSettings | null) => void} */
  let opened = () => {};
  const first = new Promise((/** @type {(settings: RoomSettings | null) => void} */ done) => {
    opened = done;
  });

  // --- what stands on the page -----------------------------------------------------------------
  const drive = () => said({ do: "drive" });
  const post = () => {
    if (team) said({ do: "post", ...(team.driving ? { token: frame()?.token } : {}) });
  };
  const bar = roomBar(drive);
  const parts = teamParts({ join, drive, post, invite, leave });
  const wall = wallParts(base, post, (name) => {
    posting = true;
    join({ name, code: "" });
  });
  const line = roomLine(base, { opened: stand, heard: hear, closed: () => opened(null), full: tell });
  const driver = driverOf(() => !!team && team.driving, frame, said);
  /** @param {string} words */
  function tell(words) {
    put(bar.notice, words);
  }
  /** @param {object} message */
  function said(message) {
    if (!line.send(message)) tell("The room is not connected just now; try again in a moment.");
  }
  /** @param {TeamAsked} about */
  function join(about) {
    const before = teamKept();
    const key = (before && before.name === about.name && before.key) || "";
    said({ do: "join", ...about, key, token: frame()?.token || "" });
  }
  function leave() {
    keepTeam(null);
    said({ do: "leave" });
  }
  function invite() {
    if (!team) return;
    const url = passedOn();
    url.search = "";
    url.searchParams.set("team", team.name);
    url.searchParams.set("code", team.code);
    invited = url.toString();
    say({ do: "qr", url: invited });
  }

  // --- hearing ---------------------------------------------------------------------------------
  function stand() {
    parts.el.hidden = false;
    asking = true;
    const f = frame();
    if (f) room.design(f);
  }
  /** @param {any} now */
  function hear(now) {
    if (now.room && line.seated()) tell("");
    if (now.room) {
      opened(now.room);
      start.set(now.room);
    }
    if ("team" in now) setTeam(now.team);
    if (now.notice) {
      tell(now.notice);
      put(wall.notice, now.notice);
      if (!team) posting = false;
    }
  }
  /** @param {Team | null} now */
  function setTeam(now) {
    const before = team;
    team = now;
    if (now) keepTeam({ name: now.name, code: now.code, key: now.key, drove: now.driving });
    else if (before) keepTeam(null);
    if (!before !== !now || (now && before && before.driving !== now.driving)) tell(""); // said of another state
    if (!now || !before || now.code !== before.code) {
      invited = "";
      fill(parts.qr);
    }
    follow(before, now);
    showTeam(now);
    if (frame()) room.redraw();
    if (now && now.driving) takeOver(before, now);
    if (now && posting) {
      posting = false;
      post();
    }
  }
  /**
   * @param {Team | null} before
   * @param {Team | null} now
   */
  function follow(before, now) {
    const follows = !!now && !now.driving;
    const mine = frame()?.token;
    if (follows && before && before.driving && mine && mine !== driver.newest() && mine !== now.token) {
      tell("Your last change came too late for the team. To have it back, press 'I drive now' and then Undo.");
    }
    if (follows && !(taken === now.token && room.following)) {
      taken = now.token;
      say({ do: "follow", on: true, token: now.token || "" });
    }
    if (!follows && room.following) say({ do: "follow", on: false });
    if (now && now.driving) driver.found(now.token);
    room.following = follows;
  }
  /** @param {Team | null} now */
  function showTeam(now) {
    parts.form.hidden = wall.form.hidden = !!now;
    parts.inTeam.hidden = wall.again.hidden = !now;
    put(bar.line, teamSentence(now));
    bar.line.classList.toggle("rs-said", !!now);
    if (now) put(parts.who, `Team ${now.name}, code ${now.code}. Say name and code to your team.`);
    parts.drive.hidden = bar.lineDrive.hidden = !room.following;
  }
  /**
   * A page that was loaded anew takes what its team had last; one that lived on has the newer design.
   * @param {Team | null} before
   * @param {Team} now
   */
  function takeOver(before, now) {
    const f = frame();
    if (!f) return;
    if (!before && again && now.token && now.token !== f.token) {
      say({ do: "follow", on: true, token: now.token });
      say({ do: "follow", on: false });
    } else if (!before || before.driving) driver.send(f.token);
  }

  /**
   * A team is joined again once the page stands, so that its own design comes before the driver's.
   * @param {Frame} f
   */
  function joinAgain(f) {
    asking = false;
    const kept = teamKept();
    const link = new URLSearchParams(location.search);
    const name = link.get("team");
    again = !!(kept && kept.name);
    if (again) said({ do: "join", again: true, ...kept, token: f.token });
    else if (name) join({ name, code: link.get("code") || "" });
  }

  /** @type {Room} */
  const room = {
    el: parts.el,
    bar: bar.el,
    wall: wall.el,
    path: [],
    following: false,
    redraw: () => {},
    changed: () => {},
    design(f) {
      start.offer(f);
      if (asking) joinAgain(f);
      if (!f.stale) driver.send(f.token);
      wall.el.hidden = f.page !== "whole" || parts.el.hidden;
    },
    first: () => start.inTime(first),
    take(reply) {
      if (!reply.qr || !team || reply.url !== invited) return false;
      fill(parts.qr, ...invitation(team, reply.qr));
      return true;
    },
  };
  const start = roomStart(bar, say, frame, room);
  if (base) line.connect();
  else opened(null);
  return room;
}
