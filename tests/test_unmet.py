"""Programs behind pages that nobody came for end; those that wait in the pool do not."""

import asyncio
import contextlib
import threading
import time

import psutil
from rooms import Client, RoomServer

from rsdesign.pages.room.limits import UNMET, Crowd
from rsdesign.pages.server.kernel_pool import waiting


class Programs:
    """As much of a kernel manager as is looked at."""

    def __init__(self, *names):
        self.alive = list(names)
        self._pools = {}

    def list_kernel_ids(self):
        return list(self.alive)

    async def shutdown_kernel(self, name):
        self.alive.remove(name)


def clocked(programs, script):
    """Run a script of (second, act) against one crowd; gives what ended at each second."""
    state = {"now": 0.0}

    async def run():
        crowd, ended = Crowd(programs, lambda: waiting(programs), clock=lambda: state["now"]), {}
        for second, act in script:
            state["now"] = float(second)
            if act:
                act(crowd)
            ended[second] = await crowd.tidy()
        return ended

    return asyncio.run(run())


def test_a_program_without_a_socket_ends_after_a_minute_and_not_before():
    assert UNMET == 60.0
    programs = Programs("a")
    ended = clocked(programs, [(0, None), (30, None), (59, None), (60, None)])
    assert ended == {0: [], 30: [], 59: [], 60: ["a"]}
    assert programs.alive == []


def test_one_that_was_met_stays_while_its_page_is_open():
    programs = Programs("a", "b")
    script = [(0, None), (40, lambda crowd: crowd.came("a", "v")), (60, None), (600, None)]
    ended = clocked(programs, script)
    assert ended[60] == ["b"]
    assert programs.alive == ["a"]


def test_one_in_the_pool_waits_as_long_as_it_takes_and_then_has_its_minute():
    async def made(name):
        return {"kernel_id": name}

    programs = Programs("a")

    async def run():
        state, ended = {"now": 0.0}, {}
        crowd = Crowd(programs, lambda: waiting(programs), clock=lambda: state["now"])
        future = asyncio.ensure_future(made("a"))
        broken = asyncio.ensure_future(asyncio.sleep(3600))
        programs._pools = {"00_start.ipynb": [future, broken]}
        await asyncio.sleep(0)
        for second in (0, 100, 500, 510, 569, 570):
            state["now"] = float(second)
            if second == 510:
                programs._pools["00_start.ipynb"].remove(future)  # handed out to a visitor
            ended[second] = await crowd.tidy()
        broken.cancel()
        return ended

    ended = asyncio.run(run())
    assert ended == {0: [], 100: [], 500: [], 510: [], 569: [], 570: ["a"]}


def test_a_program_that_ended_by_itself_is_forgotten():
    programs = Programs("a")

    def gone(crowd):
        programs.alive.clear()

    ended = clocked(programs, [(0, None), (10, gone), (100, None)])
    assert ended[100] == []


def test_a_page_whose_program_dies_while_it_is_made_ends_and_loads_again(tmp_path):
    """Voila would say for ever that it is still being made."""
    server = RoomServer(tmp_path, "--pool", "0", lan=False)
    try:
        source = next(
            p
            for p in psutil.Process(server.process.pid).children()
            if "fork" in " ".join(p.cmdline())
        )
        answers = []
        asked = threading.Thread(
            target=lambda: answers.append(server.ask("/voila/render/00_start.ipynb", timeout=30))
        )
        asked.start()
        while asked.is_alive() and not answers:
            for program in source.children():
                with contextlib.suppress(psutil.NoSuchProcess):  # killed the last time round
                    program.suspend()  # however fast the machine, the page is not made before
                    time.sleep(0.05)
                    program.kill()
            asked.join(0.01)
        status, _, text = answers[0]
        assert status == 200, (text[:800], server.said()[-3000:])
        assert "loads again by itself" in text
        assert Client(server, "", host="127.0.0.1").start()["ack"], "the next page stands"
    finally:
        server.stop()
