"""The part of ``room.py`` in which things go wrong, and what the others feel of it."""

import asyncio
import contextlib
import math
import random
import re
import signal
import time
from pathlib import Path

import psutil
import room_faults as faults
from room_clients import Elsewhere, Learner, tree
from room_phone import WAIT
from room_table import Row, p95
from rooms import RoomServer

READY = "document.body && document.body.dataset.ready && document.getElementById('rs-lost').hidden"


async def trouble(about) -> None:
    """Every fault while all are active; then the server itself is killed and started anew."""
    stretch, lost_before = about.args.stretch, len(about.losses())
    server, chosen = about.server, random.Random(8)
    cookies = []
    for number in range(90, 93):
        one = Learner(server, number)
        await one.enter()
        cookies.append(one.cookie)
    loop = asyncio.get_running_loop()
    hung = await faults.post(about.learners[:6])
    wall_rows, felt, stands = [], {}, {}

    async def elsewhere(work):
        found = await loop.run_in_executor(about.elsewhere, work, server.port, cookies[0], stretch)
        about.refused += found["refused"]
        about.say(Row(f"sent by one who does too much: {work.__name__}", found["sent"], "messages"))
        stands[work.__name__] = found.get("lost", [])

    async def kills():
        done = 0
        for one in chosen.choices(about.learners, k=about.args.kills):
            done += await faults.killed(server, one)
            stands.setdefault("killed", []).append(one)
            await asyncio.sleep(max(stretch, 60) / about.args.kills)
        about.say(Row("programs killed", done, "", None, f"of {about.args.kills} wanted"))
        # The one that all are forked from, too; its programs are no children of the server from then on.
        tree(server)[0][-1].kill()
        one = chosen.choice(about.learners)
        async with one.busy:
            await one.reload()
        if done < 0.9 * about.args.kills:
            about.refused.append((f"only {done} programs could be killed", ""))

    async def drops():
        done = 0
        while done < about.args.drops:
            one = chosen.choice([o for o in about.learners if o.socket] or about.learners)
            if one.socket is not None:
                faults.dropped(one)
                done += 1
            await asyncio.sleep(max(stretch, 40) / about.args.drops)
        about.say(Row("sockets dropped", done))

    async def mixed(work):
        about.refused += await work

    async with about.everybody():
        for what, work in (
            ("nothing goes wrong", lambda: asyncio.sleep(stretch)),
            ("programs are killed", kills),
            ("sockets are dropped", drops),
            ("one sends 10 MB", lambda: elsewhere(faults.heavy)),
            ("one sends 1,000 a second", lambda: elsewhere(faults.flood)),
            ("two drive at once", lambda: mixed(faults.two_drivers(server, cookies[:2], stretch))),
            ("one forges messages", lambda: mixed(faults.forged(server, cookies[2]))),
            ("wrong codes and cookies", lambda: mixed(
                faults.wrong_keys(server, about.learners[0].kernel))),
            ("all is well again", lambda: asyncio.sleep(stretch)),
        ):  # fmt: skip
            start, others = time.monotonic(), Elsewhere()
            async with asyncio.timeout(300):
                await work()
            end, share = time.monotonic(), others.share()
            felt[what] = [
                1000 * p95(f("move", start, end)) for f in (about.times, about.phone_times)
            ]
            base = felt["nothing goes wrong"]
            for who, now, quiet in zip(("bare clients", "Chromium"), felt[what], base, strict=True):
                if math.isfinite(now):
                    about.say(Row(f"a move while {what}, p95: {who}", now, "ms", 150,
                                  f"× {now / quiet:.2f} of without; others had {share:.0%} of the machine"))  # fmt: skip
            wall_rows.append(await faults.wall(about.learners[0]))
        phone = await lost_before_ones_eyes(about)
    about.refused.append(phone)
    about.say(Row("posts missing from the wall or changed, while the server lived",
                  sum(now.get(team) != token for now in wall_rows for team, token in hung.items()), "", 0,
                  f"{len(hung)} posts, looked at {len(wall_rows)} times"))  # fmt: skip
    await restarted(about, hung)
    lost = about.losses()[lost_before:] + [
        w for words in stands.values() for w in words if isinstance(w, str)
    ]
    for words in lost:
        print(f"lost: {words}", flush=True)
    unclear = [r for r in about.refused if not faults.clear(r[1])]
    told = [(f"learner {o.number} was told", words) for o in about.learners for words in o.told]
    unclear += [r for r in told if not faults.clear(r[1])]
    for what, words in unclear:
        print(f"unclear: {what}: {words!r}", flush=True)
    about.say(Row("designs lost", len(lost), "", 0),
              Row("refusals without a clear sentence", len(unclear), "", 0,
                  f"of {len(about.refused) + len(told)}"))  # fmt: skip


