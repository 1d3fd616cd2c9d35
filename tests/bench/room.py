"""Thirty learners in one room: 29 bare clients and one Chromium at 375 pixels, against the bars.

``python tests/bench/room.py [--part open,turns,active,memory,empty,faults] [--minutes 10]`` starts
``rsdesign serve --lan``, plays the room from this machine's address in the network, prints a table,
and ends with an error when a bar is missed.  ``--minutes 60 --part memory`` is a real hour.

A learner moves a slider every two seconds on average, each time two messages (drawn, let go), turns
the page every 45 s and loads it anew every five minutes; a third have everything shown.  An
ordinary learner is taken to move a choice six times a minute.  That is an assumption: a short round
has at most five choices in view and is planned for eight to ten minutes, so six a minute moves each
of them ten times over.
"""

import argparse
import asyncio
import contextlib
import multiprocessing
import random
import signal
import statistics
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parent))
import psutil
import room_faults as faults
from playwright.async_api import async_playwright
from room_clients import Elsewhere, Learner, memory, tree
from room_phone import CHROMIUM, PAGE, Phone
from room_table import Row, p95, slope
from room_trouble import trouble
from rooms import LAN, RoomServer

from rsdesign.pages.series import SERIES

PARTS = ("open", "turns", "active", "memory", "empty", "faults")
ORDINARY = 6.0
"""Moves of a choice that an ordinary learner makes in a minute; see above."""
WARM = 0.25
"""Share of the active part that is not counted for the slope, of four minutes at most ten."""


