"""For tests: a JupyterHub on loopback with the documents' configuration, and a visitor's protocol."""

import asyncio
import contextlib
import json
import os
import re
import socket
import subprocess
import sys
import time
import uuid
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import psutil
import requests
import websockets

ROOT = Path(__file__).resolve().parents[1]
CONFIG = ROOT / "docs" / "deployment" / "jupyterhub_config.py"
WORD = "still-water"


def free_ports(count: int) -> list[int]:
    """Ports that nobody listens on now."""
    held = [socket.socket() for _ in range(count)]
    for s in held:
        s.bind(("127.0.0.1", 0))
    ports = [s.getsockname()[1] for s in held]
    for s in held:
        s.close()
    return ports


class Hub:
    """The hub, its proxy, its culler and the room, in a folder of their own."""

    def __init__(self, folder: Path, base: str = "/", **environment: str):
        self.folder, self.base = folder, base
        front, inner, api, room = free_ports(4)
        self.port, self.url = front, f"http://127.0.0.1:{front}{base}"
        environment = {
            **os.environ,
            "RSDESIGN_HUB_WORD": WORD,
            "RSDESIGN_HUB_URL": self.url,
            "RSDESIGN_ROOM_URL": f"http://127.0.0.1:{room}",
            "PATH": os.pathsep.join((str(Path(sys.executable).parent), os.environ["PATH"])),
            "PYTHONPATH": os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH")))),
            **environment,
        }
        self.direct = f"http://127.0.0.1:{room}{base}services/room/"
        self.log = open(folder / "hub.log", "w", encoding="utf-8")  # noqa: SIM115  (closed in stop)
        command = [sys.executable, "-m", "jupyterhub", "-f", str(CONFIG),
                   f"--JupyterHub.hub_port={inner}",
                   f"--ConfigurableHTTPProxy.api_url=http://127.0.0.1:{api}"]  # fmt: skip
        self.process = subprocess.Popen(
            command, cwd=folder, env=environment, stdout=self.log, stderr=self.log
        )
        try:
            self.until(f"{self.url}hub/login", 200)
            self.until(f"{self.url}services/room/", 302)
        except RuntimeError:
            self.stop()
            raise

    @staticmethod
    def until(url: str, status: int, patience: float = 150) -> None:
        """Wait for an answer of that status."""
        end = time.monotonic() + patience
        while time.monotonic() < end:
            try:
                if requests.get(url, allow_redirects=False, timeout=5).status_code == status:
                    return
            except requests.RequestException:
                pass
            time.sleep(0.1)
        raise RuntimeError(f"{url} did not answer {status}")

    def said(self) -> str:
        """What hub, proxy and servers wrote."""
        return (self.folder / "hub.log").read_text(encoding="utf-8")

    def stop(self) -> None:
        """End the hub and everything it started."""
        started = psutil.Process(self.process.pid).children(recursive=True)
        self.process.send_signal(2)
        try:
            self.process.wait(60)
        except subprocess.TimeoutExpired:
            for one in (psutil.Process(self.process.pid), *started):
                with contextlib.suppress(psutil.NoSuchProcess):
                    one.kill()
        self.log.close()


class Front:
    """nginx before a hub, with the documents' configuration on a free port."""

    def __init__(self, folder: Path, hub: Hub, nginx: str):
        (port,) = free_ports(1)
        site = (CONFIG.parent / "nginx.conf").read_text(encoding="utf-8")
        site = site.replace("listen 80;", f"listen 127.0.0.1:{port};")
        site = site.replace("127.0.0.1:8000", f"127.0.0.1:{hub.port}")
        whole = (
            f"daemon off; pid {folder}/pid; error_log {folder}/error.log; events {{}}\n"
            f"http {{ access_log off; client_body_temp_path {folder}/body;"
            f" proxy_temp_path {folder}/proxy; fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u;"
            f" scgi_temp_path {folder}/s; {site} }}"
        )
        (folder / "nginx.conf").write_text(whole, encoding="utf-8")
        self.url = f"http://127.0.0.1:{port}{hub.base}"
        self.process = subprocess.Popen([nginx, "-p", str(folder), "-c", f"{folder}/nginx.conf"])
        Hub.until(f"{self.url}hub/login", 200)

    def stop(self) -> None:
        """End it."""
        self.process.send_signal(15)
        self.process.wait(20)


