// Which page of a class this is, and the ways between those and the design pages.

import { hrefOf, placeOf } from "../address.js";
import { fill, make } from "../dom.js";

/**
 * The name of a page of a class that is asked for here, or nothing.
 * @param {Model} model
 */
export function classPageOf(model) {
  if (window.rsServed)
    return (window.rsClass || {})[decodeURIComponent(location.pathname.split("/").pop() || "")] || "";
  const page = model.get ? model.get("page") : "";
  return ["exercises", "instructor"].includes(page) ? page : "";
}

/**
 * Ways between the design pages and those of a class: plain links, since another program is behind.
 * @param {Frame} f
 */
export function classWays(f) {
  const ways = document.getElementById("rs-class");
  if (!ways) return;
  const here = ["localhost", "127.0.0.1", "[::1]"].includes(location.hostname);
  const token = f.token || placeOf(location).token;
  const pages = f.class.filter((p) => here || p.name !== "instructor");
  if (!f.series.some((p) => p.name === f.page)) pages.unshift({ ...f.series[0], title: "Design pages" });
  const known = pages.map((p) => hrefOf(p, token)).join(" ");
  if (ways.dataset.known === known) return;
  ways.dataset.known = known;
  fill(
    ways,
    make(
      "ul",
      {},
      pages.map((p) =>
        make(
          "li",
          {},
          make("a", { href: hrefOf(p, token), "aria-current": p.name === f.page ? "page" : null }, p.title),
        ),
      ),
    ),
  );
}
