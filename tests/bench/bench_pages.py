"""Speed and memory of the served pages in Chromium, beside a plain Voila page of the same sizing.

Run it on a quiet machine, in the root of the repository: ``python tests/bench/bench_pages.py [--loads 40]``, or
``--moves`` for the lines of opening and moving alone.  Each row of these tells the load of the machine and what one
sizing took in the same minute.
"""

import argparse
import asyncio
import contextlib
import json
import os
import re
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

import psutil
import websockets
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # this copy, not one that is installed
import page_moves as pm
from rooms import envelope

from rsdesign.pages.series import SERIES

CHARTS = ".rs-charts > details > summary"
"""What the charts of a page are folded behind."""

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
PLAIN = """
import ipywidgets, plotly.graph_objects as go
from rsdesign import load, size, tables
from rsdesign.design.model import with_values
design = load(tables.data_folder() / "designs" / "family.toml")
@ipywidgets.interact(rate=ipywidgets.FloatSlider(min=0.5, max=8, step=0.05, value=2, description="load"))
def show(rate):
    s = size(with_values(design, {"solids.overflow_rate": rate * 0.000679}))
    print(f"caught {float(s.solids.captured):.6f}")
    go.Figure(go.Bar(x=["caught"], y=[float(s.solids.captured)])).show(renderer="notebook")
"""


def free_port() -> int:
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


def started(command, port, path):
    """A server in a process of its own, once it answers."""
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    for _ in range(300):
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}{path}", timeout=2).close()
            break
        except OSError:
            time.sleep(0.1)
    time.sleep(6)  # the pool fills
    return process


def ended(process) -> None:
    process.send_signal(2)
    try:
        process.wait(20)
    except subprocess.TimeoutExpired:
        process.kill()


def opened(browser, url, ready, first="#loading, h1"):
    """Seconds to the first text and to a usable page, and the page."""
    view = browser.new_context().new_page()
    start = time.perf_counter()
    view.goto(url, wait_until="commit")
    view.wait_for_selector(first, timeout=30_000)
    text = time.perf_counter() - start
    view.wait_for_selector(ready, timeout=30_000)
    return text, time.perf_counter() - start, view


MOVE = """async ({slider, text, count}) => {
  const el = document.querySelector(slider), times = [];
  for (let i = 0; i < count; i++) {
    const start = performance.now();
    const changed = new Promise((done) => {
      const seen = new MutationObserver(() => { seen.disconnect(); requestAnimationFrame(() => done(performance.now())); });
      seen.observe(document.querySelector(text), {childList: true, characterData: true, subtree: true});
      setTimeout(() => done(performance.now()), 2000);
    });
    el.value = 40 + (i * 37) % 120;
    el.dispatchEvent(new Event('input', {bubbles: true}));
    times.push(await changed - start);
    await new Promise((done) => setTimeout(done, 120));
  }
  return times;
}"""


def centiles(times) -> tuple[float, float]:
    times = sorted(times)
    return statistics.median(times), times[int(0.95 * (len(times) - 1))]


async def visitor(port: int, file: str, stop: threading.Event | None, every: float = 2.0) -> float:
    """A protocol client: opens a page, waits for its blocks, then moves a choice now and then."""
    start = time.perf_counter()
    url = f"http://127.0.0.1:{port}/voila/render/{file}"
    text = await asyncio.to_thread(lambda: urllib.request.urlopen(url, timeout=60).read().decode())
    kernel = re.search(r'"kernelId": "([\w-]+)"', text)[1]
    comm = re.search(r'"model_id": "(\w+)"', text)[1]
    number = 0

    def said(message) -> str:
        nonlocal number
        number += 1
        return envelope(comm, number, "comm_msg", None, "shell", message)

    async def heard(socket):
        while True:
            m = json.loads(await asyncio.wait_for(socket.recv(), 60))
            content = m.get("content", {})
            if (
                m["msg_type"] == "comm_msg"
                and content["data"].get("content", {}).get("ack") == number
            ):
                return

    address = f"ws://127.0.0.1:{port}/api/kernels/{kernel}/channels?session_id={uuid.uuid4().hex}"
    async with websockets.connect(address, max_size=None) as link:
        await link.send(said({"do": "open"}))
        await heard(link)
        ready = time.perf_counter() - start
        while stop is not None and not stop.is_set():
            await asyncio.sleep(every)
            at = 0.2 + 0.6 * ((number * 7) % 10) / 10
            await link.send(said({"do": "slide", "path": "solids.overflow_rate", "at": at}))
            await heard(link)
    return ready


