"""The kernel of a served page: an ipykernel without what a page never uses.

A standard kernel publishes busy and idle around each message, has another thread flush two empty
streams, and receives every message in a thread of its own, to pass it to one of several subshells.
A page has one socket, prints nothing and sees from the answer that its message was handled; without
these steps a slider move takes less than half the processor time.  Debugger and input history are
off too: the debugger alone took 11 MB in each of sixty kernels.
"""

from .compat import has_output, skip_unused_modules, without_status

skip_unused_modules()

from ipykernel.iostream import OutStream  # noqa: E402
from ipykernel.ipkernel import IPythonKernel  # noqa: E402
from ipykernel.kernelapp import IPKernelApp  # noqa: E402

from .validation import NOTICE  # noqa: E402

PRELOADED_MODULES = (
    "IPython.core.completerlib", "IPython.extensions.storemagic", "encodings.idna", "ipykernel.debugger",
    "logging.config", "pdb", "psutil", "tornado.platform.asyncio",
)  # fmt: skip
"""Modules that a kernel imports only as it starts; imported before the fork, all kernels share them."""
KERNEL_ARGUMENTS = (
    "--log-level=ERROR",
    "--HistoryManager.enabled=False",
    "--Session.digest_history_size=1000",  # default 65,536: each message's signature is kept
)
"""Command-line arguments of every page kernel."""

UNKNOWN_PAGE = "A message was for another page than this one and was not taken. Reload the page."


class PageOutStream(OutStream):
    """Standard output or error of a page; flushing does not wait where nothing was printed."""

    def flush(self) -> None:
        """Send what was printed."""
        if has_output(self):
            super().flush()


@without_status("comm_msg")
class PageKernel(IPythonKernel):
    """Runs cells like any kernel; comm messages are answered without busy and idle around them."""

    def __init__(self, **options):
        super().__init__(**options)
        self._default_comm_msg = self.shell_handlers["comm_msg"]
        self.shell_handlers["comm_msg"] = self._handle_comm_msg

    def _handle_comm_msg(self, stream, ident, message):
        """Pass on a message for this kernel's page; answer any other with a notice."""
        comm_id = message["content"].get("comm_id")
        if isinstance(comm_id, str) and comm_id in self.comm_manager.comms:
            return self._default_comm_msg(stream, ident, message)
        self.session.send(self.iopub_socket, NOTICE, {"text": UNKNOWN_PAGE}, parent=message)
        return None


class PageKernelApp(IPKernelApp):
    """Starts a page kernel whose main thread receives the shell messages itself."""

    kernel_class = PageKernel
    outstream_class = f"{__name__}.PageOutStream"

    def init_control(self, context) -> None:
        """Open the control channel, without ipykernel 7's thread that serves subshells."""
        super().init_control(context)
        self.shell_channel_thread = None
