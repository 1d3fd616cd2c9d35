"""``rsdesign serve``: the pages in a browser, by Voila in this process.

A small subclass of Voila's application, for this machine alone or, with ``--lan``, for a class.  It
serves our template, script and plotly.js with headers that let a browser cache them, removes check
cells from pages, ends every kernel on Ctrl-C, and shows neither tracebacks nor sources.  Every request
passes ``room/access.py`` first.
"""

from .compat import clear_request_info, skip_unused_modules

skip_unused_modules()

import contextlib
import functools
import json
import logging
import os
import re
import tempfile
import time
import webbrowser
from pathlib import Path

import tornado.httpserver
import tornado.ioloop
from traitlets.config import Config
from voila.app import KernelHandler, TornadoVoilaHandler, Voila, VoilaKernelWebsocketHandler

from ...core.choices import DesignError
from ...core.folders import workbooks_folder
from ...report import glossary
from .. import SERVED
from ..jupyter.front_files import script, style
from ..room.access import MAX_BODY, AccessRouter
from ..room.auth import discard_keys
from ..room.handlers import handlers, page_addresses, room_address
from ..room.lan import LanAccess, PosterHandler
from ..room.limits import CHECK_INTERVAL, MAX_KERNELS, KernelLimits, MessageLimits
from ..room.state import RoomState
from ..series import CLASS, SERIES
from .config import voila_config
from .file_limits import raise_file_limit, raise_zmq_socket_limit
from .files import plotly_script
from .fork_provisioner import SECRETS, start_fork_server
from .kernel_pool import count_only_started, pooled_kernel_ids
from .loopback import loopback_rule
from .sockets import MAX_MESSAGE, KernelStatus, KernelWebSocket, PageHandler
from .static import NotFound, RootRedirect, cached_file

JUPYTER_FOLDER = Path(__file__).parents[1] / "jupyter"
MAX_TEMP_PATH = 36
"""Characters of the temporary folder's path; a Unix socket's whole path has at most 107 on Linux."""
REQUEST_TIMEOUT = 30.0
"""Seconds that a request's head or body may take, and that an idle connection stays open."""
UNWANTED_ROUTES = (
    "/voila/tree", "/api/contents", "/voila/files", "/voila/labextensions", "/api/themes",
    "/voila/static", "/voila/templates", "/api/shutdown", "/voila/query", "/login", "/logout",
    "/api/me",
)  # fmt: skip
"""Voila's file list, contents, files, accounts and notebook front end, which are not served."""
REPLACED_HANDLERS = {
    VoilaKernelWebsocketHandler: KernelWebSocket,
    KernelHandler: KernelStatus,
    TornadoVoilaHandler: PageHandler,
}
"""Voila's handlers and ours that take their places."""


class SeriesApp(Voila):
    """The application that serves the series of pages."""

    browser_wanted = True
    """Whether to open a browser at the start."""
    lan: LanAccess | None = None
    """How the local network gets in; None for this machine alone."""
    host_names: tuple[str, ...] = ()
    """Further host names of this server."""
    max_kernels = MAX_KERNELS
    router: AccessRouter | None = None

    def init_handlers(self):
        """Voila's pages without its file list and contents, plus our files and the room."""
        base = self.server_url
        self.room_state = RoomState()
        for name in SECRETS:  # read by now, and no kernel may see them
            os.environ.pop(name, None)
        pages = "|".join(re.escape(page.file) for page in (*SERIES, *CLASS))
        no_page = (rf"{base}voila/render/(?!(?:{pages})$).*", NotFound)
        voila = [
            (pattern, REPLACED_HANDLERS.get(handler, handler), *rest)
            for pattern, handler, *rest in super().init_handlers()
            if not _is_unwanted(pattern)
        ]
        return [loopback_rule(), (base, RootRedirect), *self._file_handlers(base),
                *handlers(self.room_state, base), no_page, *voila, (r".*", NotFound)]  # fmt: skip

    def _file_handlers(self, base: str) -> list[tuple]:
        """Script, style and chart library of the pages; in a room also the poster."""
        front_end = front_end_script(base, self.lan.address if self.lan else "")
        files = {
            "page.js": (front_end.encode(), "text/javascript; charset=utf-8"),
            "style.css": (style().encode(), "text/css; charset=utf-8"),
            "glossary.html": (glossary.html().encode(), "text/html; charset=utf-8"),
            "plotly.min.js": (plotly_script(), "text/javascript; charset=utf-8"),
        }
        found = [(f"{base}rsdesign/{name}", cached_file(*file)) for name, file in files.items()]
        if self.lan is not None:
            options = {"lan": self.lan, "router": lambda: self.router}
            found.append((f"{base}rsdesign/poster", PosterHandler, options))
        return found

    def listen(self):
        """Open the port, print where the pages are, and serve until stopped."""
        self._start_limits()
        self.router = self.request_router()
        server = tornado.httpserver.HTTPServer(
            self.router, max_body_size=MAX_BODY, max_buffer_size=2 * MAX_MESSAGE,
            idle_connection_timeout=REQUEST_TIMEOUT, body_timeout=REQUEST_TIMEOUT,
        )  # fmt: skip
        try:
            for address in self.lan.listens_on if self.lan else [self.ip]:
                server.listen(self.port, address)
        except OSError as error:
            raise DesignError(
                f"Port {self.port} cannot be used: {error.strerror}. Try --port {self.port + 1}."
            ) from None
        address = f"http://localhost:{self.port}{self.base_url}"
        self.announce(address)
        self.ioloop = tornado.ioloop.IOLoop.current()
        try:
            self.ioloop.start()
        except KeyboardInterrupt:
            print("\nEnding every program behind a page.", flush=True)
            if self.lan:
                discard_keys(self.port)
        finally:
            self.room_state.close()
            self.stop()

    def announce(self, address: str) -> None:
        """Print where the pages are, and open a browser there."""
        if self.lan:
            print(self.lan.instructions(key=self.room_state.key), flush=True)
            address = self.lan.instructor_url("rsdesign/poster")
        else:
            print(f"The workbooks are open at {address}\nOnly this machine can reach them."
                  f" Ctrl-C ends them.\n{page_addresses(address)}", flush=True)  # fmt: skip
        if self.browser_wanted:
            with contextlib.suppress(webbrowser.Error):
                webbrowser.open_new_tab(address)

    def request_router(self):
        """What every request passes first."""
        keys = self.lan and self.lan.keys
        return AccessRouter(self.app, self.base_url, self.port, keys, self.host_names,
                            log=lambda words: print(words, flush=True))  # fmt: skip

    def _start_limits(self) -> None:
        """Count kernels and messages of each visitor, and end abandoned kernels regularly."""
        raise_zmq_socket_limit(self.kernel_manager)
        count_only_started(self.kernel_manager)
        settings = self.app.settings
        message_limits = settings["message_limits"] = MessageLimits()
        pooled = functools.partial(pooled_kernel_ids, self.kernel_manager)
        kernel_limits = KernelLimits(self.kernel_manager, pooled, self.max_kernels)
        settings["kernel_limits"] = kernel_limits
        settings["clock"] = time.monotonic

        async def check():
            await kernel_limits.end_abandoned()
            message_limits.forget_all_but(set(self.kernel_manager.list_kernel_ids()))
            clear_request_info()

        tornado.ioloop.PeriodicCallback(check, 1000 * CHECK_INTERVAL).start()


