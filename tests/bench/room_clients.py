"""Learners of a room without a browser, and what the room's processes take.

A ``Learner`` does what the page's own script does: it comes in by the poster's address, loads the
page and its files, opens one socket to its program and one to the room, and keeps the design's
token as an address bar does.  When a line is lost it asks whether its program is still there: then
it opens the line anew, else it loads its page again with the token.
"""

import asyncio
import contextlib
import json
import random
import re
import tempfile
import time
import uuid
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psutil
from rooms import CODE, LAN, envelope
from websockets.asyncio.client import connect
from websockets.exceptions import WebSocketException

from rsdesign.design.model import FIELDS
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session

WAIT = 30.0
"""Seconds after which an answer is taken for lost."""
EVERY, TURN, RELOAD = 2.0, 45.0, 300.0
"""Seconds between the moves, the page turns and the reloads of a learner."""
_threads = ThreadPoolExecutor(80, "http")


class LostError(Exception):
    """The line or the program has gone."""


class Learner:
    """One device with one page."""

    def __init__(self, server, number: int, host: str = "", cookie: str | None = None):
        self.server, self.number, self.host = server, number, host or LAN
        self.cookie = cookie
        self.random = random.Random(number)
        self.page = SERIES[0]
        self.full = number % 3 == 0
        self.token = self.kernel = self.comm = ""
        self.socket = self.room = None
        self.dead = False
        """Whether the server said that the program has ended."""
        self.count, self.acts = 0, 0
        self.frame: dict = {}
        self.news: dict = {}
        self.told: list[str] = []
        self.spent: list[tuple[float, str, float]] = []
        """When, what (move, turn, reload, mend) and how many seconds."""
        self.by_page: dict[str, list[float]] = {}
        self.lost: list[str] = []
        """Designs that were not the same afterwards, in words."""
        self.busy = asyncio.Lock()
        self._asked: dict[int, asyncio.Future] = {}
        self._move: dict | None = None
        self._readers: set[asyncio.Task] = set()

    # --- http -------------------------------------------------------------------------------

    async def ask(self, path: str, method: str = "GET", **more):
        """One request in a thread: status, headers, text."""
        if self.cookie:
            more["Cookie"] = self.cookie
        call = lambda: self.server.ask(path, method, host=self.host, timeout=90, **more)  # noqa: E731
        return await asyncio.get_running_loop().run_in_executor(_threads, call)

    async def enter(self) -> None:
        """Come in by the poster's address."""
        status, headers, text = await self.ask(f"/?token={CODE}")
        if status != 303:
            raise RuntimeError(f"not let in: {status} {text[:200]}")
        self.cookie = headers["Set-Cookie"].partition(";")[0]

    async def fetched(self) -> str:
        """The page's text; where it says "wait" it is tried again as a browser does."""
        query = f"?d={self.token}" if self.token else ""
        end = time.monotonic() + 120
        while True:
            status, headers, text = await self.ask(f"/voila/render/{self.page.file}{query}")
            if status == 200:
                return text
            self.told.append(words_of(text))
            if status not in (429, 503) or time.monotonic() > end:
                raise RuntimeError(f"{self.page.file}: {status} {words_of(text)}")
            await asyncio.sleep(float(headers.get("Retry-After") or 5))

    async def load(self, files: bool = False, text: str = "") -> float:
        """Load the page; seconds until its figures stand.  ``files``: script and style as well."""
        start = time.perf_counter()
        self.leave()
        if self.cookie is None:
            await self.enter()
        text = text or await self.fetched()
        if files:
            await asyncio.gather(*(self.ask(f"/rsdesign/{name}", Accept_Encoding="gzip")
                                   for name in ("page.js", "style.css")))  # fmt: skip
        found = re.search(r'"kernelId": "([\w-]+)"', text), re.search(r'"model_id": "(\w+)"', text)
        if not all(found):
            raise RuntimeError(f"no page: {text[-300:]}")
        self.kernel, self.comm = (f[1] for f in found)
        self.dead = False
        self.session = uuid.uuid4().hex
        await self.join()
        await self.say(do="open", page=self.page.name, token=self.token, full=self.full, start=True)
        return time.perf_counter() - start

    # --- sockets ----------------------------------------------------------------------------

    async def join(self) -> None:
        """Open the line to the program, and the one to the room."""
        self.leave()
        more = {"Cookie": self.cookie} if self.cookie else {}

        async def line(path):
            return await connect(f"ws://{self.host}:{self.server.port}{path}", max_size=None,
                                 additional_headers=more, compression=None, open_timeout=WAIT,
                                 ping_interval=None, close_timeout=2)  # fmt: skip

        path = f"/api/kernels/{self.kernel}/channels?session_id={self.session}"
        self.socket = await line(path)
        self.room = await line("/room/socket")
        for read in (self._hear(self.socket), self._hear_room(self.room)):
            task = asyncio.create_task(read)
            self._readers.add(task)
            task.add_done_callback(self._readers.discard)

    def leave(self) -> None:
        """Close the page, without a farewell: as a browser that is shut."""
        for line in (self.socket, self.room):
            if line is not None:
                line.transport.abort()
        self.socket = self.room = None
        self._fail()

    async def farewell(self) -> None:
        """Close the lines with the word that a browser has for a page that it leaves."""
        for line in (self.socket, self.room):
            if line is not None:
                with contextlib.suppress(WebSocketException, OSError):
                    await line.close(1001)

    def _fail(self) -> None:
        for asked in self._asked.values():
            if not asked.done():
                asked.set_exception(LostError())
        self._asked.clear()

    async def _hear(self, socket) -> None:
        with contextlib.suppress(WebSocketException, OSError):
            async for text in socket:
                now = time.perf_counter()
                m = json.loads(text)
                kind, content = m["msg_type"], m.get("content", {})
                if kind == "rsdesign_notice":
                    self.told.append(content["text"])
                elif kind == "status" and content["execution_state"] in ("dead", "restarting"):
                    self.dead = socket is self.socket
                    break
                elif kind == "comm_msg":
                    said = content["data"].get("content", {})
                    self.frame = said.get("blocks", {}).get("frame", self.frame)
                    asked = self._asked.pop(said.get("ack"), None)
                    if asked and not asked.done():
                        asked.set_result((now, said))
        socket.transport.abort()
        if socket is self.socket:
            self.socket = None
            self._fail()

    async def _hear_room(self, socket) -> None:
        with contextlib.suppress(WebSocketException, OSError):
            async for text in socket:
                for kind, about in json.loads(text).items():
                    if kind == "notice":
                        self.told.append(about)
                    self.news[kind] = about
        if socket is self.room:
            self.room = None

    def text(self, kind="comm_msg", content=None, channel="shell", **said) -> str:
        """A message as it goes over the line."""
        self.count += 1
        return envelope(self.comm, self.count, kind, content, channel, said)

    async def say(self, **said) -> tuple[float, dict]:
        """Say something to the program: seconds until the answer, and the answer."""
        if self.socket is None:
            raise LostError
        text = self.text(**said)
        answer = self._asked[self.count] = asyncio.get_running_loop().create_future()
        start = time.perf_counter()
        try:
            await self.socket.send(text)
            at, content = await asyncio.wait_for(answer, WAIT)
        except (WebSocketException, OSError, TimeoutError) as gone:
            self._asked.clear()
            raise LostError from gone
        self.token = self.frame.get("token") or self.token
        return at - start, content

    async def tell_room(self, **said) -> None:
        """Say something to the room."""
        if self.room is None:
            raise LostError
        try:
            await self.room.send(json.dumps(said))
        except (WebSocketException, OSError) as gone:
            raise LostError from gone

    # --- what a person does -----------------------------------------------------------------

    def note(self, what: str, seconds: float) -> None:
        """Keep a time."""
        self.spent.append((time.monotonic(), what, seconds))

    async def move(self) -> None:
        """A slider is drawn and let go: two messages, each of them timed."""
        paths = [c.path for c in self.page.controls if FIELDS[c.path].choice.low is not None]
        path, at = self.random.choice(paths), self.random.uniform(0.25, 0.75)
        self._move = {"do": "slide", "path": path, "at": at, "end": True}
        seconds, _ = await self.say(do="slide", path=path, at=at - 0.01)
        self.note("move", seconds)
        seconds, _ = await self.say(**self._move)
        self.by_page.setdefault(self.page.name, []).append(seconds)
        self.note("move", seconds)
        self._move = None
        self.acts += 1

    async def turn(self, page=None) -> float:
        """The next page as a view of the same program."""
        at = SERIES.index(self.page)
        self.page = page or SERIES[(at + 1) % len(SERIES)]
        seconds, _ = await self.say(do="page", page=self.page.name)
        self.note("turn", seconds)
        return seconds

    async def reload(self, how: str = "reload") -> float:
        """The page's address again, in a new program; the design has to be the same."""
        kept, self._move = self.token, None
        start = time.perf_counter()
        await self.farewell()
        await self.load()
        self.note(how, time.perf_counter() - start)
        self.same(kept, how)
        return time.perf_counter() - start

    def same(self, kept: str, how: str, under_way: dict | None = None) -> None:
        """Note a design that was lost; a move that was under way may have been taken or not."""
        now = self.frame.get("token")
        if now == kept or (under_way and now == moved(self.page.name, kept, under_way)):
            return
        self.lost.append(f"learner {self.number}, {how}: {kept[:40]} became {str(now)[:40]}")

    async def mend(self, how: str = "mend") -> None:
        """What a page does of itself when its line is lost."""
        start = time.perf_counter()
        kept, under_way = self.token, self._move
        end = time.monotonic() + 120
        while True:
            try:
                status = 0 if self.dead else (await self.ask(f"/api/kernels/{self.kernel}"))[0]
                if status == 200:
                    await self.join()
                    await self.say(do="open", page=self.page.name)  # tells all; changes nothing
                    self.same(kept, how, under_way)
                else:
                    await self.load()
                    self.same(kept, how)
                break
            except (LostError, OSError, WebSocketException, RuntimeError):
                if time.monotonic() > end:
                    raise
                self.token = kept
                await asyncio.sleep(0.5)
        self._move = None
        self.note(how, time.perf_counter() - start)

    async def live(self, stop: asyncio.Event, every: float = EVERY) -> None:
        """Work like a person in a hurry until told to stop."""
        while not stop.is_set():
            await asyncio.sleep(every * self.random.uniform(0.5, 1.5))
            async with self.busy:
                if stop.is_set():
                    return
                try:
                    chance = self.random.random()
                    if chance < every / RELOAD:
                        await self.reload()
                    elif chance < every / RELOAD + every / TURN:
                        await self.turn()
                    else:
                        await self.move()
                except (LostError, OSError, WebSocketException):
                    await self.mend()


