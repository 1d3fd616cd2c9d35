"""A process that has everything loaded and forks a program for each page that opens.

Starting Python and loading the libraries takes most of a second of processor time for each page;
a fork takes a few hundredths, and shares the memory.  One thread, no sockets of a kernel, nothing
of a visitor lives here.  It ends when the server that started it ends.
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

LARGEST = 1_000_000
PATIENCE = 5.0
"""Seconds that a request may take to arrive."""


def load() -> None:
    """Load what every page needs, and compose each page once, so that tables are read."""
    from .. import blocks  # noqa: PLC0415
    from ..jupyter import served  # noqa: F401, PLC0415
    from ..opening import opened  # noqa: PLC0415
    from ..series import CLASS, SERIES  # noqa: PLC0415
    from ..session import Session  # noqa: PLC0415
    from . import kernel as program  # noqa: PLC0415

    for name in program.AHEAD:
        with contextlib.suppress(ImportError):  # another release may have it elsewhere
            importlib.import_module(name)
    for page in SERIES:
        blocks.compose(Session(page.name))
    for page in CLASS:
        session, view = opened(page.name)
        view.compose(session)


def become_kernel(argv: list[str], env: dict[str, str], cwd: str) -> None:
    """In the forked child: turn into the kernel that was asked for."""
    os.setsid()
    for name in (signal.SIGINT, signal.SIGCHLD, signal.SIGTERM):
        signal.signal(name, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.environ.clear()
    os.environ.update(env)
    threading.Thread(target=_end_with_server, daemon=True).start()
    if cwd:
        os.chdir(cwd)
    sys.argv = ["ipykernel_launcher", *argv]
    from .kernel import SETTINGS, Program  # noqa: PLC0415

    gc.enable()
    Program.launch_instance(argv=[*argv, *SETTINGS])


def _end_with_server() -> None:
    """Wait for the server to end, killed or not: it holds the other end of the standard input.

    The loaded process may end before: its programs go on.
    """
    os.read(0, 1)
    os._exit(0)


def silent() -> None:
    """From here on nothing is printed to the server: nobody reads it, and a full pipe stops the writer."""
    with open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)


def serve(path: str) -> None:
    """Fork a kernel for each request on the socket, until the standard input closes."""
    load()
    gc.collect()
    gc.freeze()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # the system clears away those that ended
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as listener:
        listener.bind(path)
        os.chmod(path, 0o600)
        listener.listen(64)
        print("ready", flush=True)
        silent()
        while True:
            ready, _, _ = select.select([listener, sys.stdin], [], [])
            if sys.stdin in ready and not os.read(sys.stdin.fileno(), 1):
                return
            if listener in ready:
                request, _ = listener.accept()
                with request, contextlib.suppress(OSError, ValueError):
                    _answer(request, listener)  # unless there is no memory, or nobody asks any more


def _answer(request: socket.socket, listener: socket.socket) -> None:
    """Fork a program for one request; one that nobody waits for any more is ended."""
    request.settimeout(PATIENCE)
    asked = _read(request)
    pid = os.fork()
    if pid == 0:
        try:
            listener.close()
            request.close()
            become_kernel(asked["argv"], asked["env"], asked["cwd"])
        except Exception:
            traceback.print_exc()  # in the terminal: without it nobody learns why a page has no program
        finally:
            os._exit(0)
    try:
        request.sendall(str(pid).encode())
    except OSError:
        os.kill(pid, signal.SIGKILL)


def _read(request) -> dict:
    """One request, a line of JSON."""
    data = b""
    while not data.endswith(b"\n") and len(data) < LARGEST:
        more = request.recv(65536)
        if not more:
            break
        data += more
    return json.loads(data)


if __name__ == "__main__":
    serve(sys.argv[1])
