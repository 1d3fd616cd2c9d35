// The address of a page: its design and units are in it.

/**
 * @param {SeriesPage} page
 * @param {string} token
 */
export function hrefOf(page, token) {
  const url = new URL(location.href);
  url.pathname = url.pathname.replace(/[^/]*$/, page.file);
  for (const key of ["token", "d", "team", "code"]) url.searchParams.delete(key);
  if (token) url.searchParams.set("d", token);
  url.hash = "";
  return url.toString();
}

/** @param {{ search: string, pathname: string }} where */
export function placeOf(where) {
  const params = new URLSearchParams(where.search);
  const file = decodeURIComponent(where.pathname.split("/").pop() || "");
  const page = (window.rsSeries || {})[file];
  return { page, token: params.get("d") || "", units: params.get("u") };
}

/**
 * Open a notebook beside the one in view, in a JupyterLab that lets its page do so.
 * @param {string} file
 * @returns {boolean} whether it can
 */
export function openBeside(file) {
  const lab = /** @type {any} */ (window).jupyterapp;
  const here = lab?.shell?.currentWidget?.context?.path;
  if (!here) return false;
  lab.commands.execute("docmanager:open", { path: here.replace(/[^/]*$/, file) }).catch(console.warn);
  return true;
}

/**
 * The address that others can open: "localhost" is nobody else's, and under a hub one's own server is refused
 * to others, while the hub leads each to theirs.
 * @returns {URL}
 */
export function passedOn() {
  const url = new URL(location.href);
  if (window.rsLan && /^(localhost|127\.|\[::1\])/.test(url.hostname)) {
    const lan = new URL(window.rsLan);
    url.protocol = lan.protocol;
    url.host = lan.host;
  }
  const hub = window.rsHub;
  if (hub && url.pathname.startsWith(hub.mine)) url.pathname = hub.theirs + url.pathname.slice(hub.mine.length);
  return url;
}
