"""A phone and a machine joined by one cable, in network namespaces without any route elsewhere.

Needs Linux and the right to make namespaces; elsewhere it skips with a sentence, and fails where CI runs.
"""

import contextlib
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from needed import missing
from rooms import CODE, free_port

HERE = Path(__file__).parent
MACHINE, PHONE = "10.77.0.1", "10.77.0.2"
NAMES = f"rsm{os.getpid()}", f"rsp{os.getpid()}"


def ip(*words, check=True) -> int:
    return subprocess.run(["ip", *words], check=check, capture_output=True).returncode


def inside(name, *command, env, **about):
    """A command inside a namespace."""
    return subprocess.Popen(["ip", "netns", "exec", name, *command], env=env, encoding="utf-8",
                            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, **about)  # fmt: skip


@pytest.fixture(scope="module")
def cable():
    able = shutil.which("ip") and hasattr(os, "geteuid") and os.geteuid() == 0
    if not able or ip("netns", "add", NAMES[0], check=False):
        missing(
            "No network namespaces can be made here, so no phone came in by a cable without routes."
        )
    try:
        ip("netns", "add", NAMES[1])
        ends = f"m{os.getpid()}"[:14], f"p{os.getpid()}"[:14]
        ip("link", "add", ends[0], "type", "veth", "peer", "name", ends[1])
        for end, name, address in zip(ends, NAMES, (MACHINE, PHONE), strict=True):
            ip("link", "set", end, "netns", name)
            ip("-n", name, "addr", "add", f"{address}/24", "dev", end)
            ip("-n", name, "link", "set", end, "up")
            ip("-n", name, "link", "set", "lo", "up")
        yield ends[0]
    finally:
        for name in NAMES:
            ip("netns", "del", name, check=False)


@pytest.fixture
def env(tmp_path):
    parts = [str(HERE), str(HERE.parent), os.environ.get("PYTHONPATH", "")]
    return {**os.environ, "HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path),
            "PYTHONPATH": os.pathsep.join(filter(None, parts)), "PYTHONUNBUFFERED": "1"}  # fmt: skip


def until(process, words, seconds=60) -> str:
    """What a process says until it says some words."""
    said, end = "", time.monotonic() + seconds
    while words not in said and time.monotonic() < end:
        line = process.stdout.readline()
        if not line:
            break
        said += line
    assert words in said, said
    return said


def ended(process) -> None:
    with contextlib.suppress(ProcessLookupError):
        process.send_signal(signal.SIGINT)
    process.communicate(timeout=30)


VISIT = """
import sys
from rooms import Client, RoomServer
host, room = sys.argv[1], RoomServer.__new__(RoomServer)
room.port = int(sys.argv[2])
assert room.ask('/', host=host)[0] == 403
page = Client(room, room.enter(sys.argv[3], host), host=host)
print(page.start()['blocks']['frame']['page'], page.say(do='set', path='tank.width', text='13')['ack'])
assert room.ask('/rsdesign/page.js', host=host, Cookie=page.cookie)[0] == 200
"""


def test_a_phone_works_through_one_cable_without_any_other_route(cable, env, tmp_path):
    port = free_port()
    server = inside(NAMES[0], sys.executable, "-m", "rsdesign", "serve", "--lan", "--no-browser", "--port",
                    str(port), "--token", CODE, env=env, cwd=tmp_path)  # fmt: skip
    try:
        said = until(server, "Ctrl-C ends the room")
        assert f"Or type: http://{MACHINE}:{port}/" in said
        phone = inside(NAMES[1], sys.executable, "-c", VISIT, MACHINE, str(port), CODE, env=env)
        answer, _ = phone.communicate(timeout=60)
        assert answer.strip() == "fish 2"
    finally:
        ended(server)


def test_the_check_hears_the_phone(cable, env, tmp_path):
    port = free_port()
    check = inside(NAMES[0], sys.executable, "-m", "rsdesign", "serve", "--lan", "--check", "--port",
                   str(port), env=env, cwd=tmp_path)  # fmt: skip
    until(check, f"http://{MACHINE}:{port}")
    ask = (
        f"import urllib.request as u; print(u.urlopen('http://{MACHINE}:{port}', timeout=9).status)"
    )
    for _ in range(40):
        phone = inside(NAMES[1], sys.executable, "-c", ask, env=env)
        if phone.communicate(timeout=20)[0].strip() == "200":
            break
        time.sleep(0.25)
    said, _ = check.communicate(timeout=30)
    assert f"Yes: {PHONE} reached this machine." in said
    assert check.returncode == 0


def test_on_no_network_both_say_so(cable, env, tmp_path):
    ip("-n", NAMES[0], "link", "set", cable, "down")
    try:
        for more in ([], ["--check"]):
            tried = inside(NAMES[0], sys.executable, "-m", "rsdesign", "serve", "--lan", "--no-browser", *more,
                           env=env, cwd=tmp_path)  # fmt: skip
            said, _ = tried.communicate(timeout=60)
            assert "on no network" in said
            assert "Traceback" not in said
            assert tried.returncode == 2
    finally:
        ip("-n", NAMES[0], "link", "set", cable, "up")
