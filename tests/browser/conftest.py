"""A served series and a browser for the tests of what people see; the order of all test files."""

import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from needed import missing

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"))), None
)  # fmt: skip
"""The shell first: it draws the same pages without a window around each, which takes a fifth of the time."""


LONGEST = (
    "browser/test_looks.py", "browser/test_entries.py", "browser/test_served.py", "browser/test_room_lines.py",
    "browser/test_room.py", "test_room_security.py",
    "test_hub.py", "browser/test_classroom.py", "test_handout.py", "browser/test_in_a_room.py",
    "test_latex.py", "test_bad_input.py", "browser/test_take_home.py",
    "browser/test_touch.py",
)  # fmt: skip
"""The files that take longest, longest first: given out first, no worker is left alone with one."""

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    # Started in the background by a shell, this process and all it starts would not hear Ctrl-C, by
    # which the tests end their servers.
    signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_collection_modifyitems(items):
    """The longest files first, all others as they came."""
    tests = Path(__file__).parents[1]
    rank = {tests / name: at for at, name in enumerate(LONGEST)}
    assert all(path.is_file() for path in rank), "LONGEST names a file that is not there"
    items.sort(key=lambda item: rank.get(item.path, len(rank)))


def free_port() -> int:
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


class Server:
    """``rsdesign serve`` in a process of its own, from an empty folder."""

    def __init__(
        self, folder, *more, command=("-m", "rsdesign", "serve", "--no-browser", "--port")
    ):
        self.port = free_port()
        command = [sys.executable, *command, str(self.port), *more]
        self.log = open(folder / "serve.log", "w", encoding="utf-8")  # noqa: SIM115  (closed in stop)
        self.process = subprocess.Popen(command, cwd=folder, stdout=self.log, stderr=self.log)
        self.url = f"http://127.0.0.1:{self.port}/"
        for _ in range(900):  # a busy machine
            try:
                urllib.request.urlopen(f"{self.url}rsdesign/style.css", timeout=2).close()
                return
            except OSError:
                time.sleep(0.1)
        raise RuntimeError("the server did not start")

    def page(self, file: str, query: str = "") -> str:
        return f"{self.url}voila/render/{file}{query}"

    def stop(self):
        self.process.send_signal(2)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        self.log.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    made = Server(tmp_path_factory.mktemp("served"))
    yield made
    made.stop()


@pytest.fixture(scope="module")
def browser():
    """Chromium; without one the tests skip with a sentence, and fail where CI runs them."""
    if CHROMIUM is None:
        missing("No Chromium is installed, so the pages were not looked at.")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        made = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()
