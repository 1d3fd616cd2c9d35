"""What keeps people out of water and pits: the fence around all of it, the guard rails around pits."""

from .graph import Layout, Vessel
from .rules import rule
from .space import Site

Box = tuple[float, float, float, float]
"""Left, low, right, high in plan [m]."""
GATE = 0.9144
"""Width of the gate: 3 ft, a wheelbarrow; common practice [m]."""


def fence(layout: Layout) -> Box:
    """The fence around tanks, vessels and machines, a walkway away from them [m].

    Its left and its low side are the two lines from which everything is set out.

    >>> from rsdesign import Design, size
    >>> from rsdesign.building.layout import layout
    >>> left, low, right, high = fence(layout(size(Design().with_(goal_fish=180))))
    >>> left < 0.0 < right and low < 0.0 < high
    True
    """
    xs, ys = [], []
    for v in layout.vessels:
        for x, y in layout.places[v.name]:
            long, wide = v.dug_size
            xs += [x - long / 2, x + long / 2]
            ys += [y - wide / 2, y + wide / 2]
    site = Site(layout)
    for x, y in machine_places(site):
        xs.append(x)
        ys.append(y)
    for way in layout.ways:
        if way.run.name not in GOES_OUT:
            xs += [p[0] for p in way.points]
            ys += [p[1] for p in way.points]
    away = rule("walkway")
    return min(xs) - away, min(ys) - away, max(xs) + away, max(ys) + away


def fence_length(layout: Layout) -> float:
    """The fence around all of it, its gate left out [m]."""
    left, low, right, high = fence(layout)
    return 2 * (right - left + high - low) - GATE


GOES_OUT = ("overflow",)
"""Runs that leave the fence."""


def machine_places(site: Site) -> list[tuple[float, float]]:
    """Where the air machines stand in plan [m]."""
    found: list[tuple[float, float]] = []
    for m in site.layout.machines:
        if m.kind != "pump":
            found += site.machines() if m.serves == "tank" else [site.filter_machine()]
    return found


def railed(layout: Layout) -> tuple[Vessel, ...]:
    """Vessels whose pit is so deep that it has a guard rail or a cover, as the list of purchases has it."""
    return tuple(v for v in layout.vessels if v.lined)


def rails(layout: Layout) -> tuple[Box, ...]:
    """The edges of the pits that have a guard rail [m]."""
    found = []
    for v in railed(layout):
        long, wide = v.pit_size
        found += [
            (x - long / 2, y - wide / 2, x + long / 2, y + wide / 2)
            for x, y in layout.places[v.name]
        ]
    return tuple(found)
