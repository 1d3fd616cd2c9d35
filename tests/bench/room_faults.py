"""What goes wrong in a room, and those who make it go wrong, for ``room.py``.

Whoever floods or sends too much does it from a process of its own, so that the others' clients,
whose times are measured, are not slowed by it.  Wrong codes come from loopback: a device with
another address, since the door slows a device and not the room.
"""

import asyncio
import contextlib
import json
import os
import re
import signal
import time

from room_clients import Learner, LostError, pid_of, words_of
from rooms import LAN, RoomServer
from websockets.asyncio.client import connect
from websockets.exceptions import ConnectionClosed, InvalidStatus, WebSocketException

TEN = 10_000_000
FORGED = ["execute_request", "inspect_request", "complete_request", "history_request", "comm_open",
          "comm_close", "shutdown_request", "interrupt_request", "debug_request", "input_reply", ""]  # fmt: skip
BAD = ["", "[", "[" * 100_000, "7" * 5000, '{"header": 3}', '{"channel": "shell"}', b"\x00\x01",
       '{"header": {"msg_type": ["comm_msg"]}, "channel": "shell"}']  # fmt: skip

Refusal = tuple[str, str]
"""What was tried, and what was answered."""


def clear(sentence: str) -> bool:
    """Whether a refusal is a sentence that a person can read.

    >>> clear("That is not the code of this room. Look at the poster and type it again.")
    True
    >>> clear(""), clear("message too big"), clear("403: Forbidden"), clear("ValueError: bad value in line.")
    (False, False, False, False)
    >>> clear("'x' is not something this page can do.")
    True
    """
    text = " ".join(sentence.split())
    if re.search(r"Traceback|\b\w+(Error|Exception)\b|^\d{3}:", text):
        return False
    return len(text.split()) >= 4 and bool(re.fullmatch(r"[A-Z0-9'].*[.?)]", text))


class Place:
    """A server that runs in another process, for a client of it here."""

    ask = RoomServer.ask

    def __init__(self, port: int):
        self.port = port


def flood(port: int, cookie: str, seconds: float) -> dict:
    """A thousand messages a second to a program of one's own, then to the room."""

    async def run():
        one = Learner(Place(port), 99, cookie=cookie)
        await one.load()
        sent = {"a program": 0, "the room": 0}
        for what, line, made in (
            ("a program", one.socket, lambda: one.text(do="slide", path="tank.depth", at=0.4)),
            ("the room", one.room, lambda: json.dumps({"do": "design", "token": "x"})),
        ):
            before, began = len(one.told), time.monotonic()
            with contextlib.suppress(WebSocketException, OSError):
                while (spent := time.monotonic() - began) < seconds / 2:
                    if sent[what] < 1000 * spent:
                        await line.send(made())
                        sent[what] += 1
                    else:
                        await asyncio.sleep(0.002)
            await asyncio.sleep(2)
            refused.append(
                (f"{sent[what]} messages to {what}", one.told[before] if one.told[before:] else "")
            )
        one.leave()
        return {"sent": sum(sent.values()), "refused": refused}

    refused: list[Refusal] = []
    return asyncio.run(run())


def heavy(port: int, cookie: str, seconds: float) -> dict:
    """Messages of ten megabytes to a program, to the room, and by HTTP, in turn, one each second.

    More would measure how fast this machine makes them: who sends and who serves share its cores.
    """

    async def cut(line, text) -> str:
        """What is said when the line is closed."""
        try:
            await asyncio.wait_for(line.send(text), 20)
            await asyncio.wait_for(line.wait_closed(), 20)
        except (ConnectionClosed, OSError, TimeoutError):
            pass
        return line.close_reason or ""

    async def run():
        one = Learner(Place(port), 98, cookie=cookie)
        await one.load()
        text, body = one.text(do="load", text="x" * TEN), b"x" * TEN
        sent, end, refused = 0, time.monotonic() + seconds, []
        while time.monotonic() < end:
            for what in ("a program", "the room"):
                told = len(one.told)
                why = await cut(one.socket if what == "a program" else one.room, text)
                refused.append((f"10 MB to {what}", one.told[told] if one.told[told:] else why))
                await one.mend()
                await asyncio.sleep(1)
            status, _, said = await one.ask("/room/handin", "POST", body=body,
                                            Content_Type="application/json")  # fmt: skip
            refused.append((f"10 MB handed in, {status}", words_of(said)))
            await asyncio.sleep(1)
            sent += 3
        one.leave()
        return {"sent": sent, "refused": refused, "lost": one.lost}

    return asyncio.run(run())


async def forged(server, cookie: str) -> list[Refusal]:
    """Code to run, other comms, what is no message, a design that is none; the page lives on."""
    one = Learner(server, 97, cookie=cookie)
    await one.load()
    kept, refused = one.token, []
    code = {"code": "open('written', 'w')", "silent": False, "store_history": False,
            "user_expressions": {}, "allow_stdin": False, "comm_id": "x", "target_name": "x", "data": {},
            "restart": False, "value": "x"}  # fmt: skip

    async def told(what, *texts):
        before = len(one.told)
        for text in texts:
            await one.socket.send(text)
        await asyncio.sleep(3)  # a sentence is not said more often than it can be read
        refused.append((what, one.told[before] if one.told[before:] else ""))

    for kind in FORGED:
        texts = [
            one.text(kind, code, channel) for channel in ("shell", "control", "stdin", "iopub")
        ]
        await told(f"a message {kind or 'without a kind'}", *texts)
    for bad in BAD:
        await told(f"no message: {bad[:20]!r}", bad)
    with contextlib.suppress(LostError):
        await one.socket.send(one.text(content={"comm_id": "other", "data": {"method": "custom"}}))
        for message in ({"do": "__class__"}, {"do": 5}, {"do": "open", "token": "1.forged"},
                        {"do": "load", "text": "x" * 400_000}):  # fmt: skip
            await one.say(**message)
            refused.append((f"asked {str(message)[:40]}", one.frame.get("notice", "")))
    await one.say(do="open", page=one.page.name)
    one.same(kept, "forged messages")
    if list(server.folder.rglob("written")):
        one.lost.append("forged code has run")
    one.leave()
    refused += [("a design was lost", words) for words in one.lost]
    return refused


