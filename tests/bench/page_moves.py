"""What a move of a slider takes in Chromium: to figures and drawing, to what stands beside, and in which frames.

``bench_pages.py`` calls it.  A move ends when both the figure and the drawing have changed and the browser is about
to draw the next frame.
"""

import json
import os
import statistics
import tempfile
import time
from pathlib import Path

from rsdesign.design.model import with_values
from rsdesign.pages.demos import demo
from rsdesign.pages.series import SERIES
from rsdesign.sizing.system import size

FRAME = 16_000
"""A frame [µs]."""
GUARD = 3000
"""After so long a move that changed nothing is given up [ms]; it is counted as lost."""

MOVES = """async ({slider, places, count, every, guard}) => {
  const el = document.querySelector(slider), times = [];
  const changed = (place) => new Promise((done) => {
    const seen = new MutationObserver(() => { seen.disconnect(); done(); });
    for (const el of document.querySelectorAll(place))
      seen.observe(el, {childList: true, characterData: true, attributes: true, subtree: true});
    setTimeout(() => { seen.disconnect(); done('lost'); }, guard);
  });
  const frame = () => new Promise((done) => requestAnimationFrame(() => done(performance.now())));
  const tell = () => el.dispatchEvent(new Event('input', {bubbles: true}));
  for (let i = 0; i < count; i++) {
    const start = performance.now();
    performance.mark('rs-move');
    const all = places.map(changed);
    el.value = 40 + (i * 37) % 120;
    tell();
    const found = await Promise.all(all);
    times.push(found.includes('lost') ? null : await frame() - start);
    await new Promise((done) => setTimeout(done, every));
  }
  return times;
}"""


def one_sizing() -> float:
    """Processor time of one sizing just now [ms]: how fast this machine is at this moment."""
    design = demo("family")
    times = []
    for k in range(15):
        other = with_values(design, {"goal.fish": 40.0 + k})
        start = time.process_time()
        size(other)
        times.append(1e3 * (time.process_time() - start))
    return statistics.median(times)


def beside() -> str:
    """The load of the machine and a sizing in the same minute, for a row of the table."""
    return f"load {os.getloadavg()[0]:.1f}, sizing {one_sizing():.1f} ms"


def moved(view, slider: str, places: list[str], count: int = 60, every: int = 250) -> list[float]:
    """Milliseconds of each move until every one of ``places`` has changed; what was lost takes the whole guard."""
    about = {"slider": slider, "places": places, "count": count, "every": every, "guard": GUARD}
    return [GUARD if t is None else t for t in view.evaluate(MOVES, about)]


def said(times: list[float]) -> str:
    """Median and 95th centile, with how often nothing changed."""
    times = sorted(times)
    lost = sum(t >= GUARD for t in times)
    words = f"{statistics.median(times):.0f} / {times[int(0.95 * (len(times) - 1))]:.0f} ms"
    return f"{words}, {lost} of {len(times)} changed nothing" if lost else words