def moved(page: str, token: str, message: dict) -> str:
    """The token after a move, computed here: a slide takes what it is drawn over along."""
    session = Session(page)
    session.handle({"do": "open", "page": page, "token": token})
    session.handle(message)
    return session.token


def words_of(text: str) -> str:
    """What a page of HTML or an answer in JSON tells a person."""
    with contextlib.suppress(ValueError, AttributeError):
        return str(json.loads(text).get("refused", text))
    return " ".join(
        re.sub(r"<[^>]+>", " ", p).strip() for p in re.findall(r"<p[ >].*?</p>", text, re.S)
    )


# --- processes ----------------------------------------------------------------------------------


def tree(server) -> tuple[list[psutil.Process], list[psutil.Process]]:
    """Server and loaded process; programs behind pages."""
    root = psutil.Process(server.process.pid)
    base, programs = [root], []
    for child in root.children(recursive=True):
        with contextlib.suppress(psutil.Error):
            loaded = "rsdesign.pages.server.fork_server" in child.cmdline()
            (base if loaded and child.ppid() == root.pid else programs).append(child)
    return base, programs


def pss(process: psutil.Process) -> float:
    """Proportional memory [MB]: what is shared counts once over all who share it."""
    with contextlib.suppress(OSError, psutil.Error):
        rollup = Path(f"/proc/{process.pid}/smaps_rollup")
        if rollup.exists():
            return (
                int(re.search(r"^Pss:\s+(\d+)", rollup.read_text(encoding="utf-8"), re.M)[1])
                * 1024
                / 1e6
            )
        return process.memory_full_info().uss / 1e6
    return 0.0


