"""What runs to the sump when the pump stops: each vessel down to the lip of its outlet, and the pipes."""

import math
from dataclasses import dataclass

from ..equations.pipes import drains
from .graph import Layout, Run, Vessel
from .levels import Link
from .problems import Phrase, Problem, phrase
from .rules import pipe_part, rule, stocked_sizes

STEP = 0.25 * 0.0254
"""Lips are set to the quarter inch [m]."""
STUB = 0.5 * 0.0254
"""What the piece that makes a lip stands out of its elbow; from memory [m]."""


@dataclass(frozen=True, slots=True)
class Fallen:
    """What one vessel, or all pipes of a run, give the sump when the pump stops [m³]."""

    name: str
    label: str
    volume: float
    fall: float = 0.0
    """How far the water of a vessel falls [m]."""


def lip_depth(link: Link) -> float:
    """From the water down to the lip of an outlet [m], to the quarter inch.

    Parameters:
        link: the pipe behind the lip: its flow, bore, fall, and what it uses of that.
    Returns: enough for the lip as a weir or an opening; where the lower water stands over the lip, not less
        than the pipe uses.
    Source: ``equations.pipes.drains.standpipe_capacity``.
    """
    deep = STEP
    while float(drains.standpipe_capacity(link.inside, deep)) < link.flow:
        deep += STEP
    if deep > link.fall - link.uses:
        deep = max(deep, STEP * math.ceil(link.uses / STEP - 1e-9))
    return deep


def least_rise(size: str) -> float:
    """From the middle of a pipe to the lowest lip of an elbow turned up on it [m]."""
    part = pipe_part(size)
    return part.lay + float(part.socket) + STUB


def outlet(layout: Layout, v: Vessel) -> Run | None:
    """The pipe by which the water of a vessel goes on to the next one."""
    return next(
        (r for r in layout.runs if r.source == v.name and r.name == f"{v.name} to {r.target}"), None
    )


def rests_at(layout: Layout, v: Vessel) -> float:
    """Where the water of a vessel stands when the pump is off [m]."""
    if v.name == "tank":
        mouth = _run(layout, "standpipe").end
        broken = layout.sizing.design.pump.siphon_break
        return min(mouth, v.level - rule("siphon hole")) if broken else mouth
    run, past = outlet(layout, v), layout.run("bypass")
    if run is None:
        return v.level
    if run.lip is not None:
        return min(run.lip, v.level)
    if v.name == "settler" and past is not None and past.lip is None:
        return min(past.end, v.level, run.start)
    hole = next(h for h in v.holes if h.purpose.startswith("to ") and h.size == run.pipe)
    return min(hole.height - run.inside / 2, v.level)


def _run(layout: Layout, name: str) -> Run:
    found = layout.run(name)
    assert found is not None
    return found


def run_down(layout: Layout) -> tuple[Fallen, ...]:
    """What runs to the sump when the pump stops, part by part.

    The pressure pipe is counted whole, since a check valve may leak.
    """
    found = []
    for v in layout.vessels:
        if v.name == "sump":
            continue
        if v.inlet is not None:  # a drip pan runs empty
            found.append(
                Fallen(v.name, v.label, v.count * v.area * rule("drip pan"), rule("drip pan"))
            )
            continue
        area = float(layout.sizing.tank.floor) if v.name == "tank" else v.area
        fall = max(0.0, (v.inlet or v.level) - rests_at(layout, v))
        found.append(Fallen(v.name, v.label, v.count * area * fall, fall))
    first = layout.vessels[1]
    for run in layout.runs:
        if run.kind == "pressure":
            found.append(Fallen(run.name, run.label, run.in_all * run.bore))
        elif run.name in ("standpipe", "centre drain"):  # empties to the water of the first vessel
            top = run.end if run.name == "standpipe" else _run(layout, "standpipe").end
            found.append(
                Fallen(run.name, run.label, run.count * run.bore * max(0.0, top - first.level))
            )
    return tuple(found)


def needed(layout: Layout) -> float:
    """Room that the sump has to have over its water, with the margin [m³]."""
    return rule("run-down margin") * math.fsum(one.volume for one in run_down(layout))


def room(layout: Layout) -> float:
    """Room of the sump from its water to the bottom of its overflow [m³]."""
    sump = layout.vessel("sump")
    assert sump is not None
    hole = next(h for h in sump.holes if h.side == AWAY)
    return (
        sump.across * sump.length * (hole.height - _run(layout, "overflow").inside / 2 - sump.level)
    )


AWAY = "wall, away from the tanks"
"""Where the overflow of the sump is."""


def rest(layout: Layout) -> tuple[list[Problem], list[Phrase]]:
    """What is said of the run-down and of the overflow."""
    need, has, pump = needed(layout), room(layout), layout.sizing.design.pump
    values = {
        "down": (need / rule("run-down margin"), "volume"),
        "need": (need, "volume"),
        "has": (has, "volume"),
    }
    wrong, said = [], []
    if has < need * (1.0 - 1e-6):
        wrong.append(phrase("When the pump stops, {down} run down, and with a margin the sump needs room for {need}"
                            " under its overflow. It has {has}: give it more spare room.", **values))  # fmt: skip
    else:
        said.append(phrase("When the pump stops, {down} run down to the sump: each vessel falls to the lip of its"
                           " outlet. Under its overflow the sump has room for {has}.", **values))  # fmt: skip
    if pump.kind != "airlift" and not pump.siphon_break:
        tank, deep = layout.vessel("tank"), rule("inlet depth")
        assert tank is not None
        more = (
            tank.count
            * float(layout.sizing.tank.floor)
            * max(0.0, deep - tank.level + rests_at(layout, tank))
        )
        wrong.append(phrase("The pressure pipe ends {deep} under the water of the tank and has no siphon break. If the"
                            " check valve leaks, {more} more run back. Choose the hole that breaks a siphon.",
                            deep=(deep, "tape"), more=(more, "volume")))  # fmt: skip
    lip = _run(layout, "overflow").start
    sump = layout.vessel("sump")
    assert sump is not None
    for hole in (
        h for h in sump.holes if h.fitting.startswith("nothing") and h.height - h.diameter / 2 < lip
    ):
        wrong.append(phrase(f"The pipe that the hole for \"{hole.purpose}\" takes comes in {{under}} under the overflow of"
                            " the sump, where water would run out beside it. Give the pump more lift, so"
                            " that the sump stands lower.", under=(lip - hole.height + hole.diameter / 2, "tape")))  # fmt: skip
    if lip < rule("overflow clear"):
        said.append(phrase("The overflow of the sump leaves {under} under the finished floor: lead it to ground that"
                           " lies lower, or into a pit of gravel with an alarm.", under=(max(0.0, -lip), "tape")))  # fmt: skip
    return wrong, said


def sump_need(layout: Layout) -> float:
    """The room with which the next sump has to be built [m³]; a little more, so that the search ends."""
    return 1.01 * needed(layout) if room(layout) < needed(layout) * (1.0 - 1e-6) else 0.0


def overflow_size() -> float:
    """The smallest bore of an overflow that takes the filling hose half full [m]."""
    flow = rule("hose flow")
    for inside in stocked_sizes():
        if (
            inside >= rule("overflow least") - 1e-9
            and float(drains.standpipe_capacity(inside, inside / 2)) >= flow
        ):
            return inside
    return stocked_sizes()[-1]
