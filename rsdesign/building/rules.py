"""What builders do and no balance tells: gaps, heights, stock sizes, each with its source."""

import functools
from dataclasses import dataclass

from ..core import tables
from ..core.choices import DesignError
from ..core.kinds import KINDS, Length, Ratio
from ..core.tables import SourcedRow
from ..core.units import parse
from ..equations.pipes.tables import Pipe


@dataclass(frozen=True, slots=True)
class Rule(SourcedRow):
    """A rule of builders: its value as text with a unit, and the kind of that value."""

    name: str
    label: str
    value: str
    kind: str


@dataclass(frozen=True, slots=True)
class WallHeight(SourcedRow):
    """A height in which walls are sold."""

    name: str
    label: str
    height: Length


@dataclass(frozen=True, slots=True)
class PipePart(SourcedRow):
    """A nominal size of pipe as it is bought and joined."""

    name: str
    label: str
    outside_diameter: Length
    bulkhead_hole: Length
    socket: Length
    stock_length: Length
    stocked: Ratio

    @property
    def lay(self) -> float:
        """Middle of a fitting to the end of the pipe in it [m]: half the outside and an eighth inch."""
        return float(self.outside_diameter) / 2 + 0.125 * 0.0254


@dataclass(frozen=True, slots=True)
class VesselMaterial(SourcedRow):
    """What a kind of vessel may be made of, as the list of purchases says it."""

    name: str
    label: str
    words: str


def material(vessel: str) -> str:
    """What a vessel may be made of, by its name in the layout."""
    return tables.named(tables.read("vessel_materials", VesselMaterial), vessel, "vessel").words


@functools.cache
def _rules() -> dict[str, float]:
    return {r.name: parse(r.value, KINDS[r.kind]) for r in tables.read("building_rules", Rule)}


def rule(name: str) -> float:
    """The plain (SI) value of a rule of ``data/building_rules.csv``.

    >>> round(rule("walkway"), 4)
    0.9144
    """
    return _rules()[name]


def pipe_part(name: str) -> PipePart:
    """What is bought of a nominal size, by its name."""
    return tables.named(tables.read("pipe_parts", PipePart), name, "pipe")


def nominal(inside: float) -> str:
    """The nominal size of an inside diameter [m]: the next one where none is as wide.

    >>> nominal(0.0520446)
    '2 in'
    """
    rows = sorted(tables.read("pipes", Pipe), key=lambda row: row.inside_diameter)
    for row in rows:
        if row.inside_diameter >= inside * (1.0 - 1e-6):
            return row.name
    return rows[-1].name


@functools.cache
def stocked_sizes() -> tuple[float, ...]:
    """Inside diameters of the sizes that most shops have, rising [m]."""
    rows = tables.read("pipes", Pipe)
    return tuple(sorted(float(r.inside_diameter) for r in rows if pipe_part(r.name).stocked))


def stocked_size(inside: float) -> float:
    """The next size that most shops have [m]; the widest beyond that."""
    sizes = stocked_sizes()
    return next((d for d in sizes if d >= inside * (1.0 - 1e-6)), sizes[-1])


WIDEST_UNION = 0.11
"""Inside diameter up to which unions and ball valves are sold off the shelf [m]."""


def opener(inside: float) -> str:
    """What opens a pipe without a saw: a union, or on a wide pipe a flexible coupling with bands."""
    return "union" if inside <= WIDEST_UNION else "flexible coupling"


def inside_of(name: str) -> float:
    """The inside diameter of a nominal size [m]."""
    return tables.named(tables.read("pipes", Pipe), name, "pipe").inside_diameter


def stock_wall(height: float) -> float:
    """The next wall height that is sold; a taller wall is built to measure [m]."""
    sold = (row.height for row in tables.read("wall_heights", WallHeight))
    return min((h for h in sold if h >= height * (1.0 - 1e-9)), default=height)


def single(value, words: str) -> float:
    """A figure of one design as a number.  Raises ``DesignError`` for many designs."""
    if getattr(value, "ndim", 0):
        raise DesignError(f"A layout is drawn for one design; {words} has many values. Take one.")
    return float(value)