class Measured:
    """A room with its learners, and the rows of its table."""

    def __init__(self, args, browser, folder: Path, pool: ProcessPoolExecutor):
        self.args, self.folder, self.elsewhere = args, folder, pool
        self.rows: list[Row] = []
        self.refused: list[faults.Refusal] = []
        self.used: list[tuple[float, float, float, int]] = []
        """Minutes since the start, MB of all, MB of the server alone, programs."""
        self.server = RoomServer(folder)
        self.learners = [Learner(self.server, n) for n in range(args.learners - 1)]
        self.phone = Phone(browser, self.server)
        self.began = time.monotonic()
        self.active: tuple[float, float] | None = None

    def say(self, *rows: Row) -> None:
        """Rows as they come, so that a run that breaks off has told something."""
        for row in rows:
            print(row, flush=True)
        self.rows += rows

    async def watch(self) -> None:
        """Memory, every five seconds."""
        while True:
            with contextlib.suppress(psutil.Error):
                found = await asyncio.to_thread(memory, self.server)
                self.used.append(((time.monotonic() - self.began) / 60, *found))
            await asyncio.sleep(5)

    def times(
        self, what: str, since: float = 0, until: float = float("inf"), but=()
    ) -> list[float]:
        """Seconds that the bare clients waited for a kind of act."""
        return [s for one in self.learners if one not in but
                for at, kind, s in one.spent if kind == what and since <= at <= until]  # fmt: skip

    def phone_times(self, what: str, since: float = 0, until: float = float("inf")) -> list[float]:
        """The same of Chromium."""
        return [s for at, kind, s in self.phone.spent if kind == what and since <= at <= until]

    # --- the parts --------------------------------------------------------------------------

    async def arrivals(self) -> None:
        """Everybody opens the poster's address at once."""
        async with asyncio.timeout(180):
            took = await asyncio.gather(
                self.phone.enter(), *(one.load(True) for one in self.learners)
            )
        others = took[1:]
        self.say(
            Row(f"{len(took)} open at once: the last is usable", max(took), "s", 12),
            Row("the same, median", statistics.median(others), "s"),
            Row("the same, Chromium", took[0], "s"),
        )
        for one in self.learners:  # they spread over the series
            await one.turn(SERIES[one.number % len(SERIES)])
        await self.phone.turn(PAGE)

    async def turns(self) -> None:
        """Twenty turn the page within ten seconds, in both ways."""
        some = self.learners[:19]
        for how in ("as the pages do it", "by loading the next address"):
            whole = how.startswith("by")

            async def one_turn(one, wait, whole=whole):
                await asyncio.sleep(wait)
                if not whole:
                    return await one.turn()
                one.page = SERIES[(SERIES.index(one.page) + 1) % len(SERIES)]
                return await one.reload("load")

            async def phone_turn(whole=whole):
                await asyncio.sleep(5)
                if not whole:
                    await self.phone.turn(SERIES[2])
                    return await self.phone.turn(PAGE)
                return await self.phone.load(PAGE, (await self.phone.design())[0])

            waits = [10 * n / len(some) for n in range(len(some))]
            random.Random(1).shuffle(waits)
            async with asyncio.timeout(180):
                took = await asyncio.gather(
                    phone_turn(), *(one_turn(o, w) for o, w in zip(some, waits, strict=True))
                )
            self.say(
                Row(f"20 pages turned within 10 s {how}: median", statistics.median(took), "s"),
                Row("the same, p95", p95(took), "s", 5),
                Row("the same, the worst", max(took), "s", 3),
                Row("the same, Chromium", took[0], "s", 3),
            )
            await asyncio.sleep(3)

    @contextlib.asynccontextmanager
    async def everybody(self):
        """All of them active; whoever breaks down breaks the run."""
        stop = asyncio.Event()
        async with asyncio.TaskGroup() as group:
            for one in self.learners:
                group.create_task(one.live(stop))
            group.create_task(self.phone.live(stop))
            try:
                yield
            finally:
                stop.set()

    async def work(self) -> None:
        """Everybody is active for the minutes asked for."""
        start, others = time.monotonic(), Elsewhere()
        async with self.everybody():
            await asyncio.sleep(60 * self.args.minutes)
        self.active = start, time.monotonic()
        self.say(Row("processors busy with what is no part of the room", 100 * others.share(), "%"))

    def tell_active(self) -> None:
        """How long a move took while all were active."""
        moves, phone = (1000 * p95(f("move", *self.active)) for f in (self.times, self.phone_times))
        minutes = (self.active[1] - self.active[0]) / 60
        count = len(self.phone_times("move", *self.active))
        self.say(
            Row(f"a move among {self.args.learners} active, {minutes:.1f} min, p95: bare clients", moves,
                "ms", 150, f"{len(self.times('move', *self.active))} answers"),
            Row("the same, Chromium, slider to figures redrawn", phone, "ms", 150, f"{count} moves"),
            Row("moves of Chromium that were not answered within 5 s", self.phone.late, "", 0),
            Row("page turns meanwhile, worst", max(self.times("turn", *self.active), default=float("nan")), "s", 3),
            Row("pages loaded anew meanwhile, p95", p95(self.times("reload", *self.active)), "s", 5,
                f"{len(self.times('reload', *self.active))} loads"),
            Row("designs lost meanwhile", len(self.losses()), "", 0),
        )  # fmt: skip

        pages: dict[str, list[float]] = {}
        for one in self.learners:
            for name, took in one.by_page.items():
                pages.setdefault(name, []).extend(took)
        for name in sorted(pages, key=lambda n: -statistics.median(pages[n]))[:3]:
            self.say(
                Row(
                    f"a slider let go on the page {name}, median",
                    1000 * statistics.median(pages[name]),
                    "ms",
                )
            )

    def losses(self) -> list[str]:
        """Every design that was lost, in words."""
        return [words for one in self.learners for words in one.lost] + self.phone.wrong

    def tell_memory(self) -> None:
        """The most memory, and whether it grows."""
        self.say(Row("memory of server, loaded process and programs (PSS), the most",
                     max((m for _, m, _, _ in self.used), default=float("nan")), "MB", 3000,
                     f"{max((n for *_, n in self.used), default=0)} programs at most"))  # fmt: skip
        if self.active is None:
            return
        begin, end = ((t - self.began) / 60 for t in self.active)
        begin += min(10.0, WARM * (end - begin))
        part = [u for u in self.used if begin <= u[0] <= end]
        found = slope([(u[0], u[1]) for u in part])
        length = (self.active[1] - self.active[0]) / 60
        acts = len(self.times("move", *self.active)) / 2 / len(self.learners) / length
        likeness = acts / ORDINARY
        programs = f"{part[0][3]} programs at the start, {part[-1][3]} at the end" if part else ""
        self.say(
            Row("minutes of ordinary use that the active part stands for", length * likeness, "min", None,
                f"{acts:.0f} moves a minute each; ordinary: {ORDINARY:g}, an assumption"),
            Row("memory gained in a minute of ordinary use, after warming up", found / likeness, "MB/min", 1),
            Row("the same for each minute of the clock", found, "MB/min", 1, programs),
            Row("the same, server and loaded process alone", slope([(u[0], u[2]) for u in part]), "MB/min"),
            Row("the same for one program, the mean of all", slope([(u[0], (u[1] - u[2]) / max(u[3], 1)) for u in part]),
                "MB/min"),
        )  # fmt: skip

    async def empty(self) -> None:
        """All leave; until no program of a page is left but those that wait in the pool."""
        waits = 1  # --pool
        for one in self.learners:
            one.leave()
        await self.phone.close()
        start, before = time.monotonic(), len(tree(self.server)[1])
        while (left := len(tree(self.server)[1])) > waits:
            if time.monotonic() - start > 60 * self.args.patience:
                break
            await asyncio.sleep(1)
        minutes = (time.monotonic() - start) / 60 if left <= waits else float("nan")
        self.say(Row("until no program is left after all have gone", minutes, "min", 15,
                     f"{before} programs before, {left} after, of which the pool's {waits} waits"))  # fmt: skip
        if left <= waits:
            total, alone, _ = await asyncio.to_thread(memory, self.server)
            self.say(
                Row(
                    "memory of the empty room",
                    total,
                    "MB",
                    None,
                    f"{alone:.0f} MB of it the server",
                )
            )

    async def faults(self) -> None:
        """Everything that goes wrong, one thing after the other, while all go on working."""
        await trouble(self)

    # --- the whole --------------------------------------------------------------------------

    async def run(self, parts) -> None:
        """The parts asked for, in their order."""
        watching = asyncio.create_task(self.watch())
        try:
            print("| what | measured | bar |\n| --- | --- | --- |", flush=True)
            await self.arrivals()  # every part needs it
            if "turns" in parts:
                await self.turns()
            if {"active", "memory"} & set(parts):
                await self.work()
                if "active" in parts:
                    self.tell_active()
            if "faults" in parts:
                await self.faults()
            if "memory" in parts:
                self.tell_memory()
            if "empty" in parts:
                await self.empty()
        finally:
            watching.cancel()
            await self.phone.close()
            for one in self.learners:
                one.leave()
            self.close()

    def close(self) -> None:
        """End the server and whatever it started that outlives it."""
        theirs = (
            [p for part in tree(self.server) for p in part]
            if self.server.process.poll() is None
            else []
        )
        self.server.stop()
        for process in psutil.wait_procs(theirs, 10)[1]:
            with contextlib.suppress(psutil.Error):
                process.kill()


