"""Where each pipe over the floor is held: what the sheets draw and what the list of purchases counts."""

import math
from dataclasses import dataclass
from itertools import pairwise

from .graph import Layout, Run, Vessel
from .rules import inside_of, rule
from .space import Spot, Way

HELD = ("pressure", "air")
"""Kinds of run that lie over the floor."""
BEDDED = ("gravity", "sludge")
"""Kinds of run that lie in a trench or in two walls, and need a support between these on a long way alone."""
OUT = ("overflow",)
"""Runs that leave the site over the floor and are held all along."""
SHORT = 0.35
"""A piece shorter than this is held by the fittings at its ends; from memory [m]."""


@dataclass(frozen=True, slots=True)
class Support:
    """A strap on a pipe.

    ``axis``: along which its pipe runs there, "x", "y" or "z".  ``kind`` says what the strap is screwed to:
    "post" on the floor, "rail" across a vessel that the pipe passes over, or "wall" beside an upright pipe.
    """

    spot: Spot
    axis: str
    kind: str


def supports(layout: Layout, run: Run) -> tuple[Support, ...]:
    """Every support of all pipes of a run.

    Parameters:
        layout: what ``layout`` gives.
        run: one of its runs.
    Returns: the supports along each pipe, no further apart than the rule "strap gap": on every piece over the
        floor longer than ``SHORT``; on a level piece between two walls those between them; none in the ground.

    >>> from rsdesign import Design, size
    >>> from rsdesign.building.layout import layout
    >>> found = layout(size(Design().with_(goal_fish=180)))
    >>> len(supports(found, found.run("main"))) > 2, supports(found, found.run("drain"))
    (True, ())
    """
    return tuple(s for way in layout.ways if way.run is run for s in supports_of(layout, way))


def supports_of(layout: Layout, way: Way) -> tuple[Support, ...]:
    """The supports of one pipe, from its start."""
    found: list[Support] = []
    gap = strap_gap(way.run.pipe)
    for a, b in pairwise(way.points):
        long = math.dist(a, b)
        if _on_the_floor(layout, way, (a, b)):
            continue
        if way.run.kind in HELD or way.run.name in OUT:
            found += [_support(layout, a, b, share) for share in shares(long, gap)]
        elif way.run.kind in BEDDED and min(a[2], b[2]) > 0.0 and abs(a[2] - b[2]) < 1e-6:
            many = math.ceil(long / gap - 1e-9)
            found += [_support(layout, a, b, k / many) for k in range(1, many)]
    return tuple(found)


def _on_the_floor(layout: Layout, way: Way, piece: tuple[Spot, Spot]) -> bool:
    """Whether a piece lies under the media on the floor of the filter, held down by weights."""
    bed = layout.vessel("filter")
    (_, _, low), (_, _, high) = piece
    under = way.run.name in ("filter air drop", "filter air lateral") and bed is not None
    return under and abs(low - high) < 1e-6


def strap_gap(size: str) -> float:
    """The most that a pipe of a nominal size may span between two straps [m]."""
    small = inside_of(size) <= rule("small pipe") * (1.0 + 1e-6)
    return rule("strap gap small" if small else "strap gap")


def shares(long: float, gap: float) -> tuple[float, ...]:
    """Where along a piece its supports sit, no further apart than a gap, as shares of its length [m].

    >>> shares(0.2, 1.2), shares(1.0, 1.2), shares(2.4, 1.2)
    ((), (0.5,), (0.25, 0.75))
    """
    if long <= SHORT:
        return ()
    many = math.ceil(long / gap - 1e-9)
    return tuple((k + 0.5) / many for k in range(many))


def _support(layout: Layout, a: Spot, b: Spot, share: float) -> Support:
    x, y, z = (p + share * (q - p) for p, q in zip(a, b, strict=True))
    moves = [abs(q - p) for p, q in zip(a, b, strict=True)]
    axis = "xyz"[moves.index(max(moves))]
    kind = "wall" if axis == "z" else "rail" if over(layout, x, y) else "post"
    return Support((x, y, z), axis, kind)


def over(layout: Layout, x: float, y: float) -> Vessel | None:
    """The vessel over which a point of the plan lies; None over the floor."""
    for v in layout.vessels:
        for vx, vy in layout.places[v.name]:
            if _within(v, x - vx, y - vy):
                return v
    return None


def _within(v: Vessel, along: float, aside: float) -> bool:
    if v.shape == "box":
        return abs(along) < v.length / 2 and abs(aside) < v.across / 2
    return math.hypot(along, aside) < v.across / 2