def memory(server) -> tuple[float, float, int]:
    """All of it [MB], server and loaded process alone [MB], and how many programs."""
    base, programs = tree(server)
    alone = sum(map(pss, base))
    return alone + sum(map(pss, programs)), alone, len(programs)


def busy_seconds(server) -> float:
    """Processor time of everything that runs for the room."""
    total = 0.0
    for process in (p for part in tree(server) for p in part):
        with contextlib.suppress(psutil.Error):
            times = process.cpu_times()
            total += times.user + times.system
    return total


class Elsewhere:
    """How much of this machine's processors others take, whose work is no part of the room."""

    def __init__(self):
        self._at, self._before = time.monotonic(), self._counts()

    @staticmethod
    def _counts() -> tuple[float, float]:
        whole = psutil.cpu_times()
        ours, me = 0.0, psutil.Process()
        for process in (me, *me.children(recursive=True)):
            with contextlib.suppress(psutil.Error):
                times = process.cpu_times()
                ours += times.user + times.system
        return whole.user + whole.system + whole.nice, ours

    def share(self) -> float:
        """The share of all cores since this was made; what ended meanwhile counts as elsewhere."""
        busy, ours = (now - was for now, was in zip(self._counts(), self._before, strict=True))
        cores = psutil.cpu_count() or 1
        return max(0.0, busy - ours) / (cores * max(1e-9, time.monotonic() - self._at))


def pid_of(server, program: str) -> int | None:
    """The process of a program, by the socket that stands in its connection file."""
    for file in Path(tempfile.gettempdir()).glob(f"voila_*/kernel-{program}.json"):
        about = json.loads(file.read_text(encoding="utf-8"))
        socket = f"{about['ip']}-{about['shell_port']}"
        for process in tree(server)[1]:
            with contextlib.suppress(psutil.Error):
                if any(c.laddr == socket for c in process.net_connections("unix")):
                    return process.pid
    return None
