"""Limits for one visitor: messages a second, kernels, page loads.

A page sends at most one move of a drag before the answer to the last, and a browser redraws sixty
times a second; whoever sends more is no person with a slider.
"""

import asyncio
import contextlib
import time

from .rate_limit import TokenBucket

RATE, BURST = 100.0, 60.0
"""Messages a second that a page may send for long, and how many at once."""
LONG_MESSAGE = 100_000
"""Characters of a message that count as one more message."""
QUIET = 50.0
"""Messages that must be free again before a page that was cut off is heard again."""
NOTICE_INTERVAL = 2.0
"""Seconds between two notices to one page."""
MAX_KERNELS = 60
"""Kernels behind open pages."""
FAIR_SHARE = 8
"""Kernels that one visitor may have while all are in use."""
LOAD_BURST, LOAD_INTERVAL = 60.0, 1.0
"""Pages that one visitor may load at once, and seconds until one more."""
LEFT_GRACE = 2.0
"""Seconds after which a kernel without its page may end to make space.  A dropped connection is back
sooner; a page that comes back later opens anew by itself, with its design."""
MAX_ABSENCE = 180.0
"""Seconds after which it ends in any case: a phone that slept longer comes back without its undo steps.
Where the browser reported that it leaves the page, the kernel ends at the next check."""
UNOPENED_GRACE = 12.0
"""Seconds after which a kernel whose page never connected may end to make space."""
MAX_UNOPENED = 60.0
"""Seconds after which it ends in any case.  A client that only fetches an address (a link preview in a
chat, a page closed while it loaded) never opens a socket."""
CHECK_INTERVAL = 5.0
"""Seconds between two checks for abandoned kernels."""
SPACE_TIMEOUT = 13.0
"""Seconds that a page waits for abandoned kernels to make space for it."""


