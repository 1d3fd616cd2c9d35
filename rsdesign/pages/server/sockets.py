"""The handlers between a page and its kernel: web socket, kernel status, page rendering."""

import functools
import json
import logging

import tornado.web
from jupyter_core.utils import ensure_async
from voila.app import TornadoVoilaHandler, VoilaKernelWebsocketHandler

from ...core.json_input import read
from ..room.access import LOCAL_VISITOR
from ..room.limits import NOTICE_INTERVAL
from ..room.notice_page import notice_page
from ..room.text_input import explain_close_code
from .compat import unsent_bytes
from .validation import NOTICE

MAX_MESSAGE = 1_000_000
"""Bytes of one message from a page."""
GOING_AWAY = 1001
"""Close code of a page that was closed, left or reloaded (RFC 6455, 7.4.1)."""
MAX_SOCKETS_PER_KERNEL = 6
"""A page needs one, and one more while it finds out that the old one is dead."""
MAX_BACKLOG = 8_000_000
"""Bytes that may wait for a client that does not read; beyond them its socket is closed."""
LOAD_TIMEOUT = 60.0
"""Seconds after which a page that did not render is reloaded."""
PROGRESS_INTERVAL = 4
"""Seconds between two progress reports of Voila while a page renders."""
RELOAD_NOTICE = (
    '<p role="alert" style="position:fixed;top:0;margin:0;padding:16px;background:#FAF6EE;color:#2A2520">'
    "The program behind this page has gone. The page loads again by itself in a moment; your design is"
    " kept in its address.</p><script>setTimeout(() => location.reload(), 3000);</script>"
)
ALLOWED_TYPES = {"comm_msg", "kernel_info_request", "comm_info_request"}
"""The message types that a page needs; a visitor runs no code and shuts down no kernel."""

TOO_FAST = (
    "This page sent more messages than a person can, and they are not taken until it is quiet for"
    " a second. Your design is kept: reload the page."
)
NOT_ALLOWED = "A message of this kind is not taken: a page can change its design, nothing else."
UNREADABLE = "A message could not be read and was not taken."

_log = logging.getLogger(__name__)


class KernelWebSocket(VoilaKernelWebsocketHandler):
    """The socket of a kernel: messages are rate-limited, validated, and refused with a sentence."""

    connected = False
    last_notice = -NOTICE_INTERVAL

    async def get(self, kernel_id):
        """Open a socket; answer a plain request, or one too many, with a sentence.

        Jupyter keeps state for every request until its socket closes, even where none ever opens.
        """
        why = ""
        if self.request.headers.get("Upgrade", "").lower() != "websocket":
            self.set_status(426)
            why = "This address is the line between a page and its program; open the page itself."
        elif self.settings["kernel_limits"].socket_count(kernel_id) >= MAX_SOCKETS_PER_KERNEL:
            self.set_status(429)
            why = "This page has too many lines open. Close its other windows and load it again."
        if why:
            self.finish(why)
            return
        await super().get(kernel_id)

    async def open(self, kernel_id, *args, **kwargs):
        """Connect, and record that this kernel has its page."""
        self.set_nodelay(True)  # else each slider move waits 40 ms
        visitor = getattr(self.request, "rsdesign_visitor", "")
        self.settings["kernel_limits"].on_connect(kernel_id, visitor)
        self.connected = True
        connect = super().open
        await connect(kernel_id, *args, **kwargs)

    def get_websocket_protocol(self):
        """The protocol, which explains in words why it closes."""
        return explain_close_code(super().get_websocket_protocol())

    def on_message(self, ws_message):
        """Pass on what a page may send."""
        if not self.settings["message_limits"].take(self.kernel_id, len(ws_message)):
            self.send_notice(TOO_FAST)
            return
        kind = message_type(ws_message)
        if kind in ALLOWED_TYPES:
            try:
                super().on_message(ws_message)
            except Exception:  # else the socket closes without a word
                _log.exception("a message could not be passed on")
                self.send_notice(UNREADABLE)
        else:
            self.send_notice(UNREADABLE if kind is None else NOT_ALLOWED)

    def send_notice(self, sentence: str) -> None:
        """Show a sentence on the page, at most once in ``NOTICE_INTERVAL`` seconds."""
        now = self.settings["clock"]()
        if now - self.last_notice >= NOTICE_INTERVAL:
            self.last_notice = now
            self.write_message(json.dumps(
                {"channel": "iopub", "msg_type": NOTICE, "header": {"msg_type": NOTICE},
                 "parent_header": {}, "metadata": {}, "content": {"text": sentence}}
            ))  # fmt: skip

    def write_message(self, message, binary: bool = False):
        """Send; close the socket of a client that does not read before its backlog fills the memory."""
        stream = getattr(self.ws_connection, "stream", None)
        if stream is not None and unsent_bytes(stream) > MAX_BACKLOG:
            self.close(1008, "This page reads nothing.")
            stream.close()
            return None
        return super().write_message(message, binary)

    def select_subprotocol(self, subprotocols):
        """No subprotocol: messages stay text, so that each can be validated."""
        return None

    def on_close(self):
        """Record that the page has gone."""
        if self.connected:
            self.connected = False
            left = self.close_code == GOING_AWAY
            self.settings["kernel_limits"].on_disconnect(self.kernel_id, left)
        if getattr(self, "connection", None) is not None:
            super().on_close()


