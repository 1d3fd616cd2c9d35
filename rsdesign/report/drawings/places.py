"""What stands where: every vessel of a system in meters, in the way of the water, before it is drawn.

Sizes come from the sizing; what the sizing does not know is taken here, named ``TAKEN``, and said
on the drawing.  Heights are over the floor on which the tank stands.
"""

from dataclasses import dataclass
from math import ceil, cos, pi

from ...core.arrays import worst
from ...sizing.system import Sizing
from .beside import PERSON

RISE = 0.3
"""TAKEN: how far a sump rises when the pump stops and the pipes run empty into it [m]."""
PUMP_DEPTH = 0.5
"""TAKEN: water over the floor of a sump [m]."""
MACHINE = (0.42, 0.36)
"""TAKEN: an air machine, wide and high [m]."""
SCREEN = (0.6, 0.5)
"""TAKEN: the box of a second screen, wide and deep [m]."""
BED = 0.3
"""Depth of a plant bed [m], common practice."""
SLENDER = 0.65
"""TAKEN: a sump is so much shorter than a square one, along the way of the water."""
BASIN = 2.0
"""TAKEN: a box basin is twice as long as it is wide."""
CONE = 0.35
"""TAKEN: cone of a round settler over its depth."""
LONGEST = 3.5
"""A tank or bed is drawn at most so many times its width; beyond, it is drawn cut."""


@dataclass(slots=True)
class Place:
    """One vessel, or several alike side by side; ``x`` is its left edge on the sheet [px].

    ``wide`` and ``deep`` are one vessel's extents along and across the way of the water [m]; ``floor``,
    ``level`` and ``rim`` its heights [m]; ``columns`` and ``rows`` how many are drawn of ``count``.
    """

    name: str
    part: str
    stage: str
    wide: float
    deep: float
    floor: float = 0.0
    level: float = 0.0
    rim: float = 0.0
    shape: str = "round"
    count: int = 1
    columns: int = 1
    rows: int = 1
    cut: bool = False
    x: float = 0.0


@dataclass(slots=True)
class System:
    """The places of a system in their order, and the heights that they share [m]."""

    places: dict[str, Place]
    tank_level: float
    sump_level: float
    settler_level: float
    run: float
    """Height of the return pipe."""
    top: float
    bottom: float
    lifted: bool
    """Whether a trickling bed is too high for the fall from settler to sump."""


def one(value) -> float:
    """A figure as one number: of many designs, the first."""
    return float(value.flat[0]) if hasattr(value, "flat") else float(value)


def whole(value) -> int:
    """A count as a whole number, at least one."""
    number = one(value)
    return max(1, ceil(number - 1e-9)) if number == number and number < 1e6 else 1  # noqa: PLR0124


def system_places(sizing: Sizing) -> System:
    """Every part there is, with its size and height."""
    tank = _tank(sizing)
    sump_level = tank.level - one(sizing.pump.tank_level)
    settler_level = sump_level + one(sizing.pump.settler_level)
    free = tank.rim - tank.level
    places = {"air": _air(sizing), "tank": tank}
    if one(sizing.solids.area) > 0.0:
        places["settler"] = _settler(sizing, settler_level, free)
    if sizing.design.solids.second not in ("none", "plants"):
        fall = settler_level - max(sump_level, settler_level - 0.1)
        level = settler_level - fall / 2
        places["screen"] = Place("screen", "fine waste", "solids", *SCREEN, level - SCREEN[1],
                                 level, level + free, "box")  # fmt: skip
    lifted = False
    if one(sizing.filter.media_volume) > 0.0:
        places["filter"], lifted = _filter(sizing, settler_level, sump_level, free)
        if one(sizing.bed.count) > 0:
            many = whole(sizing.bed.count)
            places["filter air"] = Place("filter air", "", "bed", MACHINE[0], MACHINE[0], 0.0, 0.0,
                                         MACHINE[1], "box", many, 1, 1)  # fmt: skip
    if one(sizing.design.filter.plants) > 0.0:
        places["plants"] = _plants(sizing, sump_level, settler_level, tank)
    places["sump"] = _sump(sizing, sump_level, tank)
    rims = max(p.rim for p in places.values())
    bottom = min(p.floor for p in places.values())
    run = rims + 0.25
    return System(places, tank.level, sump_level, settler_level, run, max(run + 0.1, PERSON),
                  min(bottom, -0.25) - 0.15, lifted)  # fmt: skip


