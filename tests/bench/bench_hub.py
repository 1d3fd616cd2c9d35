"""Memory and time for each person under a JupyterHub, in a server of one's own and in the room.

``python tests/bench/bench_hub.py [--people 8]`` prints the table kept in ``docs/deployment.md``.
With ``--cull`` it only waits until unused servers were ended.
"""

import argparse
import contextlib
import sys
import tempfile
import time
from pathlib import Path

import psutil

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from hub_visit import Hub, Visitor

from rsdesign.pages.series import SERIES


def memory(hub: Hub) -> tuple[float, int]:
    """Proportional memory of the hub and all it started [MB], and how many programs."""
    whole = psutil.Process(hub.process.pid)
    every = [whole, *whole.children(recursive=True)]
    return sum(p.memory_full_info().pss for p in every) / 1e6, len(every)


def servers(hub: Hub) -> int:
    """How many servers of pages run (the room is one)."""
    count = 0
    for program in psutil.Process(hub.process.pid).children(recursive=True):
        with contextlib.suppress(psutil.NoSuchProcess):
            count += "rsdesign.pages.server.hub" in " ".join(program.cmdline())
    return count


def measured(hub: Hub, people: list[Visitor], base, turns: int) -> tuple[float, float, float]:
    """MB for each person with the first page open and after more pages, and seconds for a page."""
    files = [page.file for page in SERIES][: turns + 1]
    before, _ = memory(hub)
    seconds, kept = [], []
    for turn, file in enumerate(files):
        for one in people:
            start = time.perf_counter()
            page = one.page(base(one), file)
            page.say({"do": "open"})
            seconds.append(time.perf_counter() - start)
            kept.append(page)
        if turn == 0:
            time.sleep(5)
            first, _ = memory(hub)
    time.sleep(5)
    last, _ = memory(hub)
    count = len(people)
    return (first - before) / count, (last - before) / count, sorted(seconds)[len(seconds) // 2]


def culled(hub: Hub, people: list[Visitor]) -> None:
    """Start servers, leave, and tell when they were ended; idle means 60 s here."""
    for one in people:
        one.start()
        one.page(one.home, SERIES[0].file).say({"do": "open"})
    start = time.perf_counter()
    running = servers(hub) - 1
    while servers(hub) > 1 and time.perf_counter() - start < 400:
        time.sleep(2)
    print(f"{running} servers with a page; {servers(hub) - 1} left {time.perf_counter() - start:.0f} s"
          " after their people went")  # fmt: skip


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--people", type=int, default=8)
    asked.add_argument("--cull", action="store_true")
    args = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        more = {"RSDESIGN_HUB_IDLE": "60"} if args.cull else {}
        hub = Hub(Path(folder), **more)
        try:
            people = [Visitor(hub, f"grower{i}") for i in range(args.people)]
            for one in people:
                one.sign_in()
            if args.cull:
                culled(hub, people)
                return
            time.sleep(8)
            idle, count = memory(hub)
            print(f"hub, proxy, culler, room, nobody there: {idle:.0f} MB in {count} programs")
            room = f"{hub.url}services/room/"
            first, last, seconds = measured(hub, people, lambda one: room, 5)
            print(
                f"room: {first:.0f} MB each with one page, {last:.0f} MB after six; page {seconds:.2f} s"
            )
            before, _ = memory(hub)
            start = time.perf_counter()
            for one in people:
                one.start()
            each = (time.perf_counter() - start) / len(people)
            time.sleep(5)
            own = (memory(hub)[0] - before) / len(people)
            first, last, seconds = measured(hub, people, lambda one: one.home, 5)
            print(f"own server: {own:.0f} MB each before a page, {own + first:.0f} MB with one page,"
                  f" {own + last:.0f} MB after six; started in {each:.1f} s, page {seconds:.2f} s")  # fmt: skip
        finally:
            hub.stop()


if __name__ == "__main__":
    main()
