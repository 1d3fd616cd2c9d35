"""Holes to drill: in which vessel, for what, how wide, how high over the finished floor."""

from dataclasses import replace

from ..sizing.system import Sizing
from .drainage import over_pan
from .graph import Hole, Run, Vessel
from .rules import pipe_part, rule
from .run_down import AWAY, least_rise

SLUDGE_ASIDE = 0.3
"""From the drain in the middle of a floor to the sludge hole beside it; from memory [m]."""
BESIDE_DRAIN = "floor, beside the drain"
"""Where the sludge pipe leaves a floor whose middle the drain takes."""
BESIDE_WALL = "wall, at the side, in its middle"
"""Where a hole is that is in neither end of a vessel."""
LETS_IN = "lets in the pipe"
"""Purpose of a hole of the sump through which a pipe comes in under its rim."""
PAST = "past the settler"
"""Purpose of the hole of the bypass."""


def drilled(
    s: Sizing, found: dict[str, Vessel], runs: list[Run], deep: float
) -> tuple[Vessel, ...]:
    """The vessels with their holes, from the runs that pass their walls; the drain lies ``deep`` [m]."""
    holes: dict[str, list[Hole]] = {name: [] for name in found}
    for run in runs:
        for name, hole in _of(s, found, run, deep):
            holes[name].append(hole)
    return tuple(replace(v, holes=tuple(holes[v.name])) for v in found.values())


def _of(s: Sizing, found: dict[str, Vessel], run: Run, deep: float):
    """The holes of one run, each with its vessel."""
    part = pipe_part(run.pipe)
    wide = float(part.bulkhead_hole)
    tank = found["tank"]
    if run.name == "standpipe":
        yield "tank", Hole("overflow standpipe", run.pipe, wide, tank.floor, "floor, near the wall",
                           count=run.count // tank.count)  # fmt: skip
    elif run.name == "centre drain":
        yield "tank", Hole("centre drain", run.pipe, wide, tank.floor, "floor, in the middle")
    elif run.name == "drain":
        yield from _into_first(found, run, wide, deep)
    elif run.name == "sludge":
        yield "settler", _sludge(found["settler"], run, wide)
    elif run.name == "overflow":
        yield (
            "sump",
            Hole("to the garden, overflow", run.pipe, wide, run.start + run.inside / 2, AWAY),
        )
    elif run.name == "bypass":
        yield run.target, _past(found[run.target], run, wide)
    elif run.kind == "gravity" and run.source in found and run.target in found:
        yield from _through(found, run, wide)
    elif run.name == "main" and s.design.pump.siphon_break:
        at = tank.level - rule("siphon hole")
        yield "tank", Hole("siphon break, in the pipe that goes down into the tank", run.pipe,
                           rule("siphon bore"), at, "pipe, on its side", "nothing: it stays open")  # fmt: skip


def _sludge(settler: Vessel, run: Run, wide: float) -> Hole:
    """Where the sludge leaves: at the point of a cone, beside the drain, or over a flat floor."""
    at, side = _over(settler, wide), BESIDE_WALL
    if settler.nearly_flat:
        at = settler.lowest + settler.cone * SLUDGE_ASIDE / (settler.across / 2)
        side = BESIDE_DRAIN
    elif settler.cone > 0.0:
        at, side = settler.lowest, "lowest point"
    return Hole("sludge pipe", run.pipe, wide, at, side)


def _past(after: Vessel, run: Run, wide: float) -> Hole:
    """Where the bypass enters the vessel behind the settler."""
    if after.inlet is not None:
        return _through_pan(PAST, run, after)
    at = max(under_lip(run, after.level - run.inside), _over(after, wide))
    return Hole(PAST, run.pipe, wide, at, BESIDE_WALL)


def under_lip(run: Run, at: float) -> float:
    """The middle of a pipe so low that an elbow and a piece fit between it and its lip [m]."""
    return at if run.lip is None else min(at, run.lip - least_rise(run.pipe))


def _over(v: Vessel, wide: float) -> float:
    """The lowest middle of a hole in a wall: its edge clears the floor [m]."""
    return v.floor + wide / 2 + rule("wall under a hole")


def _through_pan(
    purpose: str, run: Run, pan: Vessel, at: float | None = None, count: int = 1
) -> Hole:
    """A pipe that lies loose in the wall of a drip pan."""
    wide = float(pipe_part(run.pipe).outside_diameter) + 0.125 * 0.0254
    height = pan.inlet if at is None else at
    assert height is not None
    return Hole(
        purpose,
        run.pipe,
        wide,
        height,
        "wall of the drip pan",
        "nothing: the pipe lies loose",
        count,
    )


def _into_first(found: dict[str, Vessel], run: Run, wide: float, deep: float):
    """Where the drain enters the first vessel: through the floor of a box that stands over it, else the wall."""
    after, purpose = found[run.target], "drain from the tank"
    if after.inlet is not None:
        yield after.name, _through_pan(purpose, run, after, count=run.count)
        return
    part = pipe_part(run.pipe)
    if after.nearly_flat and after.lowest + deep >= part.lay + 2.0 * float(part.socket) - 1e-9:
        yield (
            after.name,
            Hole(purpose, run.pipe, wide, after.lowest, "floor, in the middle", count=run.count),
        )
        return
    under = after.floor + deep
    if (
        after.kind not in ("radial", "swirl")
        and under >= part.lay + 2.0 * float(part.socket) - 1e-9
    ):
        yield after.name, Hole(purpose, run.pipe, wide, after.floor,
                               "floor, at the end towards the tank", count=run.count)  # fmt: skip
        return
    at = max(-deep, _over(after, wide))
    if at > -deep + 1e-9:  # it rises outside: two elbows and a piece between them
        at = max(at, -deep + 2.0 * (part.lay + float(part.socket)))
    yield after.name, Hole(purpose, run.pipe, wide, at, "wall, towards the tank", count=run.count)


def _through(found: dict[str, Vessel], run: Run, wide: float):
    """A pipe straight through two walls, its top half its bore under the lower water; or into a drip pan."""
    source, target = found[run.source], found[run.target]
    out, into = run.counted("bulkhead") > 0, run.counted("bulkhead") > 1
    low = run.start if not into else run.end
    at = max(under_lip(run, low - run.inside), _over(source, wide))
    if target.inlet is not None:
        at = over_pan(run.start, run.inside, target.inlet)
        outside = float(pipe_part(run.pipe).outside_diameter)
        if at - outside / 2 < target.rim and run.legs[-1].way == "level":
            yield target.name, _through_pan(f"from the {source.label}", run, target, at,
                                            max(1, run.count // target.count))  # fmt: skip
    each = max(1, run.count // source.count)
    outside = float(pipe_part(run.pipe).outside_diameter)
    if target.name == "sump" and at - outside / 2 < target.rim - 0.005:  # no room over the rim
        loose = outside + 0.125 * 0.0254
        yield target.name, Hole(f"{LETS_IN} {run.label}", run.pipe, loose, min(at, target.rim), f"wall, towards the {source.label}",
                                "nothing: the pipe lies loose" if at <= target.rim else "nothing: a notch in the rim",
                                run.count)  # fmt: skip
    if out:
        yield source.name, Hole(f"to the {target.label}", run.pipe, wide, at,
                                f"wall, towards the {target.label}", count=each)  # fmt: skip
    if into:
        yield target.name, Hole(f"from the {source.label}", run.pipe, wide, at,
                                f"wall, towards the {source.label}",
                                count=max(1, run.count // target.count))  # fmt: skip