def _tank(sizing: Sizing) -> Place:
    t = sizing.tank
    shape = sizing.design.tank.shape
    width, count = one(t.width), whole(sizing.stock.tanks)
    long = one(t.length) if shape == "rectangle" else width
    shown = min(long, LONGEST * width)
    return Place("tank", "tank", "tank", shown, width, 0.0, one(t.depth), one(t.wall), shape,
                 count, 1, 1, long > shown)  # fmt: skip


def arrangements(place: Place, narrow: bool = False) -> list[tuple[int, int]]:
    """Rows and columns in which the tanks may be drawn: all of them, or as many as can be seen.

    >>> arrangements(Place("tank", "tank", "tank", 3.0, 3.0, count=4))
    [(2, 2)]
    """
    n = place.count
    if n == 1:
        return [(1, 1)]
    if narrow or place.wide > 1.5 * place.deep:
        return [(min(n, 3), 1)]
    return {2: [(1, 2), (2, 1)], 3: [(1, 3), (3, 1)], 4: [(2, 2)]}.get(n, [(2, 3), (3, 2)])


def _air(sizing: Sizing) -> Place:
    running, spare = _machines(sizing)
    shown = min(running + spare, 4)
    return Place("air", "air", "air", MACHINE[0], MACHINE[0], 0.0, 0.0, MACHINE[1], "box",
                 running + spare, 1, shown)  # fmt: skip


def _machines(sizing: Sizing) -> tuple[int, int]:
    """Air machines that run and that stand still."""
    running = one(sizing.air.count)
    return (whole(running) if running > 0 else 0), int(one(sizing.air.spare))


def _settler(sizing: Sizing, level: float, free: float) -> Place:
    s, kind = sizing.solids, sizing.design.solids
    depth = one(kind.depth)
    if kind.settler == "basin":
        deep = (one(s.area) / BASIN) ** 0.5
        wide, shape = BASIN * deep, "box"
    else:
        wide = deep = one(s.across)
        shape = kind.settler
    return Place("settler", "settler", "solids", wide, deep, level - depth, level, level + free,
                 shape)  # fmt: skip


def _filter(sizing: Sizing, above: float, below: float, free: float):
    f, kind = sizing.filter, sizing.design.filter
    depth, count = one(f.depth), whole(f.vessels)
    lifted = False
    if kind.type == "trickling":
        bottom = above - 0.05 - depth
        lifted = bottom < below + 0.02
        bottom = max(bottom, below + 0.02)
        floor, level = bottom, bottom + depth
        rim = level + 0.1
    else:
        level = (above + below) / 2
        floor, rim = level - depth, level + free
    box = kind.vessel in ("IBC tote", "media bag")
    side = (one(f.cross_section) / count) ** 0.5 if box else one(f.across)
    rows = min(count, 3)
    columns = min(ceil(count / rows), 2)
    place = Place("filter", "filter", "filter", side, side, floor, level, rim,
                  "box" if box else "round", count, columns, rows)  # fmt: skip
    return place, lifted


def _plants(sizing: Sizing, below: float, above: float, tank: Place) -> Place:
    area = one(sizing.design.filter.plants)
    deep = min(area**0.5, max(tank.deep * tank.rows, 1.2))
    wide = area / deep
    shown = min(wide, max(1.5 * deep, 1.5))
    level = below + (above - below) / 4
    return Place("plants", "plants", "filter", shown, deep, level - BED, level, level + 0.08, "box",
                 cut=wide > shown * 1.001)  # fmt: skip


def _sump(sizing: Sizing, level: float, tank: Place) -> Place:
    side = max((worst_positive(sizing.pump.drain_down) / RISE) ** 0.5, 0.4)
    deep = tank.level if sizing.design.pump.kind == "airlift" else PUMP_DEPTH
    return Place("sump", "pump", "pump", side * SLENDER, side / SLENDER, level - deep, level,
                 level + RISE + 0.05, "box")  # fmt: skip


def worst_positive(value) -> float:
    """A volume as a number that can be drawn."""
    number = worst(value)
    return number if 0.0 < number < 1e6 else 0.0


def octagon(x: float, y: float, half: float):
    """Corners of an eight-sided tank around its middle."""
    r = half / cos(pi / 8)
    return [(x + r * cos(pi / 8 + k * pi / 4), y + r * cos(pi / 8 + k * pi / 4 - pi / 2))
            for k in range(8)]  # fmt: skip


def cut_square(x: float, y: float, half: float):
    """Corners of a square tank whose corners are cut at a fifth of the side."""
    h, c = half, half * 0.6
    return [(x - c, y - h), (x + c, y - h), (x + h, y - c), (x + h, y + c),
            (x + c, y + h), (x - c, y + h), (x - h, y + c), (x - h, y - c)]  # fmt: skip
