// The room: a team whose driver the others follow, the wall, and what an instructor says to all.
// Nothing is asked of the server but one line; without one the page is as it is for one person alone.

const TEAM = "rsdesign.team";

function teamKept() { try { return JSON.parse(sessionStorage.getItem(TEAM)); } catch { return null; } }
function keepTeam(about) {
  try { if (about) sessionStorage.setItem(TEAM, JSON.stringify(about)); else sessionStorage.removeItem(TEAM); } catch { /* a private window keeps nothing */ }
}

const REFUSED = "rsdesign.roomrefused";
function refusedRoom() { try { return sessionStorage.getItem(REFUSED); } catch { return null; } }
function keepRefusal(values) { try { sessionStorage.setItem(REFUSED, values); } catch { /* asked again after the next reload */ } }

function roomLink(say, frame) {
  const base = window.rsRoom;
  let known = "[]";
  const room = { path: [], following: false, settings: null };
  let socket = null, tries = 0, team = null, sent = null, taken = null, heard = 0, opened = null, asking = false, again = false;
  const first = new Promise((done) => { opened = done; });
  let values = null, soon = 0, news = 0, noSeatUntil = 0;
  const said = (message) => { if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message)); else put(told, "The room is not connected just now; try again in a moment."); };

  // --- what stands on the page -----------------------------------------------------------------
  const message = make("p", { class: "rs-roommessage", role: "status", "aria-live": "polite" });
  const line = make("p", { class: "rs-teamline", role: "status" });
  const told = make("p", { class: "rs-sentence", role: "status" });
  const button = (words, act) => make("button", { type: "button", class: "rs-button", onclick: act }, words);
  const box = (id, most) => make("input", { id, type: "text", maxlength: most, autocomplete: "off", spellcheck: "false" });
  const name = box("rs-team-name", 30), code = box("rs-team-code", 7);
  const form = make("form", { onsubmit: (e) => { e.preventDefault(); join({ name: name.value, code: code.value }); } },
    make("p", {}, "One of a team drives; the others follow the same design live. Whoever starts a team drives first."),
    make("div", { class: "rs-picks" }, make("label", { for: name.id }, "Team name (to start a team)"), name, make("label", { for: code.id }, "Team code (to join one)"), code,
      make("button", { type: "submit", class: "rs-button" }, "Join or start")));
  const who = make("p", {}), drive = button("I drive now", () => said({ do: "drive" }));
  let invited = "";
  const invite = button("Show QR code for my team", () => { invited = inviteLink(); say({ do: "qr", url: invited }); });
  const qr = make("div", { class: "rs-qr" });
  const leave = button("Leave the team", () => { keepTeam(null); said({ do: "leave" }); });
  const post = () => { if (team) said({ do: "post", ...(team.driving ? { token: frame().token } : {}) }); };
  const inTeam = make("div", { hidden: true }, who, make("div", { class: "rs-picks" }, drive, button("Post to the wall", post), invite, leave), qr);
  const el = make("details", { class: "rs-share rs-team", hidden: true }, make("summary", {}, "Team"), make("div", { class: "rs-sharebody" }, form, inTeam));
  const wallName = box("rs-wall-team", 30), wallTold = make("p", { class: "rs-sentence" });
  const wallForm = make("form", { class: "rs-picks", onsubmit: (e) => { e.preventDefault(); room.post = true; join({ name: wallName.value, code: "" }); } },
    make("label", { for: wallName.id }, "Team name"), wallName, make("button", { type: "submit", class: "rs-button" }, "Post to the wall"));
  const wallPost = button("Post to the wall", post);
  wallPost.hidden = true; // until there is a team
  const wall = section("wallpost", "The wall");
  wall.body.append(make("p", {}, "Put this design beside those of the other teams. Everyone in the room can see it; post again to replace it."),
    wallForm, wallPost, make("p", {}, make("a", { href: `${base}wall`, target: "_blank", rel: "noopener" }, "Open the wall")), wallTold);
  wall.el.hidden = true;

  function join(about) {
    const before = teamKept();
    said({ do: "join", ...about, key: (before && before.name === about.name && before.key) || "", token: frame() ? frame().token : "" });
  }
  function inviteLink() {
    const url = passedOn();
    url.search = "";
    url.searchParams.set("team", team.name);
    url.searchParams.set("code", team.code);
    return url.toString();
  }

  // --- hearing ---------------------------------------------------------------------------------
  function hear(now) {
    if (now.room && noSeatUntil) { noSeatUntil = 0; put(told, ""); } // a seat
    if (now.room) setRoom(now.room);
    if ("team" in now) setTeam(now.team);
    if (now.told) { put(told, now.told); put(wallTold, now.told); if (!team) room.post = false; }
  }
  function setRoom(settings) {
    room.settings = settings;
    opened(settings);
    if (settings.number !== heard) { heard = settings.number; put(message, settings.message); }
    message.classList.toggle("rs-said", !!settings.message);
    const path = JSON.stringify(settings.path);
    if (path !== known) {
      known = path;
      room.path = settings.path; if (frame()) room.redraw(); }
    const set = JSON.stringify([settings.values, settings.units]);
    if (frame() && set !== values && (values !== null || settings.units || Object.keys(settings.values).length)) room.changed(settings);
    values = set;
    if (frame() && Object.keys(settings.values).length) offerRoom(frame()); // the frame itself may stay as it was
  }
  // What the instructor sets while a design stands here changes it only when somebody says so.
  const offer = make("div", { class: "rs-picks rs-roomoffer", role: "status" });
  function offerRoom(f) {
    const wanted = f.room_differs && !room.following && refusedRoom() !== values;
    if (!wanted) { fill(offer); return; }
    if (offer.firstChild) return;
    fill(offer, make("p", {}, "The instructor has set prices, site or weather for the room. This design has others."),
      button("Use the room's", () => say({ do: "use_room" })), button("Keep mine", () => { keepRefusal(values); fill(offer); }));
  }
  function setTeam(now) {
    const before = team;
    team = now;
    if (now) keepTeam({ name: now.name, code: now.code, key: now.key, drove: now.driving });
    else if (before) keepTeam(null);
    if (!before !== !now || (now && before.driving !== now.driving)) put(told, ""); // what was said of another state
    if (!now || !before || now.code !== before.code) { invited = ""; fill(qr); }
    form.hidden = !!now;
    inTeam.hidden = !now;
    wallForm.hidden = !!now;
    wallPost.hidden = !now;
    const follows = !!now && !now.driving, mine = frame() && frame().token;
    if (follows && before && before.driving && mine && mine !== sent && mine !== now.token) {
      put(told, "Your last change came too late for the team. To have it back, press 'I drive now' and then Undo.");
    }
    if (follows && !(taken === now.token && room.following)) { taken = now.token; say({ do: "follow", on: true, token: now.token || "" }); }
    if (!follows && room.following) say({ do: "follow", on: false });
    if (now && now.driving) sent = now.token;
    room.following = follows;
    put(line, !now ? "" : now.driving ? `Team ${now.name}: you drive. ${others(now)}` : now.driver ? `Team ${now.name}: you follow the driver, so choices are locked. Press "I drive now" to change the design.`
      : `Team ${now.name}: nobody drives just now. Press "I drive now" to change the design.`);
    line.classList.toggle("rs-said", !!now);
    if (now) put(who, `Team ${now.name}, code ${now.code}. Say name and code to your team.`);
    drive.hidden = !follows;
    lineDrive.hidden = !follows;
    if (frame()) room.redraw();
    if (now && now.driving && frame()) {
      // A page that was loaded anew takes what its team had last; one that lived on has the newer design.
      if (!before && again && now.token && now.token !== frame().token) { say({ do: "follow", on: true, token: now.token }); say({ do: "follow", on: false }); }
      else if (!before || before.driving) send(frame().token);
    }
    if (now && room.post) { room.post = false; post(); }
  }
  const others = (now) => now.here === 1 ? `Code ${now.code}: nobody follows yet.` : `Code ${now.code}: ${now.here - 1} follow${now.here === 2 ? "s" : ""}.`;
  const lineDrive = button("I drive now", () => said({ do: "drive" }));
  lineDrive.hidden = true;

  // --- the driver's design ---------------------------------------------------------------------
  let later = 0, last = 0;
  function send(token) {
    if (!team || !team.driving || token === sent) return;
    clearTimeout(later);
    const wait = last + 150 - performance.now();
    if (wait > 0) { later = setTimeout(() => send(frame().token), wait); return; }
    last = performance.now();
    sent = token;
    said({ do: "design", token });
  }
  // A team is joined again once the page stands, so that its own design comes before the driver's.
  function joinAgain() {
    asking = false;
    const kept = teamKept(), link = new URLSearchParams(location.search);
    again = !!(kept && kept.name);
    if (again) said({ do: "join", again: true, ...kept, token: frame().token });
    else if (link.get("team")) join({ name: link.get("team"), code: link.get("code") || "" });
  }
  room.design = (f) => { offerRoom(f); if (asking) joinAgain(); if (!f.stale) send(f.token); wall.el.hidden = f.page !== "whole" || el.hidden; };

  async function connect() {
    // A room that is another server of the same hub lets a browser in once it has been led through its sign-in.
    if (!location.pathname.startsWith(base)) await fetch(`${base}room/style.css`, { cache: "no-store" }).catch(() => null);
    clearTimeout(soon);
    if (socket && socket.readyState <= WebSocket.OPEN) return;
    socket = lineTo(`${base}room/socket`);
    socket.onopen = () => {
      tries = 0;
      el.hidden = false;
      asking = true;
      if (frame()) room.design(frame());
    };
    socket.onmessage = (event) => { news += 1; hear(JSON.parse(event.data)); };
    socket.onclose = (event) => {
      tries += 1;
      opened(null);
      const refused = event.code === 1008; // no seat is left in the room: the reason stands until there is one
      if (refused) { noSeatUntil = Date.now() + 30000; put(told, event.reason); }
      soon = setTimeout(connect, refused ? 30000 : Math.min(tries < 12 ? 8000 : 30000, 300 * 2 ** tries));
    };
  }
  async function probe() {
    if (document.hidden || !socket || socket.readyState === WebSocket.CONNECTING) return;
    const asked = socket;
    if (asked.readyState !== WebSocket.OPEN) { if (Date.now() >= noSeatUntil) { tries = 0; connect(); } return; }
    if (!await deaf(asked, JSON.stringify({ do: "hello" }), () => news) || socket !== asked || document.hidden) return;
    giveUp(asked);
    socket = null;
    connect();
  }
  document.addEventListener("visibilitychange", probe);
  window.addEventListener("online", probe);
  setInterval(() => { if (socket && socket.readyState === WebSocket.OPEN) probe(); }, 20000);
  if (base) connect(); else opened(null);
  // What the room starts from, waited for a moment at most: a page never hangs on its room.
  room.first = () => Promise.race([first, new Promise((done) => setTimeout(done, 1200, null))]);
  room.bar = make("div", { class: "rs-roombar" }, message, make("div", { class: "rs-picks" }, line, lineDrive), offer, told);
  room.take = (reply) => {
    if (!reply.qr || !team || reply.url !== invited) return false;
    fill(qr, make("p", {}, `A phone in this room reads this to join team ${team.name}.`), make("div", { role: "img", "aria-label": `QR code to join team ${team.name}`, markup: reply.qr }));
    return true;
  };
  Object.assign(room, { el, wall: wall.el, redraw: () => {} });
  return room;
}

// The series as the room walks it: the pages of the short path, and the one that is open.
function roomSeries(series, path, page) {
  return path.length ? series.filter((p) => path.includes(p.name) || p.name === page) : series;
}