def _is_unwanted(pattern: str) -> bool:
    return any(route in pattern for route in UNWANTED_ROUTES) or pattern in ("/", "")


def front_end_script(base: str, lan_address: str = "") -> str:
    """The script of the served pages with what it must know of this server.

    ``lan_address`` is the server's address for the local network, where that may come in.
    """
    values = {
        "rsSeries": {page.file: page.name for page in SERIES},
        "rsClass": {page.file: page.name for page in CLASS},
        "rsPlotly": f"{base}rsdesign/plotly.min.js",
        "rsRoom": room_address(base),
    }
    if lan_address:
        values["rsLan"] = lan_address
    hub = os.environ.get("JUPYTERHUB_BASE_URL", "")
    if hub and base.startswith(f"{hub}user/"):
        values["rsHub"] = {"mine": base, "theirs": f"{hub}hub/user-redirect/"}
    lines = " ".join(f"window.{name} = {json.dumps(value)};" for name, value in values.items())
    return f"{lines}\n{script('served')}"


def serve(
    port: int = 8866,
    browser: bool = True,
    pool: int = 1,
    lan: LanAccess | None = None,
    host_names: tuple[str, ...] = (),
    max_kernels: int = MAX_KERNELS,
    application: type = SeriesApp,
    config: Config | None = None,
) -> None:
    """Serve the series until Ctrl-C; every kernel then ends.

    Without ``lan`` only this machine can connect.  Another ``application`` brings its own
    ``config``, which then sets port and pool.  Raises ``DesignError`` with a sentence when the server
    cannot start.
    """
    _prepend_path("JUPYTER_PATH", JUPYTER_FOLDER)
    _prepend_path("PYTHONPATH", Path(__file__).parents[3])
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")  # thirty kernels on two cores must not start sixty threads
    with tempfile.TemporaryDirectory(prefix="rsdesign-") as empty:
        os.environ["JUPYTER_CONFIG_DIR"] = empty
        os.environ[SERVED] = "1"
        app = application(config=config or voila_config(port, pool), log_level=logging.WARNING)
        # Silence Jupyter's "not trusted" warning: our notebooks are unsigned.
        app.log.addFilter(lambda record: "is not trusted" not in record.getMessage())
        raise_file_limit()
        app.browser_wanted, app.lan = browser, lan
        app.host_names, app.max_kernels = host_names, max_kernels
        fork_server = start_fork_server()
        if fork_server is not None and len(tempfile.gettempdir()) <= MAX_TEMP_PATH:
            # Of thirty kernels that start at once two may choose the same port; socket files differ.
            app.config.KernelManager.transport = "ipc"
        try:
            app.initialize([str(workbooks_folder())])
            app.start()
        finally:
            if fork_server is not None:
                fork_server.close()


def _prepend_path(name: str, folder: Path) -> None:
    """Put a folder first in a path variable, which kernels inherit."""
    os.environ[name] = os.pathsep.join(filter(None, (str(folder), os.environ.get(name))))