async def lost_before_ones_eyes(about) -> faults.Refusal:
    """Chromium's program is killed: it tells so, and one press brings the same design back."""
    phone = about.phone
    async with phone.busy:
        kept = await phone.design()
        program = await phone.view.evaluate(
            "JSON.parse(document.getElementById('jupyter-config-data').textContent).kernelId")  # fmt: skip
        one = Learner(about.server, 0)
        one.kernel = program
        if not await faults.killed(about.server, one):
            return "Chromium's program could not be killed", ""
        await phone.view.wait_for_selector("#rs-lost:not([hidden])", timeout=WAIT)
        sentence = await phone.view.inner_text("#rs-lost p")
        await phone.view.click("#rs-lost button")
        await phone.view.wait_for_function(
            f"was => {READY} && !document.getElementById('jupyter-config-data').textContent.includes(was)",
            arg=program, timeout=WAIT)  # fmt: skip
        await phone.ready()
        if (now := await phone.design()) != kept:
            phone.wrong.append(f"Chromium's program was killed: {kept} became {now}")
    return "Chromium's program was killed", sentence


def everything(server: RoomServer) -> list[psutil.Process]:
    """All that runs for a server, also what was forked by a loaded process that was killed."""
    base, programs = tree(server)
    folder = str(Path(base[-1].cmdline()[-1]).parent)
    orphans = [
        p for p in psutil.process_iter(["cmdline"]) if folder in " ".join(p.info["cmdline"] or ())
    ]
    return list({*base, *programs, *orphans})


async def restarted(about, hung: dict) -> None:
    """The server is killed in the middle of everything and started again three seconds later."""
    old = everything(about.server)
    phone = about.phone
    async with phone.busy:
        kept = await phone.design()
    async with about.everybody():
        await phone.busy.acquire()  # it looks on
        try:
            start = time.monotonic()
            about.server.process.send_signal(signal.SIGKILL)
            about.server.process.wait(10)
            await asyncio.sleep(3)
            fresh = await asyncio.to_thread(RoomServer, about.folder, port=about.server.port)
            about.server = phone.server = fresh
            for one in about.learners:
                one.server = fresh
            up = time.monotonic()
            await asyncio.sleep(1)
            await phone.view.wait_for_function(
                f"was => {READY} && performance.timeOrigin > was", arg=1000 * (time.time() - (time.monotonic() - start)),
                timeout=WAIT)  # fmt: skip
            seen = time.monotonic() - up
            if (now := await phone.design()) != kept:
                phone.wrong.append(f"the server was killed: {kept} became {now}")
        finally:
            phone.busy.release()

        def late() -> list[Learner]:
            return [o for o in about.learners
                    if not any(kind == "mend" and at > up for at, kind, _ in o.spent)]  # fmt: skip

        while late() and time.monotonic() - up < 60:
            await asyncio.sleep(0.2)
        took = time.monotonic() - up
        survivors = psutil.wait_procs(old, timeout=5)[1]
        about.say(
            Row("the server was killed and started anew: all are back, from its first answer", took, "s"),
            Row("learners who are not back after a minute", len(late()), "", 0),
            Row("the same, Chromium, by itself", seen, "s"),
            Row("programs of the killed server that live on", len(survivors), "", 0),
        )  # fmt: skip
        for process in survivors:
            with contextlib.suppress(psutil.Error):
                process.kill()
        again = await faults.post(about.learners[:6])
        shown = await faults.wall(about.learners[0])
        gone = re.findall(r"Team \d+", " ".join(set(hung) - set(shown)))
        about.say(Row("teams that could not come back and post again", len(gone) + sum(
            shown.get(team) != token for team, token in again.items()), "", 0))  # fmt: skip