async def measured(args, parts) -> list[Row]:
    """One run, cleaned up however it ends."""
    main = asyncio.current_task()
    asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, main.cancel)
    spawn = multiprocessing.get_context("spawn")
    with (
        tempfile.TemporaryDirectory(prefix="room-", ignore_cleanup_errors=True) as folder,
        ProcessPoolExecutor(1, spawn) as pool,
    ):
        async with async_playwright() as play:
            browser = await play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"],
                                                 handle_sigint=False, handle_sigterm=False)  # fmt: skip
            about = Measured(args, browser, Path(folder), pool)
            try:
                await about.run(parts)
            except Exception:
                print(f"The run broke off; the server had said: {about.server.said()[-20000:]}")
                raise
            finally:
                await browser.close()
        return about.rows


def main() -> int:
    """Print the table; 1 when a bar was missed."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n\n", maxsplit=1)[0])
    asked.add_argument("--part", default=",".join(PARTS), help=f"of {', '.join(PARTS)}; all")
    asked.add_argument("--minutes", type=float, default=10, help="that all are active (10)")
    asked.add_argument("--learners", type=int, default=30, help="Chromium among them (30)")
    asked.add_argument(
        "--patience", type=float, default=20, help="minutes to wait for programs to end (20)"
    )
    asked.add_argument("--kills", type=int, default=30)
    asked.add_argument("--drops", type=int, default=200)
    asked.add_argument(
        "--stretch", type=float, default=20, help="seconds for each kind of trouble (20)"
    )
    args = asked.parse_args()
    parts = args.part.split(",")
    if set(parts) - set(PARTS) or args.learners < 21:
        asked.error(f"parts are {', '.join(PARTS)}; a room has 21 learners at least")
    if not LAN or CHROMIUM is None:
        print("This needs Chromium, and a network: an address that is not loopback.")
        return 2
    try:
        rows = asyncio.run(measured(args, parts))
    except (KeyboardInterrupt, asyncio.CancelledError):
        print("Stopped; the server and its programs are ended.")
        return 130
    missed = [row for row in rows if row.missed]
    print(f"\n{len(missed)} of {sum(r.most is not None for r in rows)} bars missed"
          + "".join(f"\n  {row.what}: {row.value:.3g} {row.unit}, bar {row.most:g}" for row in missed))  # fmt: skip
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
