"""What is not sure about a design: the rows of ``data/uncertain_inputs.csv``, and draws of each.

A range is that of published values.  A design that names its own value keeps it as the middle: the
range goes with it, as a ratio or as a difference.
"""

import functools
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from ...core.tables import SourcedRow, TableError, read
from ...equations import chance
from ...equations.fish import growth
from ...equations.fish.growth_bands import BANDS, growth_bands
from ...sizing.system import Sizing

WAYS = ("ratio", "difference", "rest", "line")
"""How a draw changes the value of the design."""
DISTRIBUTIONS = ("triangular", "uniform", "lognormal")
TAIL = NormalDist().inv_cdf(0.95)
"""Standard deviations from the middle beyond which one value in twenty lies."""
UNEVEN = 0.02
"""Relative difference that the middle of a lognormal range may have from that of its ends."""


@dataclass(frozen=True, slots=True)
class UncertainInput(SourcedRow):
    """One input: the choice or the quantity, how it varies, its range, and how to measure it."""

    path: str
    label: str
    way: str
    distribution: str
    low: str
    middle: str
    high: str
    unit: str
    measure: str

    def __post_init__(self):
        """Raises ``TableError`` for a way or a distribution that is not there, and for a range out of order."""
        if self.way not in WAYS or self.distribution not in DISTRIBUTIONS:
            raise TableError(f"uncertain_inputs.csv, {self.path}: not a way or a distribution")
        if self.way == "line":
            return
        low, middle, high = self.ends
        if not low < middle < high:
            raise TableError(f"uncertain_inputs.csv, {self.path}: low, middle, high are in order")
        even = (low * high) ** 0.5 if low > 0 else 0.0
        if self.distribution == "lognormal" and abs(middle / even - 1.0) > UNEVEN:
            raise TableError(
                f"uncertain_inputs.csv, {self.path}: the middle of a lognormal range is the root of"
                " low times high"
            )

    @property
    def ends(self) -> tuple[float, float, float]:
        """Low, middle and high as they are published, in the unit of the row."""
        return float(self.low), float(self.middle), float(self.high)


@functools.cache
def uncertain_inputs() -> tuple[UncertainInput, ...]:
    """Every input that is not sure, in the order of the table."""
    return read("uncertain_inputs", UncertainInput)


def range_of(row: UncertainInput, sizing: Sizing) -> tuple[float, float, float]:
    """What a draw may do to the value of a design: low, middle and high as ratio or difference.

    The middle is 1 of a ratio and 0 of a difference; of a share it is what is missing that is told.
    """
    if row.way == "line":
        slow, middle, fast = _lines(sizing)
        return slow / middle, 1.0, fast / middle
    low, middle, high = row.ends
    if row.way == "difference":
        return low - middle, 0.0, high - middle
    if row.way == "rest":  # the missing share: the high end of the value is the low end of it
        low, middle, high = 1.0 - high, 1.0 - middle, 1.0 - low
    return low / middle, 1.0, high / middle


def _lines(sizing: Sizing) -> tuple[float, ...]:
    """Growth by the slow, the middle and the fast line at the water of the design, in rising order."""
    fish, bands = sizing.tables.species, growth_bands(sizing.design.stock.species)
    water = growth.growing_temperature.__wrapped__(
        float(sizing.design.site.water_temperature), fish.top_temperature
    )
    found = [bands[b].growth_coefficient * (water - bands[b].base_temperature) for b in BANDS]
    middle = found[1]
    if middle <= 0.0:  # water in which they do not grow: the sizing has said so
        return 1.0, 1.0, 1.0
    return min(found), middle, max(found)


def drawn(row: UncertainInput, ends: tuple[float, float, float], uniform: np.ndarray) -> np.ndarray:
    """Draws of an input as ratio or difference, from chances spread evenly between 0 and 1."""
    low, middle, high = ends
    if low == high:
        return np.full(np.shape(uniform), middle)
    if row.distribution == "uniform":
        return chance.uniform_quantile.__wrapped__(uniform, low, high)
    if row.distribution == "triangular":
        return chance.triangular_quantile.__wrapped__(uniform, low, middle, high)
    log_spread = np.log(high / low) / (2.0 * TAIL)
    return chance.lognormal_quantile.__wrapped__(middle, log_spread, normal(uniform))


def normal(uniform) -> np.ndarray:
    """Standard deviations from the middle, by the chance of a smaller value."""
    found = np.asarray(uniform, float)
    inverse = NormalDist().inv_cdf
    return np.array([inverse(u) for u in found.ravel()]).reshape(found.shape)
