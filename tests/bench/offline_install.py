"""Install from the stick where no network is: fill, cut off, install, size a design, open a page.

``python tests/bench/offline_install.py [STICK]`` on Linux.  The second half runs in a network
namespace of its own, which has a loopback and no route; it ends with a status other than 0 when a
step fails.  A STICK that was filled before is taken as it is.
"""

import argparse
import os
import re
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def cut_off() -> None:
    """Fails unless nothing outside can be reached."""
    subprocess.run(["ip", "link", "set", "lo", "up"], check=True)
    routes = subprocess.run(["ip", "route"], capture_output=True, text=True, check=True).stdout
    assert not routes.strip(), f"there is a route: {routes}"
    try:
        socket.create_connection(("192.0.2.1", 80), timeout=2)
    except OSError:
        return
    raise AssertionError("an outside address answered")


def install(stick: Path) -> None:
    """The three lines of the stick's paper, in a home that is empty, then a design and a page."""
    cut_off()
    with tempfile.TemporaryDirectory() as home:
        env = {"PATH": os.environ["PATH"], "HOME": home, "PIP_CONFIG_FILE": os.devnull}
        start = time.perf_counter()
        subprocess.run([sys.executable, "-m", "venv", f"{home}/rsdesign"], check=True, env=env)
        subprocess.run([f"{home}/rsdesign/bin/pip", "install", "--quiet", "--no-index",
                        "--disable-pip-version-check", "--find-links", "linux", "rsdesign"],
                       check=True, env=env, cwd=stick)  # fmt: skip
        print(f"installed without a route in {time.perf_counter() - start:.0f} s", flush=True)
        rsdesign = f"{home}/rsdesign/bin/rsdesign"
        subprocess.run([rsdesign, "new", "mine.toml"], check=True, env=env, cwd=home)
        said = subprocess.run([rsdesign, "size", "mine.toml"], check=True, env=env, cwd=home,
                              capture_output=True, text=True).stdout  # fmt: skip
        assert "feed" in said
        with socket.socket() as s:
            s.bind(("127.0.0.1", 0))
            port = s.getsockname()[1]
        server = subprocess.Popen([rsdesign, "serve", "--no-browser", "--port", str(port)],
                                  env=env, cwd=home)  # fmt: skip
        try:
            text = opened(f"http://127.0.0.1:{port}/")
        finally:
            server.send_signal(2)
            server.wait(30)
        assert re.search(r'"kernelId": "[\w-]+"', text), "the page has no program"
        print(f"a page opened with its program, {len(text) / 1000:.0f} kB", flush=True)


def opened(url: str) -> str:
    """The first page, once the server answers."""
    for _ in range(200):
        try:
            return urllib.request.urlopen(url, timeout=60).read().decode()
        except OSError:
            time.sleep(0.2)
    raise AssertionError("the server did not answer")


def main() -> None:
    """Fill a stick where there is none, and go where no network is."""
    asked = argparse.ArgumentParser()
    asked.add_argument("stick", nargs="?", type=Path)
    asked.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)
    args = asked.parse_args()
    if args.inside:
        install(args.stick)
        return
    with tempfile.TemporaryDirectory() as folder:
        stick = args.stick or Path(folder) / "stick"
        if not (stick / "linux").exists():
            filler = ROOT / "docs" / "deployment" / "usb_stick.py"
            subprocess.run([sys.executable, str(filler), str(stick), "--for", "linux"], check=True)
        inside = [sys.executable, __file__, str(stick.resolve()), "--inside"]
        subprocess.run(["unshare", "--user", "--map-root-user", "--net", *inside], check=True)


if __name__ == "__main__":
    main()
