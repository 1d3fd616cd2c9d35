"""How much one visitor may ask for: messages a second, programs, page loads.

A page sends at most one move of a drag before the answer to the last, and a browser moves things
sixty times a second; whoever sends more is no person with a slider.
"""

import asyncio
import contextlib
import time

from .rate_limit import Bucket

RATE, BURST = 100.0, 60.0
"""Messages a second that a page may send for long, and how many at once."""
LONG = 100_000
"""Characters of a message that count as one more."""
QUIET = 50.0
"""Messages that must be free again before a page that was cut off is heard again."""
TOLD_EVERY = 2.0
"""Seconds between two sentences to one who floods."""
MOST = 60
"""Programs behind open pages."""
FAIR = 8
"""Programs that one visitor may have while the room is full."""
LOADS, LOAD_EVERY = 60.0, 1.0
"""Pages that one visitor may load at once, and seconds until one more."""
LEFT = 2.0
"""Seconds after which a program whose page has gone may end to make room; a line that dropped is back sooner,
and a page that comes back later opens anew by itself, with its design."""
AWAY = 180.0
"""Seconds after which it ends in any case: a phone that slept longer comes back without its steps to undo.
Where a browser said that it leaves the page, it ends with the next look."""
NOBODY = 12.0
"""Seconds after which a program that no page has come for may end to make room."""
UNMET = 60.0
"""Seconds after which it ends in any case.  What only fetches an address (the preview of a link in a chat, a
page closed while it loaded) never opens a socket."""
LOOK = 5.0
"""Seconds between two looks for programs that are to end."""
WAIT = 13.0
"""Seconds that a page waits while others are about to make room for it."""


class Traffic:
    """The messages of every page, by its program, so that a second socket gains nothing."""

    def __init__(self, clock=time.monotonic):
        self.dropped = 0
        self._clock = clock
        self._by: dict[str, Bucket] = {}

    def take(self, program: str, characters: int = 0) -> bool:
        """Count a message of a page, a long one as several; False when it is dropped."""
        bucket = self._by.get(program)
        if bucket is None:
            bucket = self._by[program] = Bucket(BURST, RATE, QUIET, self._clock)
        taken = bucket.take(1 + characters // LONG)
        self.dropped += not taken
        return taken

    def forget(self, alive: set[str]) -> None:
        """Keep nothing of programs that have ended."""
        self._by = {name: b for name, b in self._by.items() if name in alive}


class Crowd:
    """Who holds which program, and whether there is room for one more.

    ``programs`` is the server's kernel manager, ``pooled`` gives those that wait for a visitor.
    """

    def __init__(
        self, programs, pooled, most: int = MOST, clock=time.monotonic, sleep=asyncio.sleep
    ):
        self.programs, self.pooled, self.most = programs, pooled, most
        self._clock, self._sleep = clock, sleep
        self.starting = 0
        """Pages that are being made and have no program yet."""
        self._holders: dict[str, str] = {}
        self._sockets: dict[str, int] = {}
        self._left: dict[str, float] = {}
        self._said: dict[str, bool] = {}
        """Whether the browser said that it leaves the page, as it does when one is closed or loaded anew."""
        self._unmet: dict[str, float] = {}
        """When a program was first seen that had left the pool and had no socket yet."""
        self._loads: dict[str, Bucket] = {}
        self._ending: set[str] = set()

    def came(self, program: str, visitor: str) -> None:
        """A page opened its socket."""
        self._holders.setdefault(program, visitor)
        self._sockets[program] = self._sockets.get(program, 0) + 1
        self._left.pop(program, None)
        self._unmet.pop(program, None)

    def lines(self, program: str) -> int:
        """How many sockets a program has."""
        return self._sockets.get(program, 0)

    def went(self, program: str, said: bool = False) -> None:
        """A socket closed; ``said``: with the word that the page is left, where a lost line says nothing."""
        self._said[program] = said
        self._sockets[program] = max(0, self._sockets.get(program, 0) - 1)
        if not self._sockets[program]:
            self._left[program] = self._clock()

    def count(self) -> int:
        """Programs of visitors, those that are being started among them."""
        alive = set(self.programs.list_kernel_ids())
        for kept in (self._holders, self._sockets, self._left, self._said, self._unmet):
            for name in set(kept) - alive:
                del kept[name]
        pooled = self.pooled()
        for name in pooled:  # its time begins when it is handed out
            self._unmet.pop(name, None)
        theirs = alive - pooled
        met = theirs & set(self._sockets)
        for name in theirs - met:
            self._unmet.setdefault(name, self._clock())
        return len(theirs) + self.starting

    def may_load(self, visitor: str) -> bool:
        """Whether this visitor loads pages no faster than a person can."""
        if visitor not in self._loads and len(self._loads) > 500:
            self._loads.clear()
        bucket = self._loads.setdefault(visitor, Bucket(LOADS, 1 / LOAD_EVERY, clock=self._clock))
        return bucket.take()

    async def room_for(self, visitor: str) -> bool:
        """Make room for one more program where that is fair; False when the room is full.

        Where pages have just gone it waits for theirs, rather than send away who comes at the wrong second.
        """
        end = self._clock() + WAIT
        while True:
            for program in self._to_end(visitor):
                if self.count() < self.most:
                    break
                if program not in self._to_end(visitor):
                    continue  # its page came, or came back, while another was ended
                await self._end(program)
            if self.count() < self.most:
                return True
            if not (self._left or self._unmet) or self._clock() >= end:
                return False
            await self._sleep(0.2)

    async def tidy(self) -> list[str]:
        """End programs whose pages were left, have been gone for long or never came; gives their names."""
        self.count()  # forgets those that ended by themselves
        ended = []
        for program, since in self._alone(AWAY, UNMET).items():
            if self._alone(AWAY, UNMET).get(program) == since:  # its page did not come meanwhile
                await self._end(program)
                ended.append(program)
        return ended

    def _alone(self, away: float, unmet: float) -> dict[str, float]:
        """Programs without a page, and since when, the longest first: with a lost line for ``away`` seconds,
        with a page that never came for ``unmet``, and all whose page was said to be left."""
        now = self._clock()
        found = {
            p: at for p, at in self._left.items() if now - at >= (LEFT if self._said[p] else away)
        }
        found |= {p: at for p, at in self._unmet.items() if now - at >= unmet}
        return {p: found[p] for p in sorted(found, key=found.get) if p not in self._ending}

    async def _end(self, program: str) -> None:
        self._ending.add(program)
        with contextlib.suppress(Exception):  # it may have ended by itself
            await self.programs.shutdown_kernel(program)
        self._ending.discard(program)

    def _to_end(self, visitor: str) -> list[str]:
        """What may end to make room: pages that were left or never came, the longest first; then one page of
        whoever holds more than is fair, unless that is the one who asks."""
        if self.count() < self.most:
            return []
        found = list(self._alone(LEFT, NOBODY))
        held: dict[str, list[str]] = {}
        for program, holder in self._holders.items():
            if program not in found:
                held.setdefault(holder, []).append(program)
        most = max(held.values(), key=len, default=[])
        if len(most) > FAIR and most is not held.get(visitor):
            found.append(most[0])
        return found
