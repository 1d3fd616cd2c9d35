"""``rsdesign serve``: the series in a browser, by Voila run in this process, on this machine alone,
or with ``--lan`` in a room.

A small subclass of Voila's application.  It serves our template, our script and plotly.js with
headers that let a browser keep them, removes check cells from pages, ends every kernel on Ctrl-C,
and never shows a traceback or a source.  Every request passes ``room/gate.py`` first.
"""

import asyncio
import contextlib
import functools
import gzip
import hashlib
import json
import logging
import os
import re
import sys
import tempfile
import time
import webbrowser
from pathlib import Path

# jsonschema's address grammar costs a second at each start of a server and is not used here.
sys.modules.setdefault("rfc3987_syntax", None)

import tornado.httpserver
import tornado.ioloop
import tornado.web
from traitlets.config import Config
from voila.app import KernelHandler, TornadoVoilaHandler, Voila, VoilaKernelWebsocketHandler
from voila.request_info_handler import RequestInfoSocketHandler

from ...core.choices import DesignError
from ...core.tables import workbooks_folder
from ..jupyter.front_files import script, style
from ..room.access import LONGEST_BODY, Gate
from ..room.auth import closed
from ..room.board import Board
from ..room.handlers import handlers, room_address, told
from ..room.limits import LOOK, MOST, Crowd, Traffic
from ..room.notice_page import told_page
from ..room.room import Poster, Room
from ..series import CLASS, SERIES
from .file_limits import raise_files, raise_lines
from .files import plotly_script
from .fork_provisioner import SECRETS, use_fork
from .kernel_pool import ready_only, waiting
from .loopback import rule
from .sockets import LONGEST_MESSAGE, STILL, Alive, Prompt, Render

HERE = Path(__file__).parents[1] / "jupyter"
IDLE = 600
"""Seconds after which a program that nobody spoke to ends, whatever became of its page."""
INTERVAL = 30
LONGEST_FOLDER = 36
"""Characters of the folder for passing files; the name of a socket in it has 107 at most on Linux."""
READ_WITHIN = 120.0
"""Seconds in which a file must have been read: what nobody reads stays in the memory."""
SLOWEST = 30.0
"""Seconds that a request's head or body may take, and that a quiet connection stays open."""


def kept_file(body: bytes, kind: str):
    """A handler of one file, packed once, which browsers may keep while it does not change."""
    packed = gzip.compress(body, 6)
    tag = f'"{hashlib.sha256(body).hexdigest()[:16]}"'

    class Kept(tornado.web.RequestHandler):
        def compute_etag(self):
            return tag

        def get(self):
            self.set_header("Content-Type", kind)
            self.set_header("Cache-Control", "public, max-age=3600")
            self.set_header("Vary", "Accept-Encoding")
            if "gzip" in self.request.headers.get("Accept-Encoding", ""):
                self.set_header("Content-Encoding", "gzip")
                self.finish(packed)
            else:
                self.finish(body)
            stream = self.request.connection.stream
            asyncio.get_running_loop().call_later(READ_WITHIN, _let_go, stream)

    return Kept


def _let_go(stream) -> None:
    """Close a connection whose other end does not read what is written to it."""
    if stream.writing():
        stream.close()


class Start(tornado.web.RequestHandler):
    """The root: on to the first page, with whatever the address carried."""

    def get(self):
        """Send the browser to the first page."""
        query = f"?{self.request.query}" if self.request.query else ""
        self.redirect(f"{self.settings['base_url']}voila/render/{SERIES[0].file}{query}")


class Nothing(tornado.web.RequestHandler):
    """An address that is none, such as a link that was cut short."""

    def prepare(self):
        """Say so, whatever was asked."""
        self.set_status(404)
        words = (
            "There is no page at this address. The link may have been cut short; ask for it again."
        )
        self.finish(told_page("Nothing is here", words, self.settings["base_url"]))