class MessageLimits:
    """Rate limits of messages by kernel, so that a second socket gains nothing."""

    def __init__(self, clock=time.monotonic):
        self.dropped = 0
        self._clock = clock
        self._buckets: dict[str, TokenBucket] = {}

    def take(self, kernel_id: str, characters: int = 0) -> bool:
        """Count a message, a long one as several; False when it is to be dropped."""
        bucket = self._buckets.get(kernel_id)
        if bucket is None:
            bucket = self._buckets[kernel_id] = TokenBucket(BURST, RATE, QUIET, self._clock)
        taken = bucket.take(1 + characters // LONG_MESSAGE)
        self.dropped += not taken
        return taken

    def forget_all_but(self, kernel_ids: set[str]) -> None:
        """Drop the counts of kernels that have ended."""
        self._buckets = {name: b for name, b in self._buckets.items() if name in kernel_ids}


class KernelLimits:
    """Which visitor uses which kernel, and whether one more may start.

    ``kernel_manager`` is the server's; ``pooled`` gives the ids of kernels that wait for a visitor.
    """

    def __init__(
        self,
        kernel_manager,
        pooled,
        most: int = MAX_KERNELS,
        clock=time.monotonic,
        sleep=asyncio.sleep,
    ):
        self.kernel_manager, self.pooled, self.most = kernel_manager, pooled, most
        self._clock, self._sleep = clock, sleep
        self.starting = 0
        """Pages that are rendering and have no kernel yet."""
        self._visitors: dict[str, str] = {}
        self._sockets: dict[str, int] = {}
        self._disconnected: dict[str, float] = {}
        self._left: dict[str, bool] = {}
        """Whether the browser reported leaving the page, as it does on closing or reloading one."""
        self._unopened: dict[str, float] = {}
        """When a kernel was first seen outside the pool and without a socket."""
        self._loads: dict[str, TokenBucket] = {}
        self._ending: set[str] = set()

    def on_connect(self, kernel_id: str, visitor: str) -> None:
        """A page opened its socket."""
        self._visitors.setdefault(kernel_id, visitor)
        self._sockets[kernel_id] = self._sockets.get(kernel_id, 0) + 1
        self._disconnected.pop(kernel_id, None)
        self._unopened.pop(kernel_id, None)

    def on_disconnect(self, kernel_id: str, left: bool = False) -> None:
        """A socket closed; ``left``: because the page was left, not because the connection dropped."""
        self._left[kernel_id] = left
        self._sockets[kernel_id] = max(0, self._sockets.get(kernel_id, 0) - 1)
        if not self._sockets[kernel_id]:
            self._disconnected[kernel_id] = self._clock()

    def socket_count(self, kernel_id: str) -> int:
        """How many sockets a kernel has."""
        return self._sockets.get(kernel_id, 0)

    def kernel_count(self) -> int:
        """Kernels of visitors, those that are starting among them."""
        alive = set(self.kernel_manager.list_kernel_ids())
        tables = (self._visitors, self._sockets, self._disconnected, self._left, self._unopened)
        for table in tables:
            for name in set(table) - alive:
                del table[name]
        pooled = self.pooled()
        for name in pooled:  # its time begins when it is handed out
            self._unopened.pop(name, None)
        in_use = alive - pooled
        for name in in_use - set(self._sockets):
            self._unopened.setdefault(name, self._clock())
        return len(in_use) + self.starting

    def may_load(self, visitor: str) -> bool:
        """Whether this visitor loads pages no faster than a person can."""
        if visitor not in self._loads and len(self._loads) > 500:
            self._loads.clear()
        bucket = self._loads.setdefault(
            visitor, TokenBucket(LOAD_BURST, 1 / LOAD_INTERVAL, clock=self._clock)
        )
        return bucket.take()

    async def make_space(self, visitor: str) -> bool:
        """End what may end until one more kernel fits; False when all are in use.

        Where pages have just been left it waits for their kernels, rather than refuse a visitor who
        comes at the wrong second.
        """
        end = self._clock() + SPACE_TIMEOUT
        while True:
            for kernel_id in self._may_end_for(visitor):
                if self.kernel_count() < self.most:
                    break
                if kernel_id not in self._may_end_for(visitor):
                    continue  # its page came, or came back, while another kernel was ended
                await self._end(kernel_id)
            if self.kernel_count() < self.most:
                return True
            if not (self._disconnected or self._unopened) or self._clock() >= end:
                return False
            await self._sleep(0.2)

    async def end_abandoned(self) -> list[str]:
        """End kernels whose page was left, has been away for long or never came; gives their ids."""
        self.kernel_count()  # forgets those that ended by themselves
        ended = []
        for kernel_id, since in self._without_page(MAX_ABSENCE, MAX_UNOPENED).items():
            # Ending takes a while: another page may have come back meanwhile.
            if self._without_page(MAX_ABSENCE, MAX_UNOPENED).get(kernel_id) == since:
                await self._end(kernel_id)
                ended.append(kernel_id)
        return ended

    def _without_page(self, absent: float, unopened: float) -> dict[str, float]:
        """Kernels without a page and since when, the longest first.

        Those whose connection dropped ``absent`` seconds ago, those whose page did not come within
        ``unopened`` seconds, and those whose page was left.
        """
        now = self._clock()
        found = {
            kernel_id: at
            for kernel_id, at in self._disconnected.items()
            if now - at >= (LEFT_GRACE if self._left[kernel_id] else absent)
        }
        found |= {k: at for k, at in self._unopened.items() if now - at >= unopened}
        return {k: found[k] for k in sorted(found, key=found.get) if k not in self._ending}

    async def _end(self, kernel_id: str) -> None:
        self._ending.add(kernel_id)
        with contextlib.suppress(Exception):  # it may have ended by itself
            await self.kernel_manager.shutdown_kernel(kernel_id)
        self._ending.discard(kernel_id)

    def _may_end_for(self, visitor: str) -> list[str]:
        """Kernels that may end to make space for a visitor.

        First those whose page was left or never came, the longest first; then one kernel of the
        visitor who has most and more than a fair share, unless that is the one who asks.
        """
        if self.kernel_count() < self.most:
            return []
        found = list(self._without_page(LEFT_GRACE, UNOPENED_GRACE))
        held: dict[str, list[str]] = {}
        for kernel_id, holder in self._visitors.items():
            if kernel_id not in found:
                held.setdefault(holder, []).append(kernel_id)
        most = max(held.values(), key=len, default=[])
        if len(most) > FAIR_SHARE and most is not held.get(visitor):
            found.append(most[0])
        return found