class Visitor:
    """Somebody with cookies."""

    def __init__(self, hub: Hub, name: str, url: str | None = None):
        self.hub, self.name, self.url = hub, name, url or hub.url
        self.web = requests.Session()
        self.home, self.room = f"{self.url}user/{name}/", f"{self.url}services/room/"

    def sign_in(self, word: str = WORD) -> int:
        """The status of the answer to name and word."""
        form = self.web.get(f"{self.url}hub/login", timeout=10)
        hidden = re.search(r'name="_xsrf" value="([^"]+)"', form.text)[1]
        said = {"username": self.name, "password": word, "_xsrf": hidden}
        return self.web.post(f"{self.url}hub/login", data=said, allow_redirects=False,
                             timeout=10).status_code  # fmt: skip

    def start(self) -> None:
        """Ask the hub for a server of one's own, and wait for it."""
        self.web.get(f"{self.url}hub/spawn", timeout=60)
        end = time.monotonic() + 120
        while time.monotonic() < end:
            answer = self.web.get(f"{self.home}rsdesign/style.css", timeout=30)
            if answer.ok and "css" in answer.headers["Content-Type"]:
                return
            time.sleep(0.2)
        raise RuntimeError(f"no server for {self.name}:\n{self.hub.said()}")

    def get(self, base: str, path: str = "", **more):
        """A page or file under a base, following the hub's sign-in."""
        return self.web.get(urljoin(base, path), timeout=60, **more)

    def page(self, base: str, file: str, query: str = "") -> "Page":
        """A page with its kernel."""
        answer = self.get(base, f"voila/render/{file}{query}")
        answer.raise_for_status()
        return Page(self, base, answer.text)


class Page:
    """A page that was opened: what it must know to speak to its kernel."""

    def __init__(self, visitor: Visitor, base: str, text: str):
        self.visitor, self.text = visitor, text
        config = json.loads(
            re.search(r'id="jupyter-config-data"[^>]*>(.*?)</script>', text, re.S)[1]
        )
        self.base_url, self.kernel = config["baseUrl"], config["kernelId"]
        self.comm = re.search(r'"model_id": "(\w+)"', text)[1]
        self.api = urljoin(base, f"{self.base_url}api/kernels/{self.kernel}")

    def say(self, *messages: dict, who: Visitor | None = None, origin: str | None = None) -> dict:
        """Send messages over the socket, each after the last was answered; the blocks that came."""
        return asyncio.run(self._say(messages, who or self.visitor, origin))

    async def _say(self, messages, who, origin) -> dict:
        url = self.api.replace("http", "ws", 1) + f"/channels?session_id={uuid.uuid4().hex}"
        place = urlsplit(self.api)
        cookie = who.web.prepare_request(requests.Request("GET", self.api)).headers.get(
            "Cookie", ""
        )
        known: dict = {}
        async with websockets.connect(
            url, max_size=None, additional_headers={"Cookie": cookie},
            origin=origin or f"{place.scheme}://{place.netloc}",
        ) as link:  # fmt: skip
            for number, message in enumerate(messages, 1):
                header = {"msg_id": uuid.uuid4().hex, "msg_type": "comm_msg", "session": "t",
                          "username": "", "version": "5.3", "date": "2026-01-01T00:00:00Z"}  # fmt: skip
                data = {"method": "custom", "content": {"n": number, "message": message}}
                content = {"comm_id": self.comm, "data": data}
                await link.send(json.dumps({"header": header, "parent_header": {}, "metadata": {},
                                            "content": content, "channel": "shell", "buffers": []}))  # fmt: skip
                while True:
                    heard = json.loads(await asyncio.wait_for(link.recv(), 30))
                    came = heard.get("content", {}).get("data", {})
                    came = came.get("content", {}) if isinstance(came, dict) else {}
                    if heard["msg_type"] == "comm_msg":
                        known.update(came.get("blocks", {}))
                        if came.get("ack") == number:
                            break
        return known