async def wrong_keys(server, program: str) -> list[Refusal]:
    """Wrong codes, cookies and origins, for pages and sockets."""
    refused = []
    stranger = Learner(server, 96, host="127.0.0.1", cookie="")
    name = f"rsdesign-room-{server.port}"
    for what, path, more in (
        *((f"wrong code {n}", "/?token=wrongcode", {}) for n in range(7)),
        ("no cookie", "/voila/render/00_start.ipynb", {}),
        ("a made-up cookie", "/voila/render/00_start.ipynb", {"Cookie": f"{name}=a.visitor.1.b"}),
        ("a foreign page", "/", {"Origin": "http://evil.example"}),
        ("another name", "/", {"Host": "evil.example"}),
    ):
        status, _, text = await stranger.ask(path, **more)
        words = re.search(r'role="alert"[^>]*>(.*?)</p>', text)
        refused.append((f"{what}, {status}", words[1] if words else words_of(text)))
        if status not in (403, 429) or "kernelId" in text:
            refused.append((f"{what} was let in with {status}", ""))
    for path in (f"/api/kernels/{program}/channels?session_id=a", "/room/socket"):
        for cookie in ("", f"{name}=a.visitor.9999999999.{'0' * 64}"):
            try:
                line = await connect(f"ws://{LAN}:{server.port}{path}",
                                     additional_headers={"Cookie": cookie} if cookie else {})  # fmt: skip
                line.transport.abort()
                refused.append((f"a socket {path[:12]} was opened with a wrong cookie", ""))
            except InvalidStatus as no:
                refused.append((f"a socket with a wrong cookie, {no.response.status_code}",
                                words_of(no.response.body.decode())))  # fmt: skip
    return refused


async def two_drivers(server, cookies: list[str], seconds: float) -> list[Refusal]:
    """Two of one team who both take the wheel and both send their design, all the time."""
    pair = [Learner(server, 94 + n, cookie=cookies[n]) for n in range(2)]
    wrong: list[Refusal] = []
    for one in pair:
        await one.load()
        await one.move()
    first, second = pair
    await first.tell_room(do="join", name="Two wheels", token=first.token)
    await _until(lambda: first.news.get("team"))
    await second.tell_room(do="join", name="Two wheels", code=first.news["team"]["code"])
    await _until(lambda: second.news.get("team"))
    kept = [one.token for one in pair]
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        for one in pair:
            await one.tell_room(do="drive")
            await one.tell_room(do="design", token=one.token)
        await asyncio.sleep(0.4)
    await asyncio.sleep(1)
    teams = [one.news["team"] for one in pair]
    if [t["driving"] for t in teams].count(True) != 1:
        wrong.append(("two drivers: not one of them drives at the end", ""))
    # A driver is not told of its own design: what its follower was told last is held against what it has.
    driver = 0 if teams[0]["driving"] else 1
    if teams[1 - driver]["token"] != kept[driver]:
        wrong.append(("two drivers: the follower does not see the driver's design", ""))
    for one, token in zip(pair, kept, strict=True):
        await one.say(do="open", page=one.page.name)
        one.same(token, "two drivers")
        wrong += [("a design was lost", words) for words in one.lost]
        wrong += [("two drivers", words) for words in set(one.told)]
        one.leave()
    return wrong


async def _until(found, seconds: float = 10) -> None:
    end = time.monotonic() + seconds
    while not found():
        if time.monotonic() > end:
            raise TimeoutError("the room did not answer")
        await asyncio.sleep(0.05)


async def post(learners: list[Learner]) -> dict[str, str]:
    """Each starts a team, or comes back to it, and posts; what has to hang on the wall."""
    hung = {}
    for one in learners:
        async with one.busy:
            before = one.news.get("team") or {}
            one.news.pop("team", None)
            name = f"Team {one.number}"
            more = (
                {"again": True, "drove": True, "code": before["code"], "key": before["key"]}
                if before
                else {}
            )
            await one.tell_room(do="join", name=name, token=one.token, **more)
            await _until(lambda one=one: one.news.get("team"))
            one.news.pop("notice", None)
            await one.tell_room(do="post", token=one.token)
            await _until(lambda one=one: "Posted" in one.news.get("notice", ""), 30)
            one.told = [words for words in one.told if not words.startswith("Posted")]
            hung[name] = one.token
    return hung


async def wall(learner: Learner) -> dict[str, str]:
    """The designs on the wall, by team."""
    _, _, text = await learner.ask("/room/wall.json")
    return {card["team"]: card["token"] for card in json.loads(text)["cards"]}


async def killed(server, learner: Learner) -> bool:
    """Kill a learner's program; the page loads itself anew when it hears of it."""
    pid = await asyncio.to_thread(pid_of, server, learner.kernel)
    if pid is None:
        return False
    with contextlib.suppress(ProcessLookupError):
        os.kill(pid, signal.SIGKILL)
    return True


def dropped(learner: Learner) -> None:
    """Cut both lines of a learner in the middle of whatever they do."""
    for line in (learner.socket, learner.room):
        if line is not None:
            line.transport.abort()
