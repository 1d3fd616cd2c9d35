"""Programs that nobody came for: a page loaded without a web socket leaves one behind; it ends soon.

A browser opens the socket as soon as a page stands.  What only fetches the address (a preview of a
link in a chat, a crawler, a page closed while it loaded) never does, and its program would live
until it is culled as idle.
"""

import contextlib
import time

from .pool import ready

PATIENCE = 60.0
"""Seconds from the making of a program to its first socket."""
LOOK = 5.0
"""Seconds between two looks."""


class Unmet:
    """Watches the programs of a server; one that waits in the pool has not been handed out yet."""

    def __init__(self, programs, patience: float = PATIENCE, clock=time.monotonic):
        self.programs = programs
        self.patience = patience
        self._clock = clock
        self._met: set[str] = set()
        self._since: dict[str, float] = {}

    def meet(self, program: str) -> None:
        """A socket was opened: from now on the program is culled like any other."""
        self._met.add(program)

    def pooled(self) -> set[str]:
        """The programs that wait for a visitor."""
        found = set()
        for pool in getattr(self.programs, "_pools", {}).values():
            for made in pool:
                if ready(made):
                    found.add(made.result()["kernel_id"])
        return found

    async def look(self) -> list[str]:
        """End what nobody came for; gives the names of what was ended."""
        now, alive, waiting = self._clock(), set(self.programs.list_kernel_ids()), self.pooled()
        self._met &= alive
        # Its time starts anew while it waits in the pool: once handed out it has all of it, less a look.
        self._since = {p: now if p in waiting else self._since.get(p, now) for p in alive}
        late = [p for p in alive - self._met - waiting if now - self._since[p] >= self.patience]
        for program in late:
            with contextlib.suppress(Exception):  # it may have ended while we looked
                await self.programs.shutdown_kernel(program)
        return late
