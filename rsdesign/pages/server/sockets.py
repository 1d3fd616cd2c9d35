"""What stands between a page and its program: one socket, one question, one start."""

import functools
import json
import logging

import tornado.web
from jupyter_core.utils import ensure_async
from voila.app import TornadoVoilaHandler, VoilaKernelWebsocketHandler

from ...core.json_input import read
from ..room.access import ALONE
from ..room.limits import TOLD_EVERY
from ..room.notice_page import told_page
from ..room.text_input import closing_with_words

LONGEST_MESSAGE = 1_000_000
"""Bytes of one message from a page."""
GOING_AWAY = 1001
"""With this code a browser closes the socket of a page that is closed, left or loaded anew (RFC 6455, 7.4.1)."""
MOST_LINES = 6
"""Sockets that one program may have: a page needs one, and one more while it finds the old one dead."""
BACKLOG = 8_000_000
"""Bytes that may wait for a page that does not read; then its socket is closed."""
LONGEST_LOAD = 60.0
"""Seconds after which a page that is not there is asked for again."""
STILL = 4
"""Seconds between two looks at a page that is being made."""
AGAIN = (
    '<p role="alert" style="position:fixed;top:0;margin:0;padding:16px;background:#FAF6EE;color:#2A2520">'
    "The program behind this page has gone. The page loads again by itself in a moment; your design is"
    " kept in its address.</p><script>setTimeout(() => location.reload(), 3000);</script>"
)
TAKEN = {"comm_msg", "kernel_info_request", "comm_info_request"}
"""The kinds of message that a page needs; a visitor runs no code and ends no program."""

TOO_FAST = (
    "This page sent more messages than a person can, and they are not taken until it is quiet for"
    " a second. Your design is kept: reload the page."
)
NOT_TAKEN = "A message of this kind is not taken: a page can change its design, nothing else."
NOT_READ = "A message could not be read and was not taken."

_log = logging.getLogger(__name__)


class Prompt(VoilaKernelWebsocketHandler):
    """The socket of a program: small messages sent at once (waiting costs 40 ms a move), counted,
    looked at, and refused with a sentence."""

    held = False
    told_at = -TOLD_EVERY

    async def get(self, kernel_id):
        """A socket; what only asks for the address, or for one socket after another, gets a sentence.

        Jupyter remembers every asker until their socket closes, also one who never opens any.
        """
        why = ""
        if self.request.headers.get("Upgrade", "").lower() != "websocket":
            self.set_status(426)
            why = "This address is the line between a page and its program; open the page itself."
        elif self.settings["crowd"].lines(kernel_id) >= MOST_LINES:
            self.set_status(429)
            why = "This page has too many lines open. Close its other windows and load it again."
        if why:
            self.finish(why)
            return
        await super().get(kernel_id)

    async def open(self, kernel_id, *args, **kwargs):
        """Open without delay, and note that somebody came for this program."""
        self.set_nodelay(True)
        self.settings["crowd"].came(kernel_id, getattr(self.request, "rsdesign_visitor", ""))
        self.held = True
        connect = super().open
        await connect(kernel_id, *args, **kwargs)

    def get_websocket_protocol(self):
        """As it is, but for the words with which it closes."""
        return closing_with_words(super().get_websocket_protocol())

    def on_message(self, ws_message):
        """Pass on what a page may send."""
        if not self.settings["traffic"].take(self.kernel_id, len(ws_message)):
            self.tell(TOO_FAST)
            return
        kind = kind_of(ws_message)
        if kind in TAKEN:
            try:
                super().on_message(ws_message)
            except Exception:  # else the line is dropped without a word
                _log.exception("a message could not be passed on")
                self.tell(NOT_READ)
        else:
            self.tell(NOT_READ if kind is None else NOT_TAKEN)

    def tell(self, sentence: str) -> None:
        """A sentence to whoever is at the other end, not more often than it can be read."""
        now = self.settings["clock"]()
        if now - self.told_at >= TOLD_EVERY:
            self.told_at = now
            self.write_message(json.dumps(
                {"channel": "iopub", "msg_type": "rsdesign_told",
                 "header": {"msg_type": "rsdesign_told"}, "parent_header": {}, "metadata": {},
                 "content": {"text": sentence}}
            ))  # fmt: skip

    def write_message(self, message, binary: bool = False):
        """Send; a page that reads nothing is let go before it fills the memory."""
        stream = getattr(self.ws_connection, "stream", None)
        if stream is not None and len(getattr(stream, "_write_buffer", None) or ()) > BACKLOG:
            self.close(1008, "This page reads nothing.")
            stream.close()
            return None
        return super().write_message(message, binary)

    def select_subprotocol(self, subprotocols):
        """Text only: every message can then be looked at."""
        return None

    def on_close(self):
        """Note that the page has gone."""
        if self.held:
            self.held = False
            self.settings["crowd"].went(self.kernel_id, said=self.close_code == GOING_AWAY)
        if getattr(self, "connection", None) is not None:
            super().on_close()


