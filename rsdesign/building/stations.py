"""Where on its way each fitting sits: what the drawing shows there is what parts the pipe in the cut list."""

import math
from dataclasses import dataclass
from itertools import pairwise

from .graph import Layout, Run
from .rules import pipe_part, rule
from .space import IN, Spot, Way, bushing, joint, on_piece

INLINE = ("union", "ball valve", "check valve", "cross")
"""Fittings that stand in a straight pipe and take their own length off it."""
BUTTED = ("flexible coupling",)
"""Fittings in which two ends of pipe meet."""
ENDS_IN_TEE = (
    "drain branch",
    "centre drain",
    "standpipe tie",
    "riser",
    "air riser",
    "airlift",
    "filter air drop",
)
STARTS_IN_TEE = (
    "branch",
    "bypass",
    "air manifold",
    "air main",
    "air relief",
    "filter air drop",
    "centre drain vent",
)
"""Runs that join another pipe with a tee, or a cross, at an end."""
NEVER_CUT = ("hose",)
NEAR = 1e-6
VALVE_HIGH = 0.25
"""From the finished floor to the valve on the rise of a centre drain; from memory [m]."""


@dataclass(frozen=True, slots=True)
class Station:
    """A fitting on a leg of a way: how far from the start of the leg, and what it takes to each side [m]."""

    leg: int
    at: float
    half: float
    kind: str


def ends(layout: Layout) -> tuple[tuple[Way, Spot], ...]:
    """The ends of every pipe but the hoses, each with its way."""
    return tuple(
        (w, p)
        for w in layout.ways
        if w.run.kind not in NEVER_CUT
        for p in (w.points[0], w.points[-1])
    )


def stations(way: Way, joins: tuple[tuple[Way, Spot], ...]) -> tuple[Station, ...]:
    """The fittings of a way by leg, those first that other pipes fix.

    Parameters:
        way: of one pipe.
        joins: what ``ends`` gives for its layout.
    Returns: tees where another pipe ends on the way, then each fitting in line as near to its usual place as
        the tees and the turns let it.
    """
    lay = pipe_part(way.run.pipe).lay
    found = [Station(leg, at, lay, "tee") for leg, at in _tees(way, joins)]
    found += [Station(leg, at, lay, "cross") for leg, at in _crosses(way, joins)]
    found += [Station(leg, at, 0.0, "bulkhead") for p in way.walls for leg, at in _on(way, p)]
    for kind in (*INLINE, *BUTTED):
        half = 0.0 if kind in BUTTED else joint(way.run, "middle") if kind == "cross" else lay
        for _ in range(way.run.counted(kind)):
            found.append(_placed(way, kind, half, found))
    return tuple(sorted(found, key=lambda s: (s.leg, s.at)))


def _tees(way: Way, joins) -> list[tuple[int, float]]:
    """Where other pipes end on the way: the leg, and how far along it [m]."""
    found: set[tuple[int, float]] = set()
    for other, p in joins:
        if way.run.name in (other.run.name, "filter air lateral"):
            continue  # a drilled pipe has its cross in its middle
        found.update(_on(way, p))
    return sorted(found)


def _crosses(way: Way, joins) -> list[tuple[int, float]]:
    """Where the crosses of the drilled pipes sit on the pipe that feeds them; the last is its end."""
    if way.run.name != "filter air drop":
        return []
    laterals = {other: None for other, _ in joins if other.run.name == "filter air lateral"}
    found: set[tuple[int, float]] = set()
    for lateral in laterals:
        first, last = lateral.points[0], lateral.points[-1]
        x, y, z = ((a + b) / 2 for a, b in zip(first, last, strict=True))
        found.update(_on(way, (x, y, z)))
    return sorted(found)


def _on(way: Way, p: Spot) -> list[tuple[int, float]]:
    """The leg of a way on which a point lies between its ends, and how far along it [m]."""
    found = []
    for leg, (a, b) in enumerate(pairwise(way.points)):
        at = math.dist(a, p)
        if on_piece(p, a, b) and NEAR < at < math.dist(a, b) - NEAR:
            found.append((leg, round(at, 6)))
    return found


def end_halves(way: Way, leg: int) -> tuple[float, float]:
    """What the fittings at both ends of a leg take off it [m]."""
    run, lay = way.run, pipe_part(way.run.pipe).lay
    last = len(way.legs) - 1
    start = leg > 0 or run.name in STARTS_IN_TEE
    stop = leg < last or run.at_ends > 0 or run.name in ENDS_IN_TEE
    first = joint(run, "start") if leg == 0 and start else lay * start
    if leg == 0 and not start:
        first = bushing(run, "start")
    return first, joint(run, "end") if leg == last and run.name in ENDS_IN_TEE else lay * stop


def is_stub(way: Way, leg: int) -> bool:
    """Whether a leg is the piece of a lip, open at one end: one socket holds it."""
    run = way.run
    return run.lip is not None and leg == (len(way.legs) - 1 if run.name == "bypass" else 0)


