"""The shared state of a class in session, in memory alone: connections, teams, wall, settings.

It knows nothing of sockets: a page is a ``Connection`` with a ``send`` function.  It serves the pages of
one server; pages of another server of the same hub may name it (``RSDESIGN_ROOM``).  Nothing is written
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
from ..classroom.class_session import local_class
from ..server.validation import action_of
from .instructor_actions import InstructorActions
from .rate_limit import TokenBucket
from .results import ComputedDesign, compute_results
from .settings import Settings
from .submission_box import SubmissionBox
from .teams import CODE_LETTERS, Connection, Teams
from .wall import Wall

MAX_CONNECTIONS = 300
"""Pages that a room is connected to; one more opens and computes, but follows no team."""
MAX_PER_ADDRESS = 120
"""Pages from one address; a school's computers may share one."""
MAX_MESSAGE = 12_000
"""Characters of one message; a link token has at most 6,000."""
DISCONNECT_AFTER = 400
"""Messages over the rate limit after which a page is disconnected."""
MAX_QUEUED_POSTS = 12
"""Posts that may wait to be computed."""
MAX_WALL_REQUESTS = 100
"""Requests for the wall that may wait; a class of thirty asks at once when it changes."""
KEY_LENGTH = 10
NOT_AN_ACTION = "is not something a room can do; reload the page."
SORRY = (
    "Something went wrong inside, and this was not done. Your design is not touched: try again, or"
    " reload the page."
)

_log = logging.getLogger(__name__)


