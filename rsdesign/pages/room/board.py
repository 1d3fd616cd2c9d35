"""Everything a room shares, in memory alone: who is here, teams, the wall, settings.

Knows nothing of sockets: a page is a ``Seat`` with a ``tell``.  It serves beside the pages of one
server; pages of another server of the same hub may name it (``RSDESIGN_ROOM``).  Nothing is written
to disk, and all of it is gone when the process ends.
"""

import asyncio
import hmac
import logging
import os
import secrets
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from ...core.choices import DesignError
from ...core.units import clipped
from ..classroom.class_session import class_at_hand
from .rate_limit import Bucket
from .results import Reckoned, reckon
from .settings import Settings
from .submission_box import Tray
from .teams import LETTERS, Seat, Teams
from .wall import Wall

MOST_SEATS = 300
"""Pages that a room speaks to; one more opens and computes, but follows no team."""
MOST_FROM_ONE = 120
"""Pages from one address; a school's computers may share one."""
LONGEST = 12_000
"""Characters of one message; a link token has at most 6,000."""
BROWN_OFF = 400
"""Messages too many after which a page is shown out."""
QUEUE = 12
"""Posts that may wait to be computed."""
LOOKS = 100
"""Looks at the wall that may wait to be composed; a room of thirty looks at once when it changes."""
KEY = 10
SORRY = (
    "Something went wrong inside, and this was not done. Your design is not touched: try again, or"
    " reload the page."
)

_log = logging.getLogger(__name__)


