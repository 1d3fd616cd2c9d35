"""A served series and a browser for the tests of what people see."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request

import pytest

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)


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
        for _ in range(200):
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
        words = "No Chromium is installed, so the pages were not looked at."
        if os.environ.get("CI"):
            pytest.fail(words)
        pytest.skip(words)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        made = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()