class RoomState:
    """One class in session: its connections, teams, wall, settings and submissions.

    ``loopback_is_instructor``: whether a request from this machine is the instructor's; not so
    behind a proxy, where every request comes from it.
    """

    def __init__(
        self, loopback_is_instructor: bool = True, clock: Callable = time.monotonic, key: str = ""
    ):
        self.loopback_is_instructor = loopback_is_instructor
        made = "".join(secrets.choice(CODE_LETTERS) for _ in range(KEY_LENGTH))
        self.key = (key or os.environ.get("RSDESIGN_ROOM_KEY", "")).strip().upper() or made
        """What an instructor at another machine types once; a hub sets it, else it is random."""
        self.cookie = secrets.token_urlsafe(24)
        self.teams, self.wall, self.settings = Teams(clock), Wall(), Settings()
        self.submissions = SubmissionBox(local_class)
        self.instructor_actions = InstructorActions(self)
        self.connections: set[Connection] = set()
        self._clock = clock
        self._key_attempts: dict[str, TokenBucket] = {}
        self._queued_posts = self._queued_wall_requests = 0
        self._worker: ThreadPoolExecutor | None = None

    # --- connections ------------------------------------------------------------------------

    def connect(self, send: Callable[[str, object], None], address: str = "") -> Connection:
        """Register a page and send it the settings.  Raises ``DesignError`` when full."""
        same = sum(c.address == address for c in self.connections)
        if len(self.connections) >= MAX_CONNECTIONS or same >= MAX_PER_ADDRESS:
            raise DesignError(
                "The room is full, so this page follows no team; your design is not touched."
            )
        connection = Connection(send, address)
        connection.bucket = TokenBucket(60, 20.0, clock=self._clock)
        self.connections.add(connection)
        send("room", self.settings.public())
        return connection

    def disconnect(self, connection: Connection) -> None:
        """Remove a page that closed or lost its connection."""
        if connection in self.connections:
            self.connections.discard(connection)
            self.teams.leave(connection, lost=True)

    # --- messages from a page ---------------------------------------------------------------

    async def handle(self, connection: Connection, message) -> bool:
        """Do what a message asks; a refusal is sent as a sentence.  False: disconnect the page."""
        if not connection.bucket.take():
            connection.dropped += 1
            if connection.dropped % 50 == 1:
                connection.notify("Too many messages from this page; wait a few seconds.")
            return connection.dropped < DISCONNECT_AFTER
        try:
            await action_of(self, message, NOT_AN_ACTION)(connection, message)
        except DesignError as error:
            connection.notify(str(error))
        except Exception:  # else the socket closes without a word
            _log.exception("a room could not do what a page asked")
            connection.notify(SORRY)
        return True

    async def _do_join(self, connection: Connection, message: dict) -> None:
        self.teams.join(connection, message)

    async def _do_leave(self, connection: Connection, message: dict) -> None:
        self.teams.leave(connection)
        connection.send("team", None)

    async def _do_drive(self, connection: Connection, message: dict) -> None:
        self.teams.drive(connection)

    async def _do_design(self, connection: Connection, message: dict) -> None:
        self.teams.design(connection, message.get("token"))

    async def _do_hello(self, connection: Connection, message: dict) -> None:
        """Answer, so that a page sees whether a socket that looks open still is."""
        connection.send("hello", 1)

    async def _do_watch(self, connection: Connection, message: dict) -> None:
        connection.watching = True
        connection.send("wall", {"version": self.wall.version})

    async def _do_post(self, connection: Connection, message: dict) -> None:
        """Post the team's design to the wall, computed in a thread so that no slider waits."""
        team = connection.team
        if team is None:
            raise DesignError("Name your team first, then post your design to the wall.")
        if "token" in message and team.driver is connection:
            self.teams.design(connection, message["token"])
        self.wall.may_post(team.name)
        computed = await self.compute(team.token)
        if connection.team is not team:
            raise DesignError("You have left the team, so nothing was posted.")
        self.wall.put(team.name, computed)
        self.announce_changes()
        connection.notify(f"Posted to the wall as {team.name}.")

    async def compute(self, token: str) -> ComputedDesign:
        """Compute a design in the worker thread; refused where too many wait."""
        if self._queued_posts >= MAX_QUEUED_POSTS:
            raise DesignError("The wall is busy; post again in a few seconds.")
        self._queued_posts += 1
        try:
            return await self._in_worker(compute_results, token)
        finally:
            self._queued_posts -= 1

    async def wall_view(self, *options) -> dict:
        """The wall as ``Wall.shown`` composes it, in the worker thread; refused where too many wait."""
        if self._queued_wall_requests >= MAX_WALL_REQUESTS:
            raise DesignError("Many look at the wall just now; look again in a few seconds.")
        self._queued_wall_requests += 1
        try:
            return await self._in_worker(self.wall.shown, *options)
        finally:
            self._queued_wall_requests -= 1

    async def _in_worker(self, work: Callable, *arguments):
        """Run a function in the one worker thread, so that no socket waits for it."""
        self._worker = self._worker or ThreadPoolExecutor(1, "wall")
        return await asyncio.get_running_loop().run_in_executor(self._worker, work, *arguments)

    # --- the instructor ---------------------------------------------------------------------

    def is_instructor_key(self, key, address: str = "") -> bool:
        """Whether this is the instructor's key.  Raises ``DesignError`` after too many attempts."""
        if len(self._key_attempts) > MAX_CONNECTIONS:
            self._key_attempts.clear()
        attempts = self._key_attempts.setdefault(address, TokenBucket(10, 0.1, clock=self._clock))
        if not attempts.take():
            raise DesignError("Too many wrong keys; wait a minute, then type it again.")
        given = key.strip().upper() if isinstance(key, str) else ""
        # A lone surrogate is no text but can be sent: treat it as a wrong key.
        return hmac.compare_digest(given.encode(errors="surrogatepass"), self.key.encode())

    def is_instructor_cookie(self, cookie) -> bool:
        """Whether a browser has given the right key before."""
        return isinstance(cookie, str) and hmac.compare_digest(
            cookie.encode(), self.cookie.encode()
        )

    def announce_changes(self, settings: bool = False) -> None:
        """Send changed settings to every page, and the wall's version to those that show it."""
        for connection in list(self.connections):
            if settings:
                connection.send("room", self.settings.public())
            if connection.watching:
                connection.send("wall", {"version": self.wall.version})

    def form(self, system: str) -> dict:
        """The data of the instructor's page about the room."""
        teams = [
            {"name": t.name, "code": t.code, "members": len(t.connections),
             "driver": t.driver is not None} for t in self.teams
        ]  # fmt: skip
        return {
            **self.settings.form(system),
            "teams": teams,
            "submissions": len(self.submissions),
            "open_pages": sum(not c.watching for c in self.connections),
            "posts": [p.team for p in self.wall.posts.values()],
        }

    def close(self) -> None:
        """End the worker thread."""
        if self._worker is not None:
            self._worker.shutdown(wait=False, cancel_futures=True)
