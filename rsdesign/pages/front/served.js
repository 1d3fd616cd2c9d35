// A page of our own server: it finds its program and speaks to it over one line.

import { byId } from "./dom.js";
import { kernelLink } from "./link.js";
import { render } from "./page.js";
import { roomLink } from "./room.js";

function startServed() {
  const outputs = [...document.querySelectorAll('script[type="application/vnd.voila.cell-output+json"]')]
    .map((s) => JSON.parse(s.textContent || ""))
    .map((o) => (o.data || {})["application/vnd.jupyter.widget-view+json"])
    .filter(Boolean);
  const loading = byId("loading");
  if (!outputs.length) {
    loading.textContent =
      "The page could not be started. Reload it; if that does not help, start 'rsdesign serve' again.";
    return;
  }
  const config = JSON.parse(byId("jupyter-config-data").textContent || "");
  const place = byId("rs-place");
  window.rsServed = true;
  const seen = new MutationObserver(() => {
    if (!document.body.dataset.ready && !document.body.dataset.drawn) return;
    seen.disconnect();
    loading.remove();
    byId("rendered_cells").hidden = true;
  });
  seen.observe(document.body, { attributes: true, attributeFilter: ["data-ready", "data-drawn"] });
  render({ model: kernelLink(config, outputs[0].model_id), el: place }, roomLink, outputs[0].blocks);
}

window.rsStart = startServed;
