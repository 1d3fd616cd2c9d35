// Charts: plotly.js is fetched once from this machine, or comes from the kernel in JupyterLab.

import { attr, fill, folded, make, partOf, put } from "./dom.js";
import { behind } from "./table.js";

let plotlyReady = null;

/** @param {Model} model */
function plotly(model) {
  if (window.Plotly) return Promise.resolve(window.Plotly);
  if (!plotlyReady)
    plotlyReady = new Promise((done, fail) => {
      const load = (url) => {
        const script = make("script", { src: url });
        script.onload = () => done(window.Plotly);
        script.onerror = () => {
          plotlyReady = null;
          fail(new Error("chart library"));
        };
        document.head.append(script);
      };
      if (window.rsPlotly) return load(window.rsPlotly);
      const take = (message, buffers) => {
        if (!message.plotly) return;
        model.off("msg:custom", take);
        load(URL.createObjectURL(new Blob([buffers[0]], { type: "text/javascript" })));
      };
      model.on("msg:custom", take);
      model.send({ message: { do: "plotly" } });
    });
  return plotlyReady;
}

/**
 * Colours are named in the figures as "var(--rs-…)", so that dark and print follow the page. The page's
 * style is read once for a figure: each reading makes the browser settle the whole page.
 * @param {any} value
 * @param {CSSStyleDeclaration} [style]
 * @param {Record<string, string>} [known]
 */
function coloured(value, style = getComputedStyle(document.documentElement), known = {}) {
  if (typeof value === "string" && value.startsWith("var(--")) {
    const name = value.slice(4, -1);
    return (known[name] ??= style.getPropertyValue(name).trim() || "#333");
  }
  if (Array.isArray(value))
    return value.length && typeof value[0] === "number" ? value : value.map((v) => coloured(v, style, known));
  if (value && typeof value === "object")
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, coloured(v, style, known)]));
  return value;
}

/** @param {Model} model */
export function chartBlock(model) {
  const plot = make("div", { class: "rs-plot", role: "img" });
  const sentence = make("p", { class: "rs-sentence", role: "status" });
  const data = make("div");
  const numbers = folded("Show the numbers", data),
    tabled = behind(numbers, data, "The numbers of the chart");
  const el = make("figure", { class: "rs-chart" }, plot, make("figcaption", {}, sentence, numbers));
  let last = null,
    later = 0;
  const draw = () =>
    last &&
    plotly(model)
      .then((p) => {
        if (!plot.clientWidth) {
          later = setTimeout(draw, 250);
          return null;
        } // not laid out yet
        const f = coloured(last.figure);
        return p.react(plot, f.data, { ...f.layout, width: plot.clientWidth }, { displayModeBar: false });
      })
      .then(
        (drawn) => {
          if (drawn) el.dataset.ready = "1";
        },
        () => put(sentence, `${last.sentence} (The chart cannot be drawn here; the numbers are below.)`),
      );
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  window.addEventListener("resize", () => {
    clearTimeout(later);
    later = setTimeout(draw, 150);
  });
  return {
    el,
    show(now) {
      last = now;
      put(sentence, now.sentence);
      attr(plot, "aria-label", now.sentence);
      clearTimeout(later);
      tabled(now.table);
      // A chart that is not in view is drawn behind those in view.
      const box = plot.getBoundingClientRect();
      if (box.bottom > 0 && box.top < innerHeight) draw();
      else later = setTimeout(draw, 0);
    },
  };
}

/** @param {Model} model */
export function chartList(model) {
  const el = make("div");
  const known = new Map();
  return {
    el,
    show(list) {
      for (const [name, c] of known)
        if (!list.some((x) => x.name === name)) {
          c.el.remove();
          known.delete(name);
        }
      for (const now of list) {
        let c = known.get(now.name);
        if (!c) {
          known.set(now.name, (c = chartBlock(model)));
          el.append(c.el);
        }
        c.show(now);
      }
    },
  };
}

/**
 * @param {Model} model
 * @param {Say} say
 */
export function tradeoffBlock(model, say) {
  const picks = ["sweep", "first", "second"].map((key) => make("select", { id: `rs-trade-${key}`, onchange: ask }));
  const labels = ["Change", "Watch", "and"].map((words, i) => make("label", { for: picks[i].id }, words + " "));
  const chart = chartBlock(model);
  const el = make(
    "div",
    {},
    make(
      "div",
      { class: "rs-picks" },
      picks.map((p, i) => make("span", {}, labels[i], p)),
    ),
    chart.el,
  );
  function ask() {
    say({ do: "tradeoff", sweep: picks[0].value, first: picks[1].value, second: picks[2].value });
  }
  let known = "";
  return {
    el,
    show(now) {
      partOf(el).hidden = !now;
      if (!now) return;
      const key = JSON.stringify([now.sweeps, now.results]);
      if (key !== known) {
        known = key;
        picks.forEach((p, i) =>
          fill(
            p,
            (i ? now.results : now.sweeps).map((o) => make("option", { value: o.path }, o.label)),
          ),
        );
      }
      picks.forEach((p, i) => {
        p.value = now.chosen[i];
      });
      chart.show(now.chart);
    },
  };
}
