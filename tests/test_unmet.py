"""Programs behind pages that nobody came for end; those that wait in the pool do not."""

import asyncio
import time

from rooms import Client, RoomServer

from rsdesign.pages.unmet import PATIENCE, Unmet


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
    """Run a script of (second, act) against one watcher; gives what ended at each second."""
    state = {"now": 0.0}

    async def run():
        unmet, ended = Unmet(programs, clock=lambda: state["now"]), {}
        for second, act in script:
            state["now"] = float(second)
            if act:
                act(unmet)
            ended[second] = await unmet.look()
        return ended

    return asyncio.run(run())


def test_a_program_without_a_socket_ends_after_a_minute_and_not_before():
    assert PATIENCE == 60.0
    programs = Programs("a")
    ended = clocked(programs, [(0, None), (30, None), (59, None), (60, None)])
    assert ended == {0: [], 30: [], 59: [], 60: ["a"]}
    assert programs.alive == []


def test_one_that_was_met_is_left_to_the_culling():
    programs = Programs("a", "b")
    script = [(0, None), (40, lambda unmet: unmet.meet("a")), (60, None), (600, None)]
    ended = clocked(programs, script)
    assert ended[60] == ["b"]
    assert programs.alive == ["a"]


def test_one_in_the_pool_waits_as_long_as_it_takes_and_then_has_its_minute():
    async def made(name):
        return {"kernel_id": name}

    programs = Programs("a")

    async def run():
        state, ended = {"now": 0.0}, {}
        unmet = Unmet(programs, clock=lambda: state["now"])
        future = asyncio.ensure_future(made("a"))
        broken = asyncio.ensure_future(asyncio.sleep(3600))
        programs._pools = {"00_start.ipynb": [future, broken]}
        await asyncio.sleep(0)
        for second in (0, 100, 500, 510, 569, 570):
            state["now"] = float(second)
            if second == 510:
                programs._pools["00_start.ipynb"].remove(future)  # handed out to a visitor
            ended[second] = await unmet.look()
        broken.cancel()
        return ended

    ended = asyncio.run(run())
    assert ended == {0: [], 100: [], 500: [], 510: [], 569: ["a"], 570: []}


def test_a_program_that_ended_by_itself_is_forgotten():
    programs = Programs("a")

    def gone(unmet):
        programs.alive.clear()

    ended = clocked(programs, [(0, None), (10, gone), (100, None)])
    assert ended[100] == []


def test_only_a_program_that_stands_ready_is_handed_out():
    async def made(name):
        return {"kernel_id": name}

    async def run():
        programs = Programs("a")
        still = asyncio.get_running_loop().create_future()
        done = asyncio.ensure_future(made("a"))
        await done
        unmet = Unmet(programs)
        sizes = [unmet.ready("x")]
        for pool in ([still], [still, done], [done, still]):
            programs._pools = {"x": pool}
            sizes.append(unmet.ready("x"))
            ready_first = [made.done() for made in pool]
            assert ready_first == sorted(ready_first, reverse=True)
        still.cancel()
        return sizes

    assert asyncio.run(run()) == [0, 0, 1, 1]


def test_the_second_visitor_does_not_wait_for_the_pool_to_fill(tmp_path):
    """The next program of the pool is started after four seconds; who comes meanwhile gets another."""
    server = RoomServer(tmp_path, lan=False)
    try:
        times, pages = [], []
        time.sleep(5)
        for _ in range(4):
            start = time.perf_counter()
            pages.append(Client(server, "", "00_start.ipynb", host="127.0.0.1"))
            pages[-1].start()
            times.append(time.perf_counter() - start)
        assert min(times[1:]) < 4.0
        for page in pages:
            page.close()
    finally:
        server.stop()