def frames(browser, view, slider: str, places: list[str], count: int = 20) -> tuple[float, int]:
    """Tasks of the page's main thread that took it more than a frame of processor time: mean and most of a move."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "trace.json")
        browser.start_tracing(page=view, path=path, categories=["toplevel", "blink.user_timing"])
        moved(view, slider, places, count)
        browser.stop_tracing()
        events = json.loads(path.read_text(encoding="utf-8"))["traceEvents"]
    marks = [e for e in events if e["name"] == "rs-move"]
    thread = {(e["pid"], e["tid"]) for e in marks}
    long = [e["ts"] for e in events if _is_long(e) and (e["pid"], e["tid"]) in thread]
    starts = sorted(e["ts"] for e in marks)
    ends = [*starts[1:], float("inf")]
    of_move = [
        sum(a <= t < b for t in long) for a, b in list(zip(starts, ends, strict=True))[3:]
    ]  # the first moves compile the script
    return statistics.mean(of_move), max(of_move)


def _is_long(event: dict) -> bool:
    is_task = event["name"].endswith("RunTask") and event.get("ph") == "X"
    return is_task and event.get("tdur", event.get("dur", 0)) > FRAME


OPENED = """() => ({
  text: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null,
  usable: window.rsReadyAt ?? null,
})"""
WATCH = """new MutationObserver((list, seen) => {
  if (!document.body?.dataset.ready) return;
  seen.disconnect();
  window.rsReadyAt = performance.now();
}).observe(document, {subtree: true, childList: true, attributes: true, attributeFilter: ['data-ready']});"""


def opened_again(
    browser, url: str, times: int = 5, pause: float = 6.0
) -> tuple[list[float], list[float]]:
    """Seconds to the first text painted and to a usable page, by the page's own clock.

    The browser has been there before, and nothing asks it anything meanwhile.
    """
    context = browser.new_context()
    context.add_init_script(WATCH)
    text, usable = [], []
    for k in range(times + 1):
        view = context.new_page()
        view.goto(url, wait_until="commit")
        time.sleep(4)
        view.wait_for_selector("body[data-ready]", timeout=30_000)
        found = view.evaluate(OPENED)
        if k:
            text.append(found["text"] / 1e3)
            usable.append(found["usable"] / 1e3)
        view.close()
        time.sleep(pause - 4)  # the pool fills
    context.close()
    return text, usable


ON_TIME = {"startup": "Starting the filter", "day": "A day", "season": "A season"}
"""The pages on time, and their names."""
SETTLER, FISH = (
    f"[data-path='{path}'] input[type=range]" for path in ("solids.overflow_rate", "goal.fish")
)
FIRST = ["[data-headline]", ".rs-picture"]
"""What follows a move at once: the figures and the drawing or the charts."""


def of_moves(browser, base: str, rows: list, busy, opened) -> None:
    """The rows of opening a page again, of moving a choice, and of what follows a move."""
    files = {p.name: p.file for p in SERIES}

    def row(what: str, measured: str, bar: str) -> None:
        rows.append((what, f"{measured} ({beside()})", bar))

    def page(name: str):
        return opened(browser, base + files[name], "body[data-ready]")[2]

    text, usable = opened_again(browser, base + SERIES[0].file)
    row("first text painted, warm", f"{statistics.median(text):.2f} s", "stated")
    row("usable, warm, median of 5", f"{statistics.median(usable):.2f} s", "0.35 s")
    view = page("solids")
    moved(view, SETTLER, FIRST, 10)
    row("move to figures and drawing, p50 / p95", said(moved(view, SETTLER, FIRST)), "p95 40 ms")
    side = [".rs-tradeoff .rs-panels"]  # the ribbon of a choice stays where that choice alone moves
    row("move to trade-off, p50 / p95",
        said(moved(view, SETTLER, side, 40, 400)), "p95 120 ms")  # fmt: skip
    mean, most = frames(browser, view, SETTLER, FIRST)
    row("work of more than a frame for a move: mean, most", f"{mean:.1f}, {most}", "most 1")
    with busy():
        row("the same move among thirty active pages, p50 / p95",
            said(moved(view, SETTLER, FIRST)), "p95 60 ms")  # fmt: skip
    view.click(".rs-charts > details > summary")
    view.wait_for_selector(".rs-chart[data-ready] .main-svg", timeout=30_000)
    view.wait_for_timeout(1500)
    row("move to a chart redrawn, p50 / p95",
        said(moved(view, SETTLER, [".rs-chart .scatterlayer"], 40, 400)), "p95 120 ms")  # fmt: skip
    view.context.close()
    view = page("whole")
    moved(view, FISH, FIRST, 5)
    row("Whole design: move to ribbons, ladder and trade-off, p50 / p95",
        said(moved(view, FISH, [*side, ".rs-band", ".rs-ladder"], 40, 400)), "p95 120 ms")  # fmt: skip
    view.context.close()
    for name, title in ON_TIME.items():
        view = page(name)
        moved(view, FISH, FIRST, 5)
        row(f"{title}: move to figures and charts, p50 / p95",
            said(moved(view, FISH, FIRST, 40, 500)), "p95 120 ms")  # fmt: skip
        view.context.close()