class Series(Voila):
    """The application that serves the series."""

    wanted = True
    """Whether a browser is to be opened."""
    room: Room | None = None
    """The room that is open to the local network; None for this machine alone."""
    names: tuple[str, ...] = ()
    """Further names by which this server is reached."""
    most = MOST
    """Programs behind open pages."""
    gate: Gate | None = None

    def init_handlers(self):
        """Voila's pages, less its file list and contents, plus our files."""
        base = self.server_url
        kept = {
            "page.js": (
                front(base, self.room.address if self.room else "").encode(),
                "text/javascript; charset=utf-8",
            ),
            "style.css": (style().encode(), "text/css; charset=utf-8"),
            "plotly.min.js": (plotly_script(), "text/javascript; charset=utf-8"),
        }
        ours = [(f"{base}rsdesign/{name}", kept_file(*about)) for name, about in kept.items()]
        if self.room is not None:
            about = {"room": self.room, "gate": lambda: self.gate}
            ours.append((f"{base}rsdesign/poster", Poster, about))
        instead = {
            VoilaKernelWebsocketHandler: Prompt,
            KernelHandler: Alive,
            TornadoVoilaHandler: Render,
        }
        theirs = [
            (h[0], instead.get(h[1], h[1]), *h[2:])
            for h in super().init_handlers()
            if not _unwanted(h[0])
        ]
        self.board = Board()
        for name in SECRETS:  # read by now, and no program behind a page needs them
            os.environ.pop(name, None)
        pages = "|".join(re.escape(page.file) for page in (*SERIES, *CLASS))
        no_page = (rf"{base}voila/render/(?!(?:{pages})$).*", Nothing)
        room = handlers(self.board, base)
        return [rule(), (base, Start), *ours, *room, no_page, *theirs, (r".*", Nothing)]

    def listen(self):
        """Open the one port asked for, say where, and serve until stopped."""
        self._watch()
        self.gate = self.entry()
        server = tornado.httpserver.HTTPServer(
            self.gate, max_body_size=LONGEST_BODY, max_buffer_size=2 * LONGEST_MESSAGE,
            idle_connection_timeout=SLOWEST, body_timeout=SLOWEST,
        )  # fmt: skip
        try:
            for address in self.room.listens_on if self.room else [self.ip]:
                server.listen(self.port, address)
        except OSError as wrong:
            raise DesignError(
                f"Port {self.port} cannot be used: {wrong.strerror}. Try --port {self.port + 1}."
            ) from None
        address = f"http://localhost:{self.port}{self.base_url}"
        self.announce(address)
        self.ioloop = tornado.ioloop.IOLoop.current()
        try:
            self.ioloop.start()
        except KeyboardInterrupt:
            print("\nEnding every program behind a page.", flush=True)
            if self.room:
                closed(self.port)
        finally:
            self.board.close()
            self.stop()

    def announce(self, address: str) -> None:
        """Say where the pages are, and open a browser there."""
        if self.room:
            print(self.room.told(key=self.board.key), flush=True)
            address = self.room.home("rsdesign/poster")
        else:
            print(f"The workbooks are open at {address}\nOnly this machine can reach them."
                  f" Ctrl-C ends them.\n{told(address)}", flush=True)  # fmt: skip
        if self.wanted:
            _opened(address)

    def entry(self):
        """What every request passes first."""
        keys = self.room and self.room.keys
        return Gate(self.app, self.base_url, self.port, keys, self.names,
                    say=lambda words: print(words, flush=True))  # fmt: skip

    def _watch(self) -> None:
        """What counts and limits: programs nobody came for, messages, who holds what."""
        raise_lines(self.kernel_manager)
        ready_only(self.kernel_manager)
        about = self.app.settings
        traffic = about["traffic"] = Traffic()
        pooled = functools.partial(waiting, self.kernel_manager)
        crowd = about["crowd"] = Crowd(self.kernel_manager, pooled, self.most)
        about["clock"] = time.monotonic

        async def look():
            await crowd.tidy()
            traffic.forget(set(self.kernel_manager.list_kernel_ids()))
            RequestInfoSocketHandler._cache.clear()  # Voila keeps a line for each page, and nobody asks for it

        tornado.ioloop.PeriodicCallback(look, 1000 * LOOK).start()


def _unwanted(pattern: str) -> bool:
    """Voila's file list, its contents, its files and its notebook front end are not served."""
    parts = ("/voila/tree", "/api/contents", "/voila/files", "/voila/labextensions", "/api/themes",
             "/voila/static", "/voila/templates", "/api/shutdown", "/voila/query", "/login",
             "/logout", "/api/me")  # fmt: skip
    return any(part in pattern for part in parts) or pattern in ("/", "")


