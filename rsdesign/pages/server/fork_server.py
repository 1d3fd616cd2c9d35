"""A process with everything imported that forks a kernel for each page.

Starting Python and importing the libraries takes most of a second of processor time for each page; a
fork takes a few hundredths, and shares the memory.  This process has one thread, no kernel sockets
and no data of any visitor.  It ends when the server that started it ends.
"""

import contextlib
import gc
import importlib
import json
import os
import select
import signal
import socket
import sys
import threading
import traceback

MAX_REQUEST = 1_000_000
"""Bytes of one request."""
REQUEST_TIMEOUT = 5.0
"""Seconds that a request may take to arrive."""


def preload() -> None:
    """Import what every page needs, and compose each page once, so that tables are in memory."""
    from .. import carried  # noqa: PLC0415
    from ..jupyter import served  # noqa: F401, PLC0415
    from ..opening import open_page  # noqa: PLC0415
    from ..series import CLASS, SERIES  # noqa: PLC0415
    from .kernel import PRELOADED_MODULES  # noqa: PLC0415

    for name in PRELOADED_MODULES:
        with contextlib.suppress(ImportError):  # another version may have it elsewhere
            importlib.import_module(name)
    for page in SERIES:
        carried.preload(page.name, "us")
    for page in CLASS:
        session, view = open_page(page.name)
        view.compose(session)


def become_kernel(argv: list[str], env: dict[str, str], cwd: str) -> None:
    """Run, in the forked child, the kernel that was requested."""
    os.setsid()
    for name in (signal.SIGINT, signal.SIGCHLD, signal.SIGTERM):
        signal.signal(name, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.environ.clear()
    os.environ.update(env)
    threading.Thread(target=_exit_with_server, daemon=True).start()
    if cwd:
        os.chdir(cwd)
    sys.argv = ["ipykernel_launcher", *argv]
    from .kernel import KERNEL_ARGUMENTS, PageKernelApp  # noqa: PLC0415

    gc.enable()
    PageKernelApp.launch_instance(argv=[*argv, *KERNEL_ARGUMENTS])


def _exit_with_server() -> None:
    """Exit when the server ends, killed or not: it holds the other end of standard input.

    The fork server itself may end earlier; its kernels go on.
    """
    os.read(0, 1)
    os._exit(0)


def mute_stdout() -> None:
    """Send standard output to the null device: the server reads no more, and a full pipe blocks."""
    with open(os.devnull, "wb") as null:
        os.dup2(null.fileno(), 1)


def serve(path: str) -> None:
    """Fork a kernel for each request on a Unix socket, until standard input closes."""
    preload()
    gc.collect()
    gc.freeze()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # the system reaps children that ended
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as listener:
        listener.bind(path)
        os.chmod(path, 0o600)
        listener.listen(64)
        print("ready", flush=True)
        mute_stdout()
        while True:
            ready, _, _ = select.select([listener, sys.stdin], [], [])
            if sys.stdin in ready and not os.read(sys.stdin.fileno(), 1):
                return
            if listener in ready:
                connection, _ = listener.accept()
                # Out of memory, an unreadable request or a closed connection must not end this process.
                with connection, contextlib.suppress(OSError, ValueError):
                    _fork_for(connection, listener)


def _fork_for(connection: socket.socket, listener: socket.socket) -> None:
    """Fork a kernel for one request and answer with its pid; end it where nobody reads the answer."""
    connection.settimeout(REQUEST_TIMEOUT)
    request = _read(connection)
    pid = os.fork()
    if pid == 0:
        try:
            listener.close()
            connection.close()
            become_kernel(request["argv"], request["env"], request["cwd"])
        except Exception:
            traceback.print_exc()  # on the server's terminal: the only trace of why a page has no kernel
        finally:
            os._exit(0)
    try:
        connection.sendall(str(pid).encode())
    except OSError:
        os.kill(pid, signal.SIGKILL)


def _read(connection: socket.socket) -> dict:
    """One request: a line of JSON."""
    data = b""
    while not data.endswith(b"\n") and len(data) < MAX_REQUEST:
        more = connection.recv(65536)
        if not more:
            break
        data += more
    return json.loads(data)


if __name__ == "__main__":
    serve(sys.argv[1])
