"""The HTTP interface of a room: a web socket for each page, the wall, the instructor's page, exports.

``handlers(room_state, base)`` gives every route.  ``allow`` may add an access check, such as a login: it
gets the handler and returns a sentence where it refuses.
"""

import asyncio
import contextlib
import json
import os
from collections.abc import Callable

import tornado.web
import tornado.websocket

from ...core.choices import DesignError
from ...core.units import SYSTEMS
from ..jupyter.front_files import FRONT, script, style
from ..server.loopback import is_local
from .access import same_origin
from .state import MAX_MESSAGE, RoomState
from .text_input import explain_close_code

COOKIE = "rsdesign-instructor"
MAX_POST = 64_000
"""Bytes of a request that are kept."""
MAX_DISCARDED = 32_000_000
"""Bytes that are read and discarded, so that the client sees the refusal and not a broken connection."""
POLICY = (
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:;"
    " connect-src 'self' ws: wss:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
)
ONLY = (
    "Only the instructor may do this: at the machine that serves the room, or with the instructor's"
    " key. Whoever started the room has it."
)


class _RoomHandler:
    """Access checks of every handler of the room."""

    def initialize(self, room_state: RoomState, base: str, allow: Callable | None = None, **more):
        self.room_state, self.base, self.allow, self.more = room_state, base, allow, more

    def refusal(self) -> str:
        """A sentence where this request is refused, else an empty one."""
        origin = self.request.headers.get("Origin")
        if origin and not same_origin(origin, self.request.host):
            return "A page of another site may not speak for you here."
        return self.allow(self) if self.allow is not None else ""

    def is_instructor(self) -> bool:
        """Whether the request is the instructor's: from this machine, or from a browser with the key."""
        if self.room_state.is_instructor_cookie(self.get_cookie(COOKIE)):
            return True
        if getattr(self.request, "rsdesign_admin", False):
            return True  # an administrator of the hub
        if not getattr(self.request, "rsdesign_instructor", True):
            return False  # the access router has decided
        return self.room_state.loopback_is_instructor and is_local(self.request)


class RoomSocket(_RoomHandler, tornado.websocket.WebSocketHandler):
    """The socket between a page and its room; of queued news only the latest of each kind is sent."""

    room_connection = None
    ping_interval = 20
    """Seconds; a phone that sleeps is detected, and its place is free again."""
    max_message_size = 16 * MAX_MESSAGE

    def get_websocket_protocol(self):
        """The protocol, which explains in words why it closes."""
        return explain_close_code(super().get_websocket_protocol())

    def prepare(self):
        """Refuse before the socket opens."""
        why = self.refusal()
        if why:
            self.set_status(403)
            self.finish(why)

    def open(self):
        """Register the page with the room."""
        self.set_nodelay(True)
        self._queue: dict[str, object] = {}
        self._sending = None
        try:
            self.room_connection = self.room_state.connect(self.send, self.request.remote_ip)
        except DesignError as full:
            self.close(1008, str(full))

    def send(self, kind: str, data) -> None:
        """Queue news for the page; it replaces queued news of the same kind."""
        self._queue[kind] = data
        if self._sending is None:
            self._sending = asyncio.ensure_future(self._send_queue())

    async def _send_queue(self) -> None:
        with contextlib.suppress(tornado.websocket.WebSocketClosedError):
            while self._queue:
                kind = next(iter(self._queue))
                await self.write_message(json.dumps({kind: self._queue.pop(kind)}))
        self._sending = None

    async def on_message(self, text):
        """Parse a message and let the room handle it."""
        if self.room_connection is None:
            return
        if not isinstance(text, str) or len(text) > MAX_MESSAGE:
            message = None
            self.room_connection.notify("That is too much for one message; nothing was changed.")
        else:
            try:
                message = json.loads(text)
            except (ValueError, RecursionError):
                message = None
        if not await self.room_state.handle(self.room_connection, message):
            self.close(1008, "Too many messages.")

    def on_close(self):
        """Unregister a page that closed or lost its connection."""
        if self.room_connection is not None:
            self.room_state.disconnect(self.room_connection)


@tornado.web.stream_request_body
class _Request(_RoomHandler, tornado.web.RequestHandler):
    """A plain HTTP request; its body is limited in size."""

    only_instructor = False
    body, received, why = b"", 0, ""

    def set_default_headers(self):
        self.set_header("Content-Security-Policy", POLICY)
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")
        self.set_header("Cache-Control", "no-store")

    def prepare(self):
        self.request.connection.set_max_body_size(MAX_DISCARDED)
        self.why = self.refusal()
        if not self.why and self.only_instructor and not self.is_instructor():
            self.why = ONLY
        if self.why and self.request.method != "POST":
            self.refuse(self.why)

    def data_received(self, chunk):
        self.received += len(chunk)
        self.body = self.body + chunk if self.received <= MAX_POST else b""

    def check_xsrf_cookie(self):
        """No check: other sites are refused by their origin, and because only JSON is accepted."""

    def refuse(self, why: str, status: int = 403) -> None:
        self.set_status(status)
        self.answer({"refused": why})

    def answer(self, about: dict) -> None:
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.finish(json.dumps(about))

    def json_body(self) -> dict | None:
        """The body as data, or None when the request was refused."""
        if self.why:
            self.refuse(self.why)
            return None
        if self.received > MAX_POST:
            self.refuse(f"That is {self.received:,} bytes; the room takes {MAX_POST:,}.", 413)
            return None
        if not self.request.headers.get("Content-Type", "").startswith("application/json"):
            self.refuse("The room takes JSON only.", 415)
            return None
        try:
            found = json.loads(self.body)
        except (ValueError, RecursionError):
            found = None
        if not isinstance(found, dict):
            self.refuse("That was not understood; reload the page.", 400)
            return None
        return found

    def unit_system(self) -> str:
        chosen = self.get_query_argument("u", "")
        return chosen if chosen in SYSTEMS else self.room_state.settings.units or "us"