def _placed(way: Way, kind: str, half: float, known: list[Station]) -> Station:
    leg, share = usual(way, kind)
    at_walls, behind = [s.at for s in known if s.leg == leg and s.kind == "bulkhead"], 0.0
    if way.run.name == "drain":
        # Before the wall of the first vessel, where the pit is open, but behind the last tee.
        behind = _last_tee(known, leg)
        share = max(at_walls) / way.legs[leg] if at_walls else behind / way.legs[leg] or share
        if not way.walls and leg == len(way.legs) - 2:  # up through a floor: in the room of its pit
            inside = way.legs[leg] - IN - rule("pit side") / 2
            share = max(behind, inside) / way.legs[leg]
        elif not way.walls and leg == len(way.legs) - 1:  # it ends in the wall
            share = 1.0
    elif at_walls and way.run.name == f"{way.run.source} to {way.run.target}":
        # Beside the wall of the vessel that it leaves, not over or in the wall of a pit.
        behind = min(at_walls)
        share = behind / way.legs[leg]
    short, at = _room(way, leg, (share, behind), half, known)
    if short > 0.0:  # no room at its usual place: the leg with the most
        last = {
            k: _last_tee(known, k) if way.run.name == "drain" else 0.0 for k in range(len(way.legs))
        }
        others = [(*_room(way, k, (0.5, last[k]), half, known), k) for k in last]
        best = min(others, key=lambda one: (one[0], -way.legs[one[2]]))
        if best[0] < short - NEAR:
            at, leg = best[1], best[2]
    return Station(leg, at, half, kind)


def _last_tee(known: list[Station], leg: int) -> float:
    """Where the last tee of a leg sits [m]; 0 where it has none."""
    return max((s.at for s in known if s.leg == leg and s.kind == "tee"), default=0.0)


def _room(
    way: Way, leg: int, wanted: tuple[float, float], half: float, known: list[Station]
) -> tuple[float, float]:
    """By how much a fitting is too long for a leg, and where on it the fitting sits best [m].

    ``wanted``: the share of the leg at which it should sit, and the place behind which it has to [m].
    """
    (share, behind), long, (first, last) = wanted, way.legs[leg], end_halves(way, leg)
    least = 2.0 * float(pipe_part(way.run.pipe).socket) + half
    edges = [(0.0, first), *sorted((s.at, s.half) for s in known if s.leg == leg), (long, last)]
    options = []
    for (a, off), (b, more) in pairwise(edges):
        low, high = a + off + least, b - more - least
        at = min(max(share * long, low), high) if high >= low else (low + high) / 2
        if b > behind + NEAR:
            options.append((max(low - high, 0.0), abs(at - share * long), at))
    short, _, at = min(options)
    return short, at


def usual(way: Way, kind: str) -> tuple[int, float]:
    """The leg on which a fitting usually sits, and its share of it: where a hand gets at it."""
    name, legs = way.run.name, way.legs
    leg, share = max(range(len(legs)), key=legs.__getitem__), 0.5
    if name in ("main", "branch") and kind == "ball valve":
        leg = max(0, len(legs) - 2)
        share = 0.5 if name == "branch" else 1.0 - min(0.5, 0.35 / max(legs[leg], 1e-9))
    elif name in ("riser", "main", "air riser", "filter air main") and kind in (
        "check valve", "union", "flexible coupling",
    ):  # fmt: skip
        # A riser of a machine is short: it has room at its ends alone.
        low, high = (0.0, 1.0) if name == "air riser" else (0.5, 0.72)
        leg, share = 0, high if kind == "check valve" else low
    elif name == "centre drain":
        leg = next((k for k, one in enumerate(way.measured) if one.way == "up"), leg)
        share = (VALVE_HIGH - way.points[leg][2]) / legs[leg]  # on the rise outside the tank
    elif name == "sludge":
        leg, share = _on_sludge(legs, kind, leg)
    elif kind == "clean-out":
        leg, share = 0, 0.0
    elif name == "bypass" and kind == "ball valve":  # over the floor, where a hand gets at it
        leg = next((k for k, one in enumerate(way.measured) if one.way == "up"), leg)
    elif name == "bypass":
        share = 0.65
    elif kind == "air valve":
        share = 0.35  # one of those along the manifold, clear of the label in its middle
    elif name == "drain":
        share = 0.4
    return leg, share


def _on_sludge(legs, kind: str, longest: int) -> tuple[int, float]:
    if kind == "ball valve":
        return (len(legs) - 1, 0.5) if len(legs) > 1 else (0, 0.92)
    # in the open room of the pit, or as far from a settler that has none
    at = legs[longest] - rule("sludge run") + rule("pit side") / 2
    return longest, min(max(at / legs[longest], 0.0), 1.0)


def pieces_of(way: Way, joins) -> tuple[list[float], float]:
    """The pieces of one pipe [m], and by how much they are longer than there is room for."""
    socket, found, short = float(pipe_part(way.run.pipe).socket), [], 0.0
    on = stations(way, joins)
    for leg, long in enumerate(way.legs):
        first, last = end_halves(way, leg)
        edges = [(0.0, first), *((s.at, s.half) for s in on if s.leg == leg), (long, last)]
        least = socket if is_stub(way, leg) else 2.0 * socket
        for (a, off), (b, more) in pairwise(edges):
            clear = b - a - off - more
            found.append(max(clear, least))
            short += max(0.0, least - clear)
    return found, short


def spot_of(way: Way, kind: str, joins) -> tuple[Spot, str]:
    """The place of a fitting in space, and along which axis its pipe runs there: "x", "y" or "z"."""
    here = next((s for s in stations(way, joins) if s.kind == kind), None)
    leg, share = (here.leg, here.at / way.legs[here.leg]) if here else usual(way, kind)
    return between(way, leg, share)


def between(way: Way, leg: int, share: float) -> tuple[Spot, str]:
    """A point on one leg of a way, and the axis that the leg follows most."""
    a, b = way.points[leg], way.points[leg + 1]
    x, y, z = (p + share * (q - p) for p, q in zip(a, b, strict=True))
    moves = [abs(q - p) for p, q in zip(a, b, strict=True)]
    return (x, y, z), "xyz"[moves.index(max(moves))]


def parted(layout: Layout, run: Run) -> int:
    """Fittings that take their own length off all pipes of a run together: those in line, and tees of what joins it."""
    joins = ends(layout)
    return sum(s.half > 0.0 for w in layout.ways if w.run is run for s in stations(w, joins))
