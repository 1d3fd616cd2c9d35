"""Fish as they are: their length by their weight, seen from the side and from above."""

import functools
from dataclasses import dataclass
from math import cos, pi, sin

from ...core import tables
from ...core.kinds import Density, Number, Ratio
from ...core.tables import SourcedRow

SIDE = ((0.5, 0.0), (0.36, 0.3), (0.12, 0.5), (-0.14, 0.34), (-0.28, 0.1), (-0.5, 0.38),
        (-0.44, 0.0), (-0.5, -0.38), (-0.28, -0.1), (-0.14, -0.34), (0.12, -0.46), (0.36, -0.26))  # fmt: skip
"""Outline from the side: along over the length, up over the depth of the body; from memory."""
ABOVE = ((0.5, 0.0), (0.2, 0.5), (-0.2, 0.26), (-0.5, 0.06), (-0.5, -0.06), (-0.2, -0.26),
         (0.2, -0.5))  # fmt: skip
"""Outline from above: along over the length, across over the breadth; from memory."""
HEADINGS = 24
"""Directions a fish may be drawn in: more would not be seen, fewer would look like rows."""
GOLDEN = pi * (3 - 5**0.5)
"""Angle from one seed of a sunflower to the next: spreads any number evenly over a round floor."""


@dataclass(frozen=True, slots=True)
class FishShape(SourcedRow):
    """The shape of a species: weight over the cube of the length, depth and breadth over length."""

    name: str
    condition: Density
    deep: Ratio
    broad: Ratio


def fish_shape(species: str) -> FishShape:
    """The shape of a species by its name."""
    return tables.named(tables.read("fish_shapes", FishShape), species, "fish")


def fish_length(weight: float, shape: FishShape) -> float:
    """Total length [m] of a fish of a weight [kg], by the cube law.

    >>> round(fish_length(0.567, fish_shape("tilapia")), 2)
    0.31
    """
    return float((weight / shape.condition) ** (1 / 3))


@functools.lru_cache(maxsize=2000)
def outline(points: tuple, length: float, thick: float, heading: int) -> str:
    """A fish as a path from its middle: length and thickness in px, heading in 24ths of a turn."""
    turn = 2 * pi * heading / HEADINGS
    c, s = cos(turn), sin(turn)
    at, steps = (0.0, 0.0), []
    for along, across in points:
        x = along * length * c - across * thick * s
        y = along * length * s + across * thick * c
        steps += [_tenths(x - at[0]), _tenths(y - at[1])]
        at = (x, y)
    return "m" + "".join(steps).removeprefix(" ") + "z"


def _tenths(value: float) -> str:
    """A number of a path as short as it can be written; a space only where no sign parts it from the last.

    >>> _tenths(-0.42), _tenths(3.0), _tenths(-10.6), _tenths(-0.04)
    ('-.4', ' 3', '-10.6', ' 0')
    """
    number = f"{abs(value):.1f}".removesuffix(".0")
    number = number[1:] if number.startswith("0.") else number
    return ("-" if value < 0 and number != "0" else " ") + number


def school(places, points: tuple, length: Number, thick: Number) -> str:
    """Many fish as one path; a place is (x, y, heading)."""
    length, thick = round(max(float(length), 3.0), 1), round(max(float(thick), 1.0), 1)
    return "".join(
        f"M{x:.0f} {y:.0f}{outline(points, length, thick, heading % HEADINGS)}"
        for x, y, heading in places
    )


def round_places(x: float, y: float, radius: float, count: int):
    """Places in a round tank, evenly spread, each fish swimming round with the water."""
    for k in range(count):
        r, angle = radius * ((k + 0.5) / count) ** 0.5, k * GOLDEN
        heading = round((angle + pi / 2) / (2 * pi) * HEADINGS)
        yield x + r * cos(angle), y + r * sin(angle), heading


def box_places(x: float, y: float, wide: float, tall: float, count: int):
    """Places in a box, evenly spread by the golden ratio, heads right or left."""
    for k in range(count):
        across, down = (k + 0.5) / count, (0.3 + 0.6180339887 * k) % 1
        yield x + wide * across, y + tall * down, 0 if k % 3 else HEADINGS // 2
