"""The room over HTTP: one web socket a page, the wall, the instructor's page, its export.

``handlers(board, base)`` is all that a server needs.  ``allow`` may name one more gate, such as a
login: it is given the handler and answers with a sentence where it refuses.
"""

import asyncio
import contextlib
import functools
import json
import os
from collections.abc import Callable
from pathlib import Path

import tornado.web
import tornado.websocket

from ...core.choices import DesignError
from ...core.units import SYSTEMS
from ..jupyter.front_files import FRONT, style
from ..server.loopback import here
from .access import same_place
from .board import LONGEST, Board
from .text_input import closing_with_words

HERE = Path(__file__).parent / "front"
COOKIE = "rsdesign-instructor"
LARGEST_POST = 64_000
"""Bytes of a request that are kept; more is read past, so that the refusal can be heard."""
READ_PAST = 32_000_000
POLICY = (
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:;"
    " connect-src 'self' ws: wss:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
)
ONLY = (
    "Only the instructor may do this: at the machine that serves the room, or with the instructor's"
    " key. Whoever started the room has it."
)


class _Gate:
    """What every handler of the room asks first."""

    def initialize(self, board: Board, base: str, allow: Callable | None = None, **more):
        self.board, self.base, self.allow, self.more = board, base, allow, more

    def refusal(self) -> str:
        """A sentence where this request has no business here."""
        origin = self.request.headers.get("Origin")
        if origin and not same_place(origin, self.request.host):
            return "A page of another site may not speak for you here."
        return self.allow(self) if self.allow is not None else ""

    def instructor(self) -> bool:
        """Whoever sits at this machine, or has shown the key."""
        if self.board.right_cookie(self.get_cookie(COOKIE)):
            return True
        if getattr(self.request, "rsdesign_admin", False):
            return True  # so says the hub that signed them in
        if not getattr(self.request, "rsdesign_instructor", True):
            return False  # the server's own gate has looked
        return self.board.loopback and here(self.request)


class Socket(_Gate, tornado.websocket.WebSocketHandler):
    """The line between a page and its room; of news that waits, only the latest is sent."""

    seat = None
    ping_interval = 20
    """Seconds; a phone that sleeps is noticed, and its place is free."""
    max_message_size = 16 * LONGEST

    def get_websocket_protocol(self):
        """As it is, but for the words with which it closes."""
        return closing_with_words(super().get_websocket_protocol())

    def prepare(self):
        """Refuse before the line opens."""
        why = self.refusal()
        if why:
            self.set_status(403)
            self.finish(why)

    def open(self):
        """A page opened."""
        self.set_nodelay(True)
        self._wait: dict[str, object] = {}
        self._flows, self._hearing = None, 0
        try:
            self.seat = self.board.sit(self.tell, self.request.remote_ip)
        except DesignError as full:
            self.close(1008, str(full))

    def tell(self, kind: str, data) -> None:
        """Queue a piece of news; one of the same kind that still waits is forgotten."""
        self._wait[kind] = data
        if self._flows is None:
            self._flows = asyncio.ensure_future(self._flow())

    async def _flow(self) -> None:
        with contextlib.suppress(tornado.websocket.WebSocketClosedError):
            while self._wait:
                kind = next(iter(self._wait))
                await self.write_message(json.dumps({kind: self._wait.pop(kind)}))
        self._flows = None

    async def on_message(self, text):
        """Something a page says; read as text and checked."""
        if self.seat is None:
            return
        if not isinstance(text, str) or len(text) > LONGEST:
            message = None
            self.tell("told", "That is too much for one message; nothing was changed.")
        else:
            try:
                message = json.loads(text)
            except (ValueError, RecursionError):
                message = None
        if not await self.board.hear(self.seat, message):
            self.close(1008, "Too many messages.")

    def on_close(self):
        """The page closed, or the line was lost."""
        if self.seat is not None:
            self.board.stand(self.seat)


@tornado.web.stream_request_body
class _Plain(_Gate, tornado.web.RequestHandler):
    """A request of the room, with no more body than it may have."""

    only_instructor = False
    body, read, why = b"", 0, ""

    def set_default_headers(self):
        self.set_header("Content-Security-Policy", POLICY)
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")
        self.set_header("Cache-Control", "no-store")

    def prepare(self):
        self.request.connection.set_max_body_size(READ_PAST)
        self.why = self.refusal()
        if not self.why and self.only_instructor and not self.instructor():
            self.why = ONLY
        if self.why and self.request.method != "POST":
            self.refuse(self.why)

    def data_received(self, chunk):
        self.read += len(chunk)
        self.body = self.body + chunk if self.read <= LARGEST_POST else b""

    def check_xsrf_cookie(self):
        """Foreign pages are refused by their origin, and by taking JSON alone."""

    def refuse(self, why: str, status: int = 403) -> None:
        self.set_status(status)
        self.answer({"refused": why})

    def answer(self, about: dict) -> None:
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.finish(json.dumps(about))

    def asked(self) -> dict | None:
        """The body as data, or None when the request has been refused."""
        if self.why:
            self.refuse(self.why)
            return None
        if self.read > LARGEST_POST:
            self.refuse(f"That is {self.read:,} bytes; the room takes {LARGEST_POST:,}.", 413)
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

    def units(self) -> str:
        asked = self.get_query_argument("u", "")
        return asked if asked in SYSTEMS else self.board.settings.units or "us"