def front(base: str, room: str = "") -> str:
    """The script of the served pages, with what it must know of this server; ``room`` is the address
    of an open one."""
    series = json.dumps({page.file: page.name for page in SERIES})
    classes = json.dumps({page.file: page.name for page in CLASS})
    address = json.dumps(f"{base}rsdesign/plotly.min.js")
    about = f"window.rsSeries = {series}; window.rsClass = {classes}; window.rsPlotly = {address};"
    about += f" window.rsRoom = {json.dumps(room_address(base))};"
    if room:
        about += f" window.rsLan = {json.dumps(room)};"
    hub = os.environ.get("JUPYTERHUB_BASE_URL", "")
    if hub and base.startswith(f"{hub}user/"):
        about += (
            f" window.rsHub = {json.dumps({'mine': base, 'theirs': f'{hub}hub/user-redirect/'})};"
        )
    return f"{about}\n{script(True)}"


def settings(port: int, pool: int, base: str = "/") -> Config:
    """Everything that is set on the server, in one place."""
    config = Config()
    config.Voila.ip = "127.0.0.1"
    config.Voila.port = port
    config.Voila.base_url = base
    config.Voila.open_browser = False
    config.Voila.tornado_settings = {
        "websocket_max_message_size": LONGEST_MESSAGE,
        "headers": {"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin"},
    }
    about = config.VoilaConfiguration
    about.template = "rsdesign"
    about.show_tracebacks = False
    about.http_keep_alive_timeout = STILL
    about.strip_sources = True
    about.allow_template_override = "NO"
    about.allow_theme_override = "NO"
    about.preheat_kernel = pool > 0
    about.default_pool_size = pool
    config.VoilaKernelManager.kernel_pools_config = {
        SERIES[0].file: {"pool_size": pool},
        "default": {"pool_size": 0},
    }
    # A new program is started once the page that took the last one has loaded, not beside it.
    config.VoilaKernelManager.fill_delay = 4
    # A program that died is gone: one started in its place would know nothing of its page.
    config.KernelRestarter.restart_limit = 0
    config.MappingKernelManager.cull_idle_timeout = IDLE
    config.MappingKernelManager.cull_interval = INTERVAL
    config.MappingKernelManager.cull_connected = False
    config.TagRemovePreprocessor.enabled = True
    config.TagRemovePreprocessor.remove_cell_tags = ["nbval-check-output"]
    return config


def serve(
    port: int = 8866,
    browser: bool = True,
    pool: int = 1,
    room: Room | None = None,
    names: tuple[str, ...] = (),
    most: int = MOST,
    application: type = Series,
    config: Config | None = None,
) -> None:
    """Serve the series until Ctrl-C; every program behind a page then ends.

    Without a ``room`` only this machine is listened to.  Another ``application`` brings its own
    ``config``, in which port and pool stand already.  Raises ``DesignError`` with a sentence when
    it cannot start.
    """
    os.environ["JUPYTER_PATH"] = os.pathsep.join(
        filter(None, (str(HERE), os.environ.get("JUPYTER_PATH")))
    )
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, (str(Path(__file__).parents[3]), os.environ.get("PYTHONPATH")))
    )
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")  # thirty pages on two cores must not start sixty threads
    with tempfile.TemporaryDirectory(prefix="rsdesign-") as empty:
        os.environ["JUPYTER_CONFIG_DIR"] = empty
        app = application(config=config or settings(port, pool), log_level=logging.WARNING)
        # Nobody signs our own notebooks, and whoever reads a terminal need not wonder whom to trust.
        app.log.addFilter(lambda told: "is not trusted" not in told.getMessage())
        raise_files()
        app.wanted, app.room, app.names, app.most = browser, room, names, most
        source = use_fork()
        if source is not None and len(tempfile.gettempdir()) <= LONGEST_FOLDER:
            # Of thirty programs that start at once two may draw the same port; its own file nobody takes.
            app.config.KernelManager.transport = "ipc"
        try:
            app.initialize([str(workbooks_folder())])
            app.start()
        finally:
            if source is not None:
                source.close()


def _opened(url: str) -> None:
    with contextlib.suppress(webbrowser.Error):
        webbrowser.open_new_tab(url)
