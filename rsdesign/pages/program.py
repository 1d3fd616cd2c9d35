"""The kernel behind a served page, with the short way for the messages of a slider.

A notebook's kernel tells all who listen that it is busy and idle again around each message, asks another
thread to flush two empty streams, and reads every message in a thread of its own first, to hand it to one
of several shells.  A page has one socket, prints nothing, and knows by the answer that its message was
taken; without these errands a move costs less than half the processor time.
"""

from ipykernel.iostream import OutStream
from ipykernel.ipkernel import IPythonKernel
from ipykernel.kernelapp import IPKernelApp


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


class Program(IPKernelApp):
    """One thread reads the messages of the page and answers them."""

    kernel_class = Kernel
    outstream_class = f"{__name__}.Stream"

    def init_control(self, context) -> None:
        """The channels, without the thread that would divide one shell among several."""
        super().init_control(context)
        self.shell_channel_thread = None