class Board:
    """One room.

    ``loopback``: whether whoever sits at this machine is the instructor; not so behind a proxy,
    where everybody seems to.
    """

    def __init__(self, loopback: bool = True, clock: Callable = time.monotonic, key: str = ""):
        self.loopback = loopback
        made = "".join(secrets.choice(LETTERS) for _ in range(KEY))
        self.key = (key or os.environ.get("RSDESIGN_ROOM_KEY", "")).strip().upper() or made
        """What an instructor at another machine types once; a hub sets it, else it is made up."""
        self.cookie = secrets.token_urlsafe(24)
        self.teams, self.wall, self.settings = Teams(clock), Wall(), Settings()
        self.tray = Tray(class_at_hand)
        self.seats: set[Seat] = set()
        self._clock = clock
        self._keys: dict[str, Bucket] = {}
        self._waiting = self._looking = 0
        self._worker: ThreadPoolExecutor | None = None

    # --- coming and going -------------------------------------------------------------------

    def sit(self, tell: Callable[[str, object], None], address: str = "") -> Seat:
        """A page opened; it is told what the room has set.  Raises ``DesignError`` when full."""
        same = sum(s.address == address for s in self.seats)
        if len(self.seats) >= MOST_SEATS or same >= MOST_FROM_ONE:
            raise DesignError(
                "The room is full, so this page follows no team; your design is not touched."
            )
        seat = Seat(tell, address)
        seat.bucket = Bucket(60, 20.0, clock=self._clock)
        self.seats.add(seat)
        tell("room", self.settings.public())
        return seat

    def stand(self, seat: Seat) -> None:
        """A page closed, or its line was lost."""
        if seat in self.seats:
            self.seats.discard(seat)
            self.teams.leave(seat, gone=True)

    # --- what a page says -------------------------------------------------------------------

    async def hear(self, seat: Seat, message) -> bool:
        """Do what a page asks; every refusal is a sentence.  False when it has to be shown out."""
        if not seat.bucket.take():
            seat.wrong += 1
            if seat.wrong % 50 == 1:
                seat.tell("told", "Too many messages from this page; wait a few seconds.")
            return seat.wrong < BROWN_OFF
        try:
            await self._do(seat, message)
        except DesignError as wrong:
            seat.tell("told", str(wrong))
        except Exception:  # else the page's line is dropped without a word
            _log.exception("a room could not do what a page asked")
            seat.tell("told", SORRY)
        return True

    async def _do(self, seat: Seat, message) -> None:
        act = message.get("do") if isinstance(message, dict) else None
        if act == "join":
            self.teams.join(seat, message)
        elif act == "leave":
            self.teams.leave(seat)
            seat.tell("team", None)
        elif act == "drive":
            self.teams.drive(seat)
        elif act == "design":
            self.teams.design(seat, message.get("token"))
        elif act == "post":
            await self._post(seat, message)
        elif act == "hello":  # a line that slept looks open at one end and is gone at the other
            seat.tell("hello", 1)
        elif act == "watch":
            seat.watching = True
            seat.tell("wall", {"version": self.wall.version})
        else:
            raise DesignError(f"{clipped(act)} is not something a room can do; reload the page.")

    async def _post(self, seat: Seat, message: dict) -> None:
        """The team's design to the wall, computed aside so that no slider waits for it."""
        team = seat.team
        if team is None:
            raise DesignError("Name your team first, then post your design to the wall.")
        if "token" in message and team.driver is seat:
            self.teams.design(seat, message["token"])
        self.wall.may_post(team.name)
        found = await self.reckon(team.token)
        if seat.team is not team:
            raise DesignError("You have left the team, so nothing was posted.")
        self.wall.put(team.name, found)
        self.changed()
        seat.tell("told", f"Posted to the wall as {team.name}.")

    async def reckon(self, token: str) -> Reckoned:
        """A design computed in a thread of its own; a queue that is too long is refused."""
        if self._waiting >= QUEUE:
            raise DesignError("The wall is busy; post again in a few seconds.")
        self._waiting += 1
        try:
            return await self.aside(reckon, token)
        finally:
            self._waiting -= 1

    async def look(self, *asked) -> dict:
        """The wall as it is shown, composed in that thread; too many who wait are refused."""
        if self._looking >= LOOKS:
            raise DesignError("Many look at the wall just now; look again in a few seconds.")
        self._looking += 1
        try:
            return await self.aside(self.wall.shown, *asked)
        finally:
            self._looking -= 1

    async def aside(self, work: Callable, *given):
        """Work in the one thread that computes, so that no socket waits for it."""
        self._worker = self._worker or ThreadPoolExecutor(1, "wall")
        return await asyncio.get_running_loop().run_in_executor(self._worker, work, *given)

    # --- the instructor ---------------------------------------------------------------------

    def right_key(self, key, address: str = "") -> bool:
        """Whether this is the instructor's key; guessing is slowed.  Raises ``DesignError``."""
        if len(self._keys) > MOST_SEATS:
            self._keys.clear()
        tries = self._keys.setdefault(address, Bucket(10, 0.1, clock=self._clock))
        if not tries.take():
            raise DesignError("Too many wrong keys; wait a minute, then type it again.")
        given = key.strip().upper() if isinstance(key, str) else ""
        # Half a character is no text, but it can be sent: it is a wrong key like any other.
        return hmac.compare_digest(given.encode(errors="surrogatepass"), self.key.encode())

    def right_cookie(self, cookie) -> bool:
        """Whether a browser has shown the key before."""
        return isinstance(cookie, str) and hmac.compare_digest(
            cookie.encode(), self.cookie.encode()
        )

    def act(self, asked) -> dict:
        """What an instructor does; what was done in a sentence, or what is wrong by field."""
        do = asked.get("do") if isinstance(asked, dict) else None
        if do == "set":
            wrong = self.settings.change(asked)
            if wrong:
                return {"wrong": wrong}
            done = "Set. Pages that open from now on start so. Open pages ask whether to take it."
        elif do == "prices":
            count = self.settings.read_prices(asked.get("text"))
            done = f"{count} prices taken from the file."
        elif do == "say":
            self.settings.say(asked.get("text"))
            done = "Shown on every page." if self.settings.message else "The message is gone."
        elif do == "clear":
            count = self.wall.clear(str(asked.get("team") or ""))
            done = f"{count} taken from the wall."
        elif do == "clear_tray":
            count = self.tray.clear()
            done = f"{count} file{'' if count == 1 else 's'} of work thrown away."
        elif do == "end_teams":
            name = str(asked.get("team") or "")
            count = self.teams.end(asked.get("all") is not True, name)
            done = f"{count} team{'' if count == 1 else 's'} ended."
        else:
            raise DesignError(f"{clipped(do)} is not something an instructor can do here.")
        self.changed(room=do in ("set", "prices", "say"))
        return {"done": done}

    def changed(self, room: bool = False) -> None:
        """Tell whom it concerns."""
        for seat in list(self.seats):
            if room:
                seat.tell("room", self.settings.public())
            if seat.watching:
                seat.tell("wall", {"version": self.wall.version})

    def form(self, system: str) -> dict:
        """The instructor's page as data."""
        teams = [
            {"name": t.name, "code": t.code, "here": len(t.seats),
             "driver": t.driver is not None} for t in self.teams
        ]  # fmt: skip
        return {
            **self.settings.form(system),
            "teams": teams,
            "handed_in": len(self.tray),
            "here": sum(not s.watching for s in self.seats),
            "posts": [p.team for p in self.wall.posts.values()],
        }

    def close(self) -> None:
        """End the thread that computes."""
        if self._worker is not None:
            self._worker.shutdown(wait=False, cancel_futures=True)
