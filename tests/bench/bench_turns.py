"""Ways to turn a page, each of them tried: twenty pages within ten seconds, thirty open.

``python tests/bench/bench_turns.py [--only NAME,NAME]`` prints the table kept in
``docs/decisions/0008-page-turns.md``.  A way that the package does not have is made here, by other
settings or another application; nothing in the package is switched.
"""

import argparse
import asyncio
import contextlib
import json
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parent))
import psutil
from playwright.async_api import async_playwright
from room_clients import Learner, busy_seconds, memory, tree
from room_phone import CHROMIUM
from room_table import p95
from rooms import RoomServer, free_port

from rsdesign.pages.series import SERIES

FROM, TO = (next(p for p in SERIES if p.name == name) for name in ("fish", "solids"))
LEARNERS, TURNING, WITHIN = 30, 20, 10.0
WAYS = {
    "views": "one program for the series, a page is a view (chosen)",
    "load": "the next address loaded: a new program, forked from a loaded one (chosen)",
    "ordinary": "the same, programs started the ordinary way",
    "pool each": "the same as chosen, one program waiting for each page",
    "pool twenty": "the same as chosen, twenty waiting for the one page that comes next",
    "prefetch": "the same as chosen, the next page fetched ahead, with its program",
    "no-store": "the same as chosen, script and style fetched at each turn",
    "stock": "the stock template with its front end and every extension",
    "denylist": "the stock template, the extensions not needed on a denylist",
}
BROWSER = ("load", "no-store", "stock", "denylist")
"""The ways that only a browser shows; for a bare client a template is text."""
UNUSED = ["jupyterlab-plotly", "jupyterlab_pygments"]


# --- in the server's process --------------------------------------------------------------------


def serve_so(way: str, port: int) -> None:
    """Serve the series in one of the ways."""
    from rsdesign.pages.room import limits
    from rsdesign.pages.server import app as serve

    application, config = serve.SeriesApp, serve.voila_config(port, 1)
    pools = config.VoilaKernelManager.kernel_pools_config
    if way == "ordinary":
        serve.start_fork_server = lambda: None
    elif way == "pool each":
        pools["default"] = {"pool_size": 1}
    elif way == "pool twenty":
        pools[TO.file] = {"pool_size": TURNING}
    elif way == "prefetch":
        limits.MAX_UNOPENED = 900  # a page fetched ahead is opened late
    elif way == "no-store":
        kept = serve.cached_file

        def never_kept(body, kind):
            class Fresh(kept(body, kind)):
                def compute_etag(self):
                    return None

                def set_header(self, name, value):
                    super().set_header(name, "no-store" if name == "Cache-Control" else value)

            return Fresh

        serve.cached_file = never_kept
    elif way in ("stock", "denylist"):
        application = _stock(serve)
        config.VoilaConfiguration.template = "lab"
        if way == "denylist":
            config.VoilaConfiguration.extension_denylist = UNUSED
    with tempfile.TemporaryDirectory() as folder:
        if way in ("stock", "denylist"):
            _notebooks(Path(folder))
            serve.workbooks_folder = lambda: folder
        serve.serve(port, browser=False, application=application, config=config)


def _stock(serve):
    """The same application with every handler of Voila's own front end."""

    class Stock(serve.SeriesApp):
        def init_handlers(self):
            self.room_state = serve.RoomState()
            return serve.Voila.init_handlers(self)

    return Stock


def _notebooks(folder: Path) -> None:
    """The two pages as widgets, for a front end that shows widgets."""
    for page in (FROM, TO):
        code = f"from rsdesign.pages.jupyter.widget import PageView\nPageView({page.name!r})"
        cell = {"cell_type": "code", "id": "a", "metadata": {}, "source": code, "outputs": [],
                "execution_count": None}  # fmt: skip
        about = {"kernelspec": {"name": "python3", "display_name": "p", "language": "python"}}
        book = {"cells": [cell], "metadata": about, "nbformat": 4, "nbformat_minor": 5}
        (folder / page.file).write_text(json.dumps(book), encoding="utf-8")


# --- outside ------------------------------------------------------------------------------------


class Served:
    """One way, served in a process of its own on loopback."""

    ask = RoomServer.ask

    def __init__(self, way: str, folder: Path):
        self.port, self.log = free_port(), folder / f"{way}.log"
        command = [sys.executable, __file__, "--serve", way, "--port", str(self.port)]
        with self.log.open("w", encoding="utf-8") as log:
            self.process = subprocess.Popen(command, stdout=log, stderr=log, cwd=folder)
        waits = {"pool each": len(SERIES), "pool twenty": TURNING + 1}.get(way, 1)
        end = time.monotonic() + 90
        while time.monotonic() < end:
            with contextlib.suppress(OSError, psutil.Error):
                self.ask("/nothing", timeout=5)
                if way in ("stock", "denylist") or len(tree(self)[1]) >= waits:
                    time.sleep(4)
                    return
            time.sleep(0.3)
        self.stop()
        raise RuntimeError(f"{way} did not start: {self.log.read_text(encoding='utf-8')[-1000:]}")

    def stop(self) -> None:
        """End it, and whatever it leaves."""
        theirs = []
        with contextlib.suppress(psutil.Error):
            theirs = [p for part in tree(self) for p in part]
        self.process.send_signal(2)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
        for process in psutil.wait_procs(theirs, 10)[1]:
            with contextlib.suppress(psutil.Error):
                process.kill()


def browser_seconds() -> float:
    """Processor time of the browsers that this process started; those that ended are not in it."""
    total = 0.0
    for process in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.Error):
            if "chrom" in process.name():
                times = process.cpu_times()
                total += times.user + times.system
    return total