class InstructorAction(_Request):
    """An action of the instructor on the room."""

    only_instructor = True

    def post(self):
        """Do it, and answer with a sentence or with sentences by field."""
        message = self.json_body()
        if message is None:
            return
        try:
            self.answer(self.room_state.instructor_actions.handle(message))
        except DesignError as wrong:
            self.refuse(str(wrong), 400)


class InstructorLogin(_Request):
    """Checks the instructor's key, typed once at another machine."""

    def post(self):
        """Set the instructor's cookie for the right key."""
        message = self.json_body()
        if message is None:
            return
        try:
            right = self.room_state.is_instructor_key(message.get("key"), self.request.remote_ip)
        except DesignError as wrong:
            self.refuse(str(wrong), 429)
            return
        if not right:
            self.refuse(
                "That is not the instructor's key of this room. Whoever started the room has it."
            )
            return
        self.set_cookie(COOKIE, self.room_state.cookie, path=self.base, httponly=True,
                        samesite="Strict", secure=self.request.protocol == "https")  # fmt: skip
        self.answer({"done": "You are the instructor now."})


class SettingsForm(_Request):
    """The data of the instructor's page."""

    only_instructor = True

    def get(self):
        """Answer with settings, teams and posts."""
        self.answer(self.room_state.form(self.unit_system()))


class WallData(_Request):
    """The data of the wall."""

    async def get(self):
        """Answer in the units and with the two results of the query."""
        pair = [self.get_query_argument(k, d) for k, d in
                (("x", "stock.peak_feed"), ("y", "cost.each"))]  # fmt: skip
        try:
            shown = await self.room_state.wall_view(self.unit_system(), *pair)
            self.answer({**shown, "instructor": self.is_instructor()})
        except DesignError as wrong:
            self.refuse(str(wrong), 400)


class HandIn(_Request):
    """Receives the work that a learner hands in."""

    def post(self):
        """Put it into the submission box, and answer with one sentence."""
        work = self.json_body()
        if work is None:
            return
        sure = self.get_query_argument("sure", "") == "1"
        status, answer = self.room_state.submissions.receive(work, sure)
        self.set_status(status)
        self.answer(answer)


class Submissions(_Request):
    """What was handed in, for the instructor's page to mark."""

    only_instructor = True

    def get(self):
        """Answer with every file as it came."""
        self.answer({"files": self.room_state.submissions.files()})


class WallExport(_Request):
    """The wall as a file."""

    only_instructor = True

    def get(self, kind):
        """Answer with JSON or CSV."""
        wall = self.room_state.wall
        text = wall.as_json() if kind == "json" else f"\ufeff{wall.as_csv(self.unit_system())}"
        self.set_header("Content-Type", "application/json; charset=utf-8" if kind == "json"
                        else "text/csv; charset=utf-8")  # fmt: skip
        self.set_header("Content-Disposition", f'attachment; filename="wall.{kind}"')
        self.finish(text)


class StaticFile(_Request):
    """A page, script or style of the room."""

    def get(self):
        """Answer with the file."""
        self.set_header("Content-Type", self.more["kind"])
        self.finish(self.more["text"])


def _script(name: str, base: str) -> str:
    return f"window.rsBase = {json.dumps(base)};\n{script(name)}"


def _page(name: str, base: str) -> str:
    title = {"wall": "The wall", "settings": "The room"}[name]
    text = (FRONT / "room.html").read_text(encoding="utf-8")
    return text.replace("{base}", base).replace("{name}", name).replace(
        "{title}", title)  # fmt: skip


def handlers(room_state: RoomState, base: str = "/", allow: Callable | None = None) -> list[tuple]:
    """Every route of the room under ``base``, which ends with a slash."""
    about = {"room_state": room_state, "base": base, "allow": allow}
    html, js, css = (f"text/{k}; charset=utf-8" for k in ("html", "javascript", "css"))
    fixed = {
        "wall": (_page("wall", base), html),
        "room": (_page("settings", base), html),
        "room/wall.js": (_script("wall", base), js),
        "room/settings.js": (_script("settings", base), js),
        "room/style.css": (style(), css),
    }
    return [
        (f"{base}room/socket", RoomSocket, about),
        (f"{base}room/act", InstructorAction, about),
        (f"{base}room/key", InstructorLogin, about),
        (f"{base}room/handin", HandIn, about),
        (f"{base}room/handed.json", Submissions, about),
        (f"{base}room/form.json", SettingsForm, about),
        (f"{base}room/wall.json", WallData, about),
        (rf"{base}room/export\.(?P<kind>json|csv)", WallExport, about),
        *((f"{base}{name}", StaticFile, {**about, "text": text, "kind": kind})
          for name, (text, kind) in fixed.items()),
    ]  # fmt: skip


def room_address(base: str = "/") -> str:
    """The base address of the room that pages connect to: their own server's, or ``RSDESIGN_ROOM``."""
    named = os.environ.get("RSDESIGN_ROOM", "")
    return f"/{named.strip('/')}/".replace("//", "/") if named else base


def page_addresses(address: str) -> str:
    """The lines that a server prints at its start: the addresses of wall and settings."""
    return f"The wall for a projector: {address}wall\nThe room, for the instructor: {address}room"