def kind_of(text) -> str | None:
    """The kind of a message; None where it is none.

    >>> kind_of('{"header": {"msg_type": "comm_msg"}, "parent_header": {}, "metadata": {}, "content": {}}')
    'comm_msg'
    >>> kind_of(b"1"), kind_of("[" * 5000), kind_of('{"header": {"msg_type": "comm_msg"}}')
    (None, None, None)
    """
    if not isinstance(text, str):
        return None
    try:
        message = read(text)
    except (ValueError, RecursionError):
        return None
    parts = ("header", "content", "parent_header", "metadata")
    if not isinstance(message, dict) or message.get("channel", "shell") != "shell":
        return None
    if not all(isinstance(message.get(part), dict) for part in parts):
        return None
    if message.get("buffers", []) != []:
        return None
    kind = message["header"].get("msg_type")
    return kind if isinstance(kind, str) else None


class Alive(tornado.web.RequestHandler):
    """Whether a program is there; nothing about it, and no way to end it."""

    def get(self, kernel_id):
        """200 when it is, 404 when it is not."""
        there = kernel_id in self.settings["kernel_manager"].list_kernel_ids()
        self.set_status(200 if there else 404)
        self.set_header("Cache-Control", "no-store")
        self.finish({"there": there})


class Render(TornadoVoilaHandler):
    """A page with a program of its own, where there is room for one more."""

    async def get(self, path=None):
        """The page, or a sentence when the room is full or one visitor loads too many."""
        crowd = self.settings["crowd"]
        visitor = getattr(self.request, "rsdesign_visitor", "")
        if visitor != ALONE and not crowd.may_load(visitor):
            self.wait(429, "This device loads pages faster than a person reads them", 10)
            return
        if not await crowd.room_for(visitor):
            self.wait(503, f"The room is full: {crowd.most} pages are open", 15)
            return
        programs = self.kernel_manager  # from here on the page counts as one that starts
        try:
            await super().get(path)
        finally:
            programs.settled()

    @functools.cached_property
    def kernel_manager(self):
        """The server's, which here remembers what it started for this page."""
        return _Noted(self.settings["kernel_manager"], self.settings["crowd"])

    async def get_generator(self, path=None):
        """The pieces of a page as they are made; where its program has gone it is asked for again.

        Voila goes on saying that the page is still being made, and a browser would wait for ever.
        """
        began = self.settings["clock"]()
        async for piece in super().get_generator(path=path):
            yield piece
            late = self.settings["clock"]() - began
            if late > LONGEST_LOAD or (late > STILL and await self.kernel_manager.gone()):
                yield AGAIN
                return

    def wait(self, status: int, why: str, seconds: int) -> None:
        """A page that tries again by itself; the design stays in its address."""
        self.set_status(status)
        self.set_header("Retry-After", str(seconds))
        self.set_header("Refresh", str(seconds))
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.finish(told_page(
            "Wait a moment", f"{why}. This page tries again by itself in {seconds} seconds; your design is"
            " kept in its address. Close pages that you do not need.",
        ))  # fmt: skip


class _Noted:
    """A kernel manager that remembers which program it has started for a page.

    Until there is one the page counts as one that is starting.
    """

    def __init__(self, programs, crowd):
        self._programs, self._crowd, self._started = programs, crowd, ""
        self._waits = True
        crowd.starting += 1

    def settled(self) -> None:
        """The page has its program, or gets none."""
        self._crowd.starting -= self._waits
        self._waits = False

    def __getattr__(self, name):
        return getattr(self._programs, name)

    async def start_kernel(self, *args, **kwargs):
        """Start one, as the manager does."""
        self._started = await ensure_async(self._programs.start_kernel(*args, **kwargs))
        self.settled()
        return self._started

    async def get_rendered_notebook(self, *args, **kwargs):
        """One that waited in the pool."""
        self.settled()
        return await self._programs.get_rendered_notebook(*args, **kwargs)

    async def gone(self) -> bool:
        """Whether the program that was started has ended."""
        if not self._started:
            return False
        there = self._started in self._programs.list_kernel_ids()
        return not (there and await ensure_async(self._programs.is_alive(self._started)))