def crowd(port: int, count: int, stop: threading.Event | None = None):
    file = next(p.file for p in SERIES if p.name == "solids")

    async def all_of_them():
        return await asyncio.gather(*(visitor(port, file, stop) for _ in range(count)))

    with ThreadPoolExecutor(1) as other:  # the browser's own loop runs in this thread
        return other.submit(lambda: asyncio.run(all_of_them())).result()


@contextlib.contextmanager
def busy(port: int, count: int):
    """So many visitors who each move a choice every two seconds."""
    stop = threading.Event()
    with ThreadPoolExecutor(1) as other:
        running = other.submit(crowd, port, count, stop)
        time.sleep(20)  # all have opened
        yield
        stop.set()
        running.result()


def kernel_memory(process) -> list[float]:
    """Unique memory of every program behind a page [MB]."""
    found = []
    for child in psutil.Process(process.pid).children(recursive=True):
        if child.ppid() != process.pid or "ipykernel_launcher" in " ".join(child.cmdline()):
            found.append(child.memory_full_info().uss / 1e6)
    return found


class Table(list):
    """Rows that are printed as they come."""

    def __init__(self):
        super().__init__()
        print("| what | measured | bar |\n| --- | --- | --- |", flush=True)

    def append(self, row) -> None:
        """Print a row, and keep it."""
        super().append(row)
        print("| " + " | ".join(row) + " |", flush=True)


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--loads", type=int, default=200)
    asked.add_argument("--moves", action="store_true", help="the lines of opening and moving alone")
    about = asked.parse_args()
    loads = about.loads
    rows = Table()
    solids = next(p for p in SERIES if p.name == "solids").file
    figure, slider = (
        "[data-headline='solids.captured']",
        "[data-path='solids.overflow_rate'] input[type=range]",
    )
    with sync_playwright() as play, tempfile.TemporaryDirectory() as folder:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        port = free_port()
        server = started([sys.executable, "-m", "rsdesign", "serve", "--no-browser", "--port", str(port)], port,
                         "/rsdesign/style.css")  # fmt: skip
        base = f"http://127.0.0.1:{port}/voila/render/"
        pm.of_moves(browser, base, rows, partial(busy, port, 30), opened)
        if about.moves:
            ended(server)
            return
        warm, cold, text = [], [], []
        for _ in range(5):
            t, usable, view = opened(browser, base + SERIES[0].file, "body[data-ready]")
            warm.append(usable)
            text.append(t)
            view.context.close()
            time.sleep(6)  # the pool fills
            t, usable, view = opened(browser, base + solids, "body[data-ready]")
            cold.append(usable)
            view.context.close()
        rows.append(("first text, median of 5", f"{statistics.median(text):.2f} s", "0.8 s"))
        rows.append(("usable, warm pool", f"{statistics.median(warm):.2f} s", "2.5 s"))
        rows.append(("usable, cold", f"{statistics.median(cold):.2f} s", "4 s"))
        _, _, view = opened(browser, base + solids, "body[data-ready]")
        got = []
        view.on("response", lambda r: got.append(int(r.headers.get("content-length", 0))))
        view.reload(wait_until="commit")
        view.wait_for_selector("body[data-ready]", timeout=30_000)
        rows.append(("bytes of files on a repeat visit", f"{sum(got) / 1e3:.0f} kB", "2 MB"))
        alone = centiles(view.evaluate(MOVE, {"slider": slider, "text": figure, "count": 60}))
        rows.append(
            (
                "move to figures and drawing, p50 / p95",
                f"{alone[0]:.0f} / {alone[1]:.0f} ms",
                "30 / 60 ms",
            )
        )
        start = time.perf_counter()
        view.click("#rs-nav a[data-page=biofilter]")
        view.wait_for_selector(".rs[data-page=biofilter]")
        rows.append(("a page turned", f"{time.perf_counter() - start:.2f} s", "stated"))
        view.click("#rs-nav a[data-page=solids]")
        view.wait_for_selector(".rs[data-page=solids]")
        before = max(kernel_memory(server))
        view.evaluate(
            MOVE.replace("120));", "2));"), {"slider": slider, "text": figure, "count": 500}
        )
        after = max(kernel_memory(server))
        rows.append(("unique memory of a page's program", f"{after:.0f} MB", "65 MB"))
        rows.append(("added by 500 moves", f"{after - before:.1f} MB", "5 MB"))
        view.click(CHARTS)
        view.wait_for_selector(".rs-chart[data-ready] .main-svg", timeout=30_000)
        start = time.perf_counter()
        view.reload(wait_until="commit")
        view.click(CHARTS)
        view.wait_for_selector(".rs-chart[data-ready] .main-svg", timeout=30_000)
        rows.append(("a chart drawn after a reload", f"{time.perf_counter() - start:.2f} s", "4 s"))
        view.context.close()
        start = time.perf_counter()
        crowded = crowd(port, 30)
        rows.append(("thirty visitors at once, the last usable", f"{max(crowded):.1f} s", "15 s"))
        rows.append(("memory of thirty programs and the server",
                     f"{sum(kernel_memory(server)) + psutil.Process(server.pid).memory_full_info().uss / 1e6:.0f} MB",
                     "stated"))  # fmt: skip
        _, _, view = opened(browser, base + solids, "body[data-ready]")
        view.evaluate(MOVE, {"slider": slider, "text": figure, "count": 10})
        with busy(port, 30):
            among = centiles(view.evaluate(MOVE, {"slider": slider, "text": figure, "count": 60}))
        rows.append(
            (
                "the same among thirty active pages, p50 / p95",
                f"{among[0]:.0f} / {among[1]:.0f} ms, × {among[1] / alone[1]:.2f}",
                "p95 × 1.5",
            )
        )
        view.click(CHARTS)
        view.wait_for_selector(".rs-chart[data-ready] .main-svg", timeout=30_000)
        view.wait_for_timeout(1500)
        drawn = centiles(
            view.evaluate(MOVE, {"slider": slider, "text": ".rs-chart .scatterlayer", "count": 40})
        )
        rows.append(
            (
                "move to a chart redrawn, p50 / p95",
                f"{drawn[0]:.0f} / {drawn[1]:.0f} ms",
                "p95 120 ms",
            )
        )
        view.context.close()
        late, hung = [], 0
        for place in range(loads):
            start = time.perf_counter()
            try:
                url = base + SERIES[place % len(SERIES)].file
                urllib.request.urlopen(url, timeout=20).read()
                late.append(time.perf_counter() - start)
            except OSError:
                hung += 1
        rows.append((f"{loads} loads over all pages, hung", str(hung), "0"))
        ended(server)
        port = free_port()
        cell = {
            "cell_type": "code",
            "id": "a",
            "metadata": {},
            "source": PLAIN,
            "outputs": [],
            "execution_count": None,
        }
        book = {"cells": [cell], "metadata": {"kernelspec": {"name": "python3", "display_name": "p", "language": "python"}},
                "nbformat": 4, "nbformat_minor": 5}  # fmt: skip
        Path(folder, "plain.ipynb").write_text(json.dumps(book), encoding="utf-8")
        plain = started(
            [sys.executable, "-m", "voila", folder, "--no-browser", f"--port={port}"],
            port,
            "/voila/tree",
        )
        slow = []
        for _ in range(3):
            try:
                _, usable, view = opened(
                    browser,
                    f"http://127.0.0.1:{port}/voila/render/plain.ipynb",
                    ".noUi-handle",
                    "body",
                )
                slow.append(usable)
                view.context.close()
            except Exception:
                slow.append(30.0)
        ended(plain)
        rows.append(("the plain way, usable", f"{statistics.median(slow):.2f} s", "stated"))
        rows.append(
            (
                "plain over ours, cold",
                f"× {statistics.median(slow) / statistics.median(cold):.1f}",
                "× 2",
            )
        )
        browser.close()


if __name__ == "__main__":
    os.environ.setdefault("PYTHONUNBUFFERED", "1")
    main()
