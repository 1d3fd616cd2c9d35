// The team of this tab and what it refused, kept through a reload.

const TEAM = "rsdesign.team";
const REFUSED = "rsdesign.roomrefused";

/** @returns {{ name: string, code: string, key: string, drove: boolean } | null} */
export function teamKept() {
  try {
    return JSON.parse(sessionStorage.getItem(TEAM) || "null");
  } catch {
    return null;
  }
}

/** @param {object | null} about */
export function keepTeam(about) {
  try {
    if (about) sessionStorage.setItem(TEAM, JSON.stringify(about));
    else sessionStorage.removeItem(TEAM);
  } catch {
    /* a private window keeps nothing */
  }
}

/** @returns {string | null} */
export function refusedRoom() {
  try {
    return sessionStorage.getItem(REFUSED);
  } catch {
    return null;
  }
}

/** @param {string} values what the room starts from */
export function keepRefusal(values) {
  try {
    sessionStorage.setItem(REFUSED, values);
  } catch {
    /* asked again after the next reload */
  }
}
