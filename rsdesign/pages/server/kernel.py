"""The kernel behind a served page, with the short way for the messages of a slider.

A notebook's kernel tells all who listen that it is busy and idle again around each message, asks another
thread to flush two empty streams, and reads every message in a thread of its own first, to hand it to one
of several shells.  A page has one socket, prints nothing, and knows by the answer that its message was
taken; without these errands a move costs less than half the processor time.

Nor is a page ever debugged, nor asked what was typed into it before: the debugger alone took 11 MB of
each of sixty programs.
"""

import sys

sys.modules.setdefault("debugpy", None)  # whoever imports it is told that there is none

from ipykernel.iostream import OutStream  # noqa: E402
from ipykernel.ipkernel import IPythonKernel  # noqa: E402
from ipykernel.kernelapp import IPKernelApp  # noqa: E402

AHEAD = (
    "IPython.core.completerlib", "IPython.extensions.storemagic", "encodings.idna", "ipykernel.debugger",
    "logging.config", "pdb", "psutil", "tornado.platform.asyncio",
)  # fmt: skip
"""Modules that a program loads only as it starts; loaded before the fork, all share them."""
SETTINGS = (
    "--log-level=ERROR",
    "--HistoryManager.enabled=False",
    "--Session.digest_history_size=1000",  # of 65,536: each message left a signature for ever
)
"""What is said to every program."""

NO_SUCH_PAGE = "A message was for another page than this one and was not taken. Reload the page."


class Stream(OutStream):
    """What a cell prints; where nothing was printed there is nothing to wait for."""

    def flush(self) -> None:
        """Send what was printed."""
        if self._buffers:
            super().flush()


class Kernel(IPythonKernel):
    """Runs the cells of a page as any kernel does, and tells of its state around those alone."""

    def _publish_status(self, status, channel, parent=None) -> None:
        about = parent or self.get_parent(channel)
        if about.get("msg_type") != "comm_msg":
            super()._publish_status(status, channel, parent)

    def __init__(self, **settings):
        super().__init__(**settings)
        self._page = self.shell_handlers["comm_msg"]
        self.shell_handlers["comm_msg"] = self._to_the_page

    def _to_the_page(self, stream, ident, message):
        """Pass on what is for the page; what is for something else is refused with a sentence."""
        page = message["content"].get("comm_id")
        if isinstance(page, str) and page in self.comm_manager.comms:
            return self._page(stream, ident, message)
        self.session.send(
            self.iopub_socket, "rsdesign_told", {"text": NO_SUCH_PAGE}, parent=message
        )
        return None


class Program(IPKernelApp):
    """One thread reads the messages of the page and answers them."""

    kernel_class = Kernel
    outstream_class = f"{__name__}.Stream"

    def init_control(self, context) -> None:
        """The channels, without the thread that would divide one shell among several."""
        super().init_control(context)
        self.shell_channel_thread = None
