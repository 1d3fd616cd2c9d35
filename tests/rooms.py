"""A room in a process of its own, and a bare client of it, for the tests."""

import contextlib
import http.client
import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import uuid
from pathlib import Path

from websockets.sync.client import connect

from rsdesign.pages.room.network import addresses

LAN = next((a.address for a in addresses()), "")
"""An address of this machine that is not loopback; empty where it is on no network."""
CODE = "fishfish9"
HEAD = {"session": "t", "username": "", "version": "5.3", "date": "2026-01-01T00:00:00Z"}


def free_port() -> int:
    with socket.socket() as s:
        s.bind(("", 0))
        return s.getsockname()[1]


class RoomServer:
    """``rsdesign serve`` from an empty folder, with a home of its own."""

    def __init__(self, folder: Path, *words, port: int = 0, lan: bool = True):
        self.folder, self.port = folder, port or free_port()
        self.home = folder / "home"
        self.home.mkdir(exist_ok=True)
        if lan and "--token" not in words:
            words = (*words, "--token", CODE)
        command = [sys.executable, "-m", "rsdesign", "serve", "--no-browser", "--port", str(self.port),
                   *(["--lan"] if lan else []), *words]  # fmt: skip
        env = {**os.environ, "HOME": str(self.home), "XDG_STATE_HOME": str(self.home / "state"),
               "LOCALAPPDATA": str(self.home), "PYTHONDONTWRITEBYTECODE": "1"}  # fmt: skip
        self.log = folder / f"serve-{time.monotonic_ns()}.log"
        with self.log.open("w", encoding="utf-8") as log:
            self.process = subprocess.Popen(command, cwd=folder, stdout=log, stderr=log, env=env)
        for _ in range(300):
            with contextlib.suppress(OSError):
                self.ask("/rsdesign/style.css")
                return
            time.sleep(0.1)
        raise RuntimeError(f"the server did not start: {self.said()}")

    def said(self) -> str:
        return self.log.read_text(encoding="utf-8")

    def ask(self, path, method="GET", host="127.0.0.1", body=None, timeout=20, **headers):
        """One request, as bare as it comes: status, headers, text."""
        line = http.client.HTTPConnection(host, self.port, timeout=timeout)
        try:
            line.request(method, path, body, {k.replace("_", "-"): v for k, v in headers.items()})
            answer = line.getresponse()
            return answer.status, answer.headers, answer.read().decode("utf-8", "replace")
        finally:
            line.close()

    def enter(self, code: str = CODE, host: str = "") -> str:
        """Come in by the address of the poster; gives the cookie."""
        status, headers, _ = self.ask(f"/?token={code}", host=host or LAN)
        assert status == 303
        return headers["Set-Cookie"].partition(";")[0]

    def stop(self, how: int = signal.SIGINT) -> None:
        self.process.send_signal(how)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait(5)


def envelope(comm, number, kind, content, channel, said) -> str:
    """A message to a kernel as it goes over the socket: what a page says, or any ``content``."""
    if content is None:
        data = {"method": "custom", "content": {"n": number, "message": said}}
        content = {"comm_id": comm, "data": data}
    header = {**HEAD, "msg_id": uuid.uuid4().hex, "msg_type": kind}
    return json.dumps({"channel": channel, "header": header, "parent_header": {}, "metadata": {},
                       "content": content, "buffers": []})  # fmt: skip


class Client:
    """One page without a browser: a kernel of its own and its socket."""

    def __init__(
        self, room: RoomServer, cookie: str, file: str = "10_fish_feed_tank.ipynb", host: str = ""
    ):
        self.room, self.cookie, self.host, self.number = room, cookie, host or LAN, 0
        self.status, _, text = room.ask(f"/voila/render/{file}", host=self.host, Cookie=cookie)
        assert self.status == 200, text[:300]
        self.kernel = re.search(r'"kernelId": "([\w-]+)"', text)[1]
        self.comm = re.search(r'"model_id": "(\w+)"', text)[1]
        self.join()

    def join(self, **more) -> None:
        url = f"ws://{self.host}:{self.room.port}/api/kernels/{self.kernel}/channels?session_id={uuid.uuid4().hex}"
        entered = connect(
            url, additional_headers={"Cookie": self.cookie}, max_size=None, compression=None, **more
        )
        self.socket = entered.__enter__()  # as a connection in older and newer versions alike

    def message(self, kind="comm_msg", content=None, channel="shell", **said) -> str:
        self.number += 1
        return envelope(self.comm, self.number, kind, content, channel, said)

    def answer(self, number: int, seconds: float = 20) -> dict:
        """The answer to one message, with the blocks that came ahead of it; the rest is passed over.

        A page with blocks that take longer, such as the year of the start page, says its frame and
        figures first and then what is late.
        """
        end, blocks = time.monotonic() + seconds, {}
        while time.monotonic() < end:
            m = json.loads(self.socket.recv(timeout=seconds))
            if m["msg_type"] == "comm_msg":
                content = m["content"]["data"].get("content", {})
                blocks.update(content.get("blocks") or {})
                if content.get("ack") == number:
                    return {**content, "blocks": blocks}
        raise TimeoutError

    def told(self, seconds: float = 10) -> str:
        """The next sentence of the server itself."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            m = json.loads(self.socket.recv(timeout=seconds))
            if m["msg_type"] == "rsdesign_notice":
                return m["content"]["text"]
        raise TimeoutError

    def say(self, **said) -> dict:
        self.socket.send(self.message(**said))
        return self.answer(self.number)

    def start(self) -> dict:
        return self.say(do="open", page="fish", token="", start=True)

    def close(self) -> None:
        with contextlib.suppress(Exception):
            self.socket.close()
