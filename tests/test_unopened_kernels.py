"""Kernels whose pages never connected end; those that wait in the pool do not."""

import asyncio
import contextlib
import threading
import time

import psutil
from rooms import Client, RoomServer

from rsdesign.pages.room.limits import MAX_UNOPENED, KernelLimits
from rsdesign.pages.server.kernel_pool import pooled_kernel_ids


class FakeKernelManager:
    """The part of a kernel manager that the limits use."""

    def __init__(self, *names):
        self.ids = list(names)
        self._pools = {}

    def list_kernel_ids(self):
        return list(self.ids)

    async def shutdown_kernel(self, name):
        self.ids.remove(name)


def clocked(kernels, script):
    """Run a script of (second, action) against the limits; gives the kernels that ended at each second."""
    state = {"now": 0.0}

    async def run():
        limits, ended = (
            KernelLimits(kernels, lambda: pooled_kernel_ids(kernels), clock=lambda: state["now"]),
            {},
        )
        for second, act in script:
            state["now"] = float(second)
            if act:
                act(limits)
            ended[second] = await limits.end_abandoned()
        return ended

    return asyncio.run(run())


def test_a_kernel_without_a_socket_ends_after_a_minute_and_not_before():
    assert MAX_UNOPENED == 60.0
    kernels = FakeKernelManager("a")
    ended = clocked(kernels, [(0, None), (30, None), (59, None), (60, None)])
    assert ended == {0: [], 30: [], 59: [], 60: ["a"]}
    assert kernels.ids == []


def test_one_that_was_met_stays_while_its_page_is_open():
    kernels = FakeKernelManager("a", "b")
    script = [(0, None), (40, lambda limits: limits.on_connect("a", "v")), (60, None), (600, None)]
    ended = clocked(kernels, script)
    assert ended[60] == ["b"]
    assert kernels.ids == ["a"]


def test_one_in_the_pool_waits_as_long_as_it_takes_and_then_has_its_minute():
    async def made(name):
        return {"kernel_id": name}

    kernels = FakeKernelManager("a")

    async def run():
        state, ended = {"now": 0.0}, {}
        limits = KernelLimits(
            kernels, lambda: pooled_kernel_ids(kernels), clock=lambda: state["now"]
        )
        future = asyncio.ensure_future(made("a"))
        broken = asyncio.ensure_future(asyncio.sleep(3600))
        kernels._pools = {"00_start.ipynb": [future, broken]}
        await asyncio.sleep(0)
        for second in (0, 100, 500, 510, 569, 570):
            state["now"] = float(second)
            if second == 510:
                kernels._pools["00_start.ipynb"].remove(future)  # handed out to a visitor
            ended[second] = await limits.end_abandoned()
        broken.cancel()
        return ended

    ended = asyncio.run(run())
    assert ended == {0: [], 100: [], 500: [], 510: [], 569: [], 570: ["a"]}


def test_a_kernel_that_ended_by_itself_is_forgotten():
    kernels = FakeKernelManager("a")

    def gone(limits):
        kernels.ids.clear()

    ended = clocked(kernels, [(0, None), (10, gone), (100, None)])
    assert ended[100] == []


def test_a_page_whose_kernel_dies_while_it_is_made_ends_and_loads_again(tmp_path):
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