def message_type(text) -> str | None:
    """The type of a Jupyter message; None where the text is no message.

    >>> message_type('{"header": {"msg_type": "comm_msg"}, "parent_header": {}, "metadata": {}, "content": {}}')
    'comm_msg'
    >>> message_type(b"1"), message_type("[" * 5000), message_type('{"header": {"msg_type": "comm_msg"}}')
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


class KernelStatus(tornado.web.RequestHandler):
    """Whether a kernel runs; nothing else about it, and no way to shut it down."""

    def get(self, kernel_id):
        """200 where it runs, else 404."""
        there = kernel_id in self.settings["kernel_manager"].list_kernel_ids()
        self.set_status(200 if there else 404)
        self.set_header("Cache-Control", "no-store")
        self.finish({"there": there})


class PageHandler(TornadoVoilaHandler):
    """Renders a page with a kernel of its own, where the limits allow one more."""

    async def get(self, path=None):
        """The page, or a sentence when all kernels are in use or one visitor loads too many pages."""
        limits = self.settings["kernel_limits"]
        visitor = getattr(self.request, "rsdesign_visitor", "")
        if visitor != LOCAL_VISITOR and not limits.may_load(visitor):
            self.retry_later(429, "This device loads pages faster than a person reads them", 10)
            return
        if not await limits.make_space(visitor):
            self.retry_later(503, f"The room is full: {limits.most} pages are open", 15)
            return
        kernels = self.kernel_manager  # from here on the page counts as a kernel that is starting
        try:
            await super().get(path)
        finally:
            kernels.start_finished()

    @functools.cached_property
    def kernel_manager(self):
        """The server's kernel manager, wrapped to remember the kernel of this page."""
        return _StartTracker(self.settings["kernel_manager"], self.settings["kernel_limits"])

    async def get_generator(self, path=None):
        """The pieces of a page as they render; a reload notice where its kernel has died.

        Voila would report progress for ever, and the browser would wait.
        """
        began = self.settings["clock"]()
        async for piece in super().get_generator(path=path):
            yield piece
            elapsed = self.settings["clock"]() - began
            if elapsed > LOAD_TIMEOUT or (
                elapsed > PROGRESS_INTERVAL and await self.kernel_manager.has_died()
            ):
                yield RELOAD_NOTICE
                return

    def retry_later(self, status: int, why: str, seconds: int) -> None:
        """Send a notice page that reloads by itself; the design stays in its address."""
        self.set_status(status)
        self.set_header("Retry-After", str(seconds))
        self.set_header("Refresh", str(seconds))
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.finish(notice_page(
            "Wait a moment", f"{why}. This page tries again by itself in {seconds} seconds; your design is"
            " kept in its address. Close pages that you do not need.",
        ))  # fmt: skip


class _StartTracker:
    """A kernel manager that remembers the kernel it started for one page.

    Until that kernel runs, the page counts as one that is starting.
    """

    def __init__(self, kernel_manager, limits):
        self._kernel_manager, self._limits, self._kernel_id = kernel_manager, limits, ""
        self._starting = True
        limits.starting += 1

    def start_finished(self) -> None:
        """The page has its kernel, or gets none."""
        self._limits.starting -= self._starting
        self._starting = False

    def __getattr__(self, name):
        return getattr(self._kernel_manager, name)

    async def start_kernel(self, *args, **kwargs):
        """Start a kernel as the manager does, and remember its id."""
        self._kernel_id = await ensure_async(self._kernel_manager.start_kernel(*args, **kwargs))
        self.start_finished()
        return self._kernel_id

    async def get_rendered_notebook(self, *args, **kwargs):
        """A page whose kernel waited in the pool."""
        self.start_finished()
        return await self._kernel_manager.get_rendered_notebook(*args, **kwargs)

    async def has_died(self) -> bool:
        """Whether the kernel that was started has ended."""
        if not self._kernel_id:
            return False
        listed = self._kernel_id in self._kernel_manager.list_kernel_ids()
        return not (listed and await ensure_async(self._kernel_manager.is_alive(self._kernel_id)))