async def turned(server: Served, way: str) -> list[str]:
    """Twenty of thirty bare clients turn; the cells of a row."""
    learners = [Learner(server, n, host="127.0.0.1", cookie="") for n in range(LEARNERS)]
    try:
        for one in learners:
            one.page, one.full = FROM, False
            await one.load()
            await one.move()
        await asyncio.sleep(8)  # pools fill
        turning, fetched = learners[:TURNING], {}
        for one in turning:
            if way == "prefetch":
                one.page = TO
                fetched[one.number] = await one.fetched()
        waits = [WITHIN * n / TURNING for n in range(TURNING)]
        random.Random(1).shuffle(waits)

        async def turn(one, wait):
            await asyncio.sleep(wait)
            if way == "views":
                return await one.turn(TO)
            one.page = TO
            kept = one.token
            seconds = await one.load(files=way == "no-store", text=fetched.get(one.number, ""))
            one.same(kept, way)
            return seconds

        before = busy_seconds(server)
        took = await asyncio.gather(*(turn(o, w) for o, w in zip(turning, waits, strict=True)))
        used = (busy_seconds(server) - before) / TURNING
        wrong = [words for one in learners for words in one.lost]
        if wrong:
            raise RuntimeError(f"designs were lost: {wrong}")
        megabytes, _, count = memory(server)
        return [f"{x:.2f}" for x in (statistics.median(took), p95(took), max(took), used)] + [
            f"{megabytes:.0f}", str(count)]  # fmt: skip
    finally:
        for one in learners:
            one.leave()


async def looked_at(server: Served, way: str, times: int = 6) -> list[str]:
    """One browser alone loads the two pages in turn, the files kept as they may be."""
    stock = way in ("stock", "denylist")
    async with async_playwright() as play:
        # A request that Playwright routes passes by the browser's store, so nothing is routed here.
        nowhere = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"
        browser = await play.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", nowhere]
        )
        try:
            context = await browser.new_context(viewport={"width": 375, "height": 740})
            view = await context.new_page()
            line = await context.new_cdp_session(view)
            took, asked, stored, sizes, first = [], [], [], [], []
            line.on("Network.requestWillBeSent", lambda e: asked.append(e["requestId"]))
            line.on("Network.requestServedFromCache", lambda e: stored.append(e["requestId"]))
            line.on("Network.responseReceived", lambda e: e["response"].get("fromDiskCache")
                    and stored.append(e["requestId"]))  # fmt: skip
            line.on("Network.loadingFinished", lambda e: sizes.append(e["encodedDataLength"]))
            await line.send("Network.enable")
            before = own = 0.0
            for turn in range(times + 1):
                if turn == 1:  # the first visit fetches what may be kept
                    first = [f"{len(set(asked) - set(stored))}", f"{sum(sizes) / 1000:.0f}"]
                    for kept in (asked, stored, sizes):
                        kept.clear()
                    before, own = busy_seconds(server), browser_seconds()
                page = (FROM, TO)[turn % 2]
                start = time.perf_counter()
                await view.goto(f"http://127.0.0.1:{server.port}/voila/render/{page.file}",
                                wait_until="commit", timeout=60_000)  # fmt: skip
                ready = f".rs[data-page={page.name}][data-ready]" if stock else "body[data-ready]"
                await view.wait_for_selector(ready, timeout=60_000)
                took.append(time.perf_counter() - start)
                await asyncio.sleep(1)
            used = (busy_seconds(server) - before) / times
            shown = (browser_seconds() - own) / times
            return [f"{statistics.median(took[1:]):.2f}", f"{max(took[1:]):.2f}",
                    f"{len(set(asked) - set(stored)) / times:.0f}", f"{sum(sizes) / times / 1000:.0f}", *first, f"{used:.2f}", f"{shown:.2f}"]  # fmt: skip
        finally:
            await browser.close()


def main() -> None:
    """Print the two tables."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n\n", maxsplit=1)[0])
    asked.add_argument("--serve", choices=WAYS, help=argparse.SUPPRESS)
    asked.add_argument("--port", type=int, help=argparse.SUPPRESS)
    asked.add_argument("--only", default=",".join(WAYS), help=f"of {', '.join(WAYS)}")
    args = asked.parse_args()
    if args.serve:
        serve_so(args.serve, args.port)
        return
    ways = args.only.split(",")
    if set(ways) - set(WAYS):
        asked.error(f"the ways are {', '.join(WAYS)}")
    bare = [way for way in ways if way not in ("stock", "denylist")]
    seen = [way for way in ways if way in BROWSER and CHROMIUM]
    heads = {
        turned: "| 20 of 30 bare clients within 10 s | median, s | p95, s | worst, s | processor, s a turn"
        " | memory then, MB | programs |",
        looked_at: "| one Chromium alone, files kept where they may be | median, s | worst, s | requests"
        " | kB | requests of a first visit | its kB | processor of the server, s a turn | of the browser |",
    }
    with tempfile.TemporaryDirectory(prefix="turns-", ignore_cleanup_errors=True) as folder:
        for measure, chosen in ((turned, bare), (looked_at, seen)):
            if not chosen:
                continue
            head = heads[measure]
            print(f"{head}\n|{' --- |' * (head.count('|') - 1)}", flush=True)
            for way in chosen:
                server = Served(way, Path(folder))
                try:
                    cells = asyncio.run(measure(server, way))
                except BaseException:
                    print(f"{way} broke off: {server.log.read_text(encoding='utf-8')[-1500:]}")
                    raise
                finally:
                    server.stop()
                print(f"| {WAYS[way]} | {' | '.join(cells)} |", flush=True)
            print()


if __name__ == "__main__":
    os.environ.setdefault("PYTHONUNBUFFERED", "1")
    main()
