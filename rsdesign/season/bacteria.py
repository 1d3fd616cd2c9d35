"""What is known of the bacteria of a filter: a value for each number, and draws from its range."""

import functools
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core import tables
from ..core.kinds import KINDS, to_plain
from ..core.tables import SourcedRow
from ..equations.biofilter import ripening as relations
from .ripening import Bacteria

Numbers = Any
"""A float, or an array with a number for each design or draw."""

OWN_RANGE = ("seed", "load_share")
"""Numbers that a caller may settle, which then are not drawn."""


@dataclass(frozen=True, slots=True)
class Parameter(SourcedRow):
    """One number of the bacteria with its range, in the unit beside it."""

    name: str
    label: str
    value: float
    low: float
    high: float
    kind: str
    unit: str

    def plain(self, number: Numbers) -> Numbers:
        """A number of this row in the plain unit of its kind."""
        return to_plain(number, KINDS[self.kind].unit(self.unit))


@functools.cache
def parameters() -> dict[str, Parameter]:
    """Every row of ``data/ripening.csv`` by its name."""
    return {row.name: row for row in tables.read("ripening", Parameter)}


def middle() -> dict[str, Numbers]:
    """The value of every number, SI.

    Example:
        >>> round(middle()["growth_ammonia"] * 86400.0, 2)
        0.9
    """
    return {name: row.plain(row.value) for name, row in parameters().items()}


def draws(count: int, seed: int = 1) -> dict[str, np.ndarray]:
    """The values in place 0, then ``count`` draws from the ranges, SI.

    A Latin hypercube: each number's range is cut into as many parts as there are draws, and each
    part is met once.  Each number comes from a triangle in its logarithm, peak at the value.
    """
    source = np.random.default_rng(seed)
    found = {}
    for name, row in parameters().items():
        share = (source.permutation(count) + source.uniform(size=count)) / max(count, 1)
        drawn = row.plain(np.exp(_triangle(share, *np.log([row.low, row.value, row.high]))))
        found[name] = np.concatenate([[row.plain(row.value)], drawn])
    return found


def _triangle(share, low, peak, high):
    """The value below which a share of a triangle lies."""
    if high <= low:
        return np.full_like(share, peak)
    left = (peak - low) / (high - low)
    rising = low + np.sqrt(share * (high - low) * (peak - low))
    falling = high - np.sqrt((1.0 - share) * (high - low) * (high - peak))
    return np.where(share < left, rising, falling)


def conditions(
    numbers: dict[str, Numbers],
    temperature: Numbers,
    oxygen: Numbers,
    ph: Numbers,
    unionized: Numbers = 0.0,
) -> tuple[Bacteria, Bacteria]:
    """The bacteria in the water as it is now: those of ammonia, those of nitrite.

    Parameters:
        numbers: from ``middle`` or ``draws``.
        temperature: of the water [°C], 5 to 40.
        oxygen: at the media [kg/m³].
        ph: of the water, 5.5 to 9.
        unionized: un-ionised ammonia nitrogen [kg/m³] that holds nitrite bacteria back; 0 leaves
            this out.
    Returns: growth and decay [1/s], yields and half levels of both.
    Source: rows of ``data/ripening.csv``.

    Example:
        >>> a, n = conditions(middle(), 20.0, 0.006, 7.2)
        >>> round(a.growth * 86400.0, 4), round(n.growth * 86400.0, 4)
        (0.8308, 0.4)
    """
    acid = relations.ph_factor(ph)
    poison = relations.inhibition(unionized, numbers["inhibition_nitrite"])
    found = []
    for kind, other in (("ammonia", 1.0), ("nitrite", poison)):
        growth = relations.warm_growth(
            numbers[f"growth_{kind}"], numbers[f"theta_{kind}"], temperature
        )
        breath = relations.monod(oxygen, numbers[f"oxygen_{kind}"])
        decay = relations.warm_decay(numbers[f"decay_{kind}"], numbers["theta_decay"], temperature)
        found.append(
            Bacteria(
                growth * breath * acid * other,
                decay,
                numbers[f"yield_{kind}"],
                numbers[f"half_{kind}"],
            )
        )
    return found[0], found[1]