class Act(_Plain):
    """What an instructor does."""

    only_instructor = True

    def post(self):
        """Set, say, clear."""
        asked = self.asked()
        if asked is None:
            return
        try:
            self.answer(self.board.act(asked))
        except DesignError as wrong:
            self.refuse(str(wrong), 400)


class Key(_Plain):
    """The instructor's key, typed once at another machine."""

    def post(self):
        """Take the key; a browser that showed it is known by a cookie of this server alone."""
        asked = self.asked()
        if asked is None:
            return
        try:
            right = self.board.right_key(asked.get("key"), self.request.remote_ip)
        except DesignError as wrong:
            self.refuse(str(wrong), 429)
            return
        if not right:
            self.refuse(
                "That is not the instructor's key of this room. Whoever started the room has it."
            )
            return
        self.set_cookie(COOKIE, self.board.cookie, path=self.base, httponly=True,
                        samesite="Strict", secure=self.request.protocol == "https")  # fmt: skip
        self.answer({"done": "You are the instructor now."})


class Form(_Plain):
    """The instructor's page as data."""

    only_instructor = True

    def get(self):
        """Settings, teams, posts."""
        self.answer(self.board.form(self.units()))


class WallData(_Plain):
    """The wall as data."""

    async def get(self):
        """In the units and with the two results asked for."""
        pair = [self.get_query_argument(k, d) for k, d in
                (("x", "stock.peak_feed"), ("y", "cost.each"))]  # fmt: skip
        try:
            shown = await self.board.look(self.units(), *pair)
            self.answer({**shown, "instructor": self.instructor()})
        except DesignError as wrong:
            self.refuse(str(wrong), 400)


class HandIn(_Plain):
    """Work that a learner hands in; one sentence back."""

    def post(self):
        """Put it into the tray."""
        asked = self.asked()
        if asked is None:
            return
        status, said = self.board.tray.hear(asked, self.get_query_argument("sure", "") == "1")
        self.set_status(status)
        self.answer(said)


class Handed(_Plain):
    """What was handed in, for the instructor's page to mark."""

    only_instructor = True

    def get(self):
        """Every file as it came."""
        self.answer({"files": self.board.tray.all()})


class Export(_Plain):
    """The wall to take home."""

    only_instructor = True

    def get(self, kind):
        """As JSON or CSV."""
        wall = self.board.wall
        text = wall.as_json() if kind == "json" else f"\ufeff{wall.as_csv(self.units())}"
        self.set_header("Content-Type", "application/json; charset=utf-8" if kind == "json"
                        else "text/csv; charset=utf-8")  # fmt: skip
        self.set_header("Content-Disposition", f'attachment; filename="wall.{kind}"')
        self.finish(text)


class Static(_Plain):
    """A page, script or style of the room."""

    def get(self):
        """The same for all."""
        self.set_header("Content-Type", self.more["kind"])
        self.finish(self.more["text"])


@functools.cache
def _text(name: str) -> str:
    return (HERE / name).read_text(encoding="utf-8")


def _script(name: str, base: str) -> str:
    helpers = ((FRONT / file).read_text(encoding="utf-8") for file in ("1_dom.js", "1_line.js"))
    parts = (f"const BASE = {json.dumps(base)};", *helpers, _text("common.js"), _text(name))
    return "(() => {\n" + "\n".join(parts) + "\n})();\n"


def _page(name: str, base: str) -> str:
    title = {"wall": "The wall", "settings": "The room"}[name]
    return _text("page.html").replace("{base}", base).replace("{name}", name).replace(
        "{title}", title)  # fmt: skip


def handlers(board: Board, base: str = "/", allow: Callable | None = None) -> list[tuple]:
    """Every handler of the room under ``base``, which ends with a slash."""
    about = {"board": board, "base": base, "allow": allow}
    html, js, css = (f"text/{k}; charset=utf-8" for k in ("html", "javascript", "css"))
    fixed = {
        "wall": (_page("wall", base), html),
        "room": (_page("settings", base), html),
        "room/wall.js": (_script("wall.js", base), js),
        "room/settings.js": (_script("settings.js", base), js),
        "room/style.css": (style(), css),
    }
    return [
        (f"{base}room/socket", Socket, about),
        (f"{base}room/act", Act, about),
        (f"{base}room/key", Key, about),
        (f"{base}room/handin", HandIn, about),
        (f"{base}room/handed.json", Handed, about),
        (f"{base}room/form.json", Form, about),
        (f"{base}room/wall.json", WallData, about),
        (rf"{base}room/export\.(?P<kind>json|csv)", Export, about),
        *((f"{base}{name}", Static, {**about, "text": text, "kind": kind})
          for name, (text, kind) in fixed.items()),
    ]  # fmt: skip


def room_address(base: str = "/") -> str:
    """Where the pages of a server find their room: beside them, or where ``RSDESIGN_ROOM`` says."""
    named = os.environ.get("RSDESIGN_ROOM", "")
    return f"/{named.strip('/')}/".replace("//", "/") if named else base


def told(address: str) -> str:
    """What is printed at the start: where the wall and the settings are."""
    return f"The wall for a projector: {address}wall\nThe room, for the instructor: {address}room"
