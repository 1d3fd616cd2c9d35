"""The film of a filter as the courses of time need it: one curve of rate, quick to look up.

Temperature, pH, alkalinity and allowances only scale the areal rate of the sizing; its course with
the level is one curve, held here as a table along the root of the level, in which the half-order
form is a straight line.  ``scale_of`` says by how much the water of a day scales it, and a level
``cap`` beyond which oxygen lets it rise no more cuts it off.  ``film_search`` finds what the film
leaves.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log
from math import sqrt as root_of
from typing import Any

import numpy as np

from ..core.arrays import least
from ..equations.biofilter.nitrification import OXYGEN_FOR_AMMONIA, rate_law
from ..equations.biofilter.solvers import GAUSS

Numbers = Any  # a float or an array, one number for each design

NODES = 4000
TOP = 2.2e-3
"""Level [kg/m³] above which the rate no longer rises."""
UNIT = 1e-3
"""Level [kg/m³] at which two rates are compared."""
ALONG = NODES / root_of(TOP)
"""Nodes for each root of a level."""
NO_RATE = 1e-30
"""Rate that stands for none where a quotient wants more than nothing."""


def _law() -> Callable:
    """The law at 24 °C, where neither oxygen nor acid holds it back."""
    return rate_law(1.0, 24.0, 8.2, 1e12, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A rate [kg/(m² s)] at nodes along the root of the level, and what plug flow needs to get there.

    ``passed``: area for each flow [m² s/m³] in which plug flow comes down from a node to the start
    of the curve; ``rise`` and ``further``: the change of each to the next node.
    """

    rate: np.ndarray
    rise: np.ndarray
    passed: np.ndarray
    further: np.ndarray
    rates: list
    passes: list
    """The same as lists, which are quicker for one number."""
    starts: tuple[float, float]
    """Level [kg/m³] below which plug flow, and a mixed bed, take nothing."""

    @classmethod
    def of(cls, law: Callable) -> "Curve":
        """The curve of a rate as a function of the level; no rise above ``TOP``."""
        levels = (np.arange(NODES + 2) / NODES) ** 2 * TOP
        rate = np.asarray(law(levels))
        passed = np.zeros(NODES + 2)
        first = int(np.flatnonzero(rate > 0.0)[0])
        middle = np.asarray(law(0.5 * (levels[first:-1] + levels[first + 1 :])))
        slow = (1.0 / rate[first:-1] + 4.0 / middle + 1.0 / rate[first + 1 :]) / 6.0  # Simpson
        passed[first + 1 :] = np.cumsum(slow * np.diff(levels[first:]))
        starts = (float(levels[first]), float(levels[first - 1]))
        return cls(
            rate, np.diff(rate), passed, np.diff(passed), rate.tolist(), passed.tolist(), starts
        )

    def top(self, cap: Numbers) -> tuple[Numbers, Numbers]:
        """The level up to which the rate rises where a cap [kg/m³] is, and the rate there."""
        if type(cap) is float:
            held = min(cap, TOP)
            return held, max(self.one(held, (held, 1.0), True)[0], NO_RATE)
        held = np.minimum(cap, TOP)
        return held, np.maximum(self.many(held, (held, 1.0), True)[0], NO_RATE)

    def one(self, level: float, top: tuple[float, float], mixed: bool) -> tuple[float, float]:
        """Rate at a level above 0, and its slope there (``mixed``) or what plug flow passed."""
        held = level if level < top[0] else top[0]
        at = root_of(held) * ALONG
        place = int(at)
        rate = self.rates[place]
        rise = self.rates[place + 1] - rate
        rate += (at - place) * rise
        if mixed:
            return rate, (0.5 * at * rise / held if held == level else 0.0)
        passed = self.passes[place]
        passed += (at - place) * (self.passes[place + 1] - passed)
        return rate, (passed if held == level else passed + (level - held) / top[1])

    def many(self, level: np.ndarray, top: tuple, mixed: bool) -> tuple[np.ndarray, np.ndarray]:
        """The same for arrays."""
        held = np.minimum(level, top[0])
        at = np.sqrt(held)
        at *= ALONG
        place = at.astype(np.intp)
        rise = self.rise.take(place)
        if mixed:
            slope = 0.5 * at * rise / held
            slope *= held == level
            at -= place
            at *= rise
            at += self.rate.take(place)
            return at, slope
        part = at - place
        rise *= part
        rise += self.rate.take(place)
        part *= self.further.take(place)
        part += self.passed.take(place)
        part += (level - held) / top[1]
        return rise, part


@functools.cache
def film() -> Curve:
    """The curve of the sizing's law."""
    return Curve.of(_law())


def scale_of(oxygen, temperature, ph, alkalinity, derate) -> Numbers:
    """The areal rate of a day over that of the curve; arrays broadcast.

    >>> round(float(scale_of(0.006, 24.0, 8.2, 1e9, 0.75)), 6)
    0.75
    """
    oxygen = oxygen if type(oxygen) is float else np.asarray(oxygen)
    level = least(UNIT, oxygen / OXYGEN_FOR_AMMONIA)
    law = rate_law(oxygen, temperature, ph, alkalinity, derate)
    return law(level) / _law()(level)


def rate_at(level: Numbers, cap: Numbers) -> tuple[Numbers, Numbers]:
    """The rate of the curve at a level and its slope there; no rise beyond ``cap`` [kg/m³].

    >>> round(rate_at(1e-3, 1.0)[0] * 86400.0 * 1000.0, 2)
    0.45
    """
    curve = film()
    if type(level) is float and type(cap) is float:
        return curve.one(level, curve.top(cap), True) if level > 0.0 else (0.0, 0.0)
    level = np.asarray(level, float)
    return curve.many(np.maximum(level, 1e-15), curve.top(np.asarray(cap, float)), True)


def as_in_sizing(curve: Curve, outlet: Numbers, tank: Numbers, top: tuple) -> Numbers:
    """What plug flow needs by the quadrature of the sizing over what it needs by the curve.

    The sizing takes eight points of Gauss in the logarithm of the level.  A film whose area is
    divided by this ratio comes to rest at the level of the sizing, not only near it.
    """
    if type(outlet) is float:
        return _one_as_in_sizing(curve, outlet, tank, top)
    known = (outlet > 1e-9) & (tank > outlet * (1.0 + 1e-9))
    low, high = np.where(known, outlet, 1.0), np.where(known, tank, 2.0)
    half = 0.5 * np.log(high / low)
    at, weight = (np.array(x).reshape(-1, *[1] * low.ndim) for x in zip(*GAUSS, strict=True))
    levels = low * np.exp(half * at)
    rates = np.maximum(curve.many(levels, top, True)[0], NO_RATE)
    needed = half * (weight * levels / rates).sum(axis=0)
    passed = curve.many(high, top, False)[1] - curve.many(low, top, False)[1]
    return np.where(known, np.clip(needed / np.maximum(passed, NO_RATE), 0.5, 2.0), 1.0)


def _one_as_in_sizing(curve: Curve, outlet: float, tank: float, top: tuple) -> float:
    """The same for one design."""
    if not (outlet > 1e-9 and tank > outlet * (1.0 + 1e-9)):
        return 1.0
    half = 0.5 * log(tank / outlet)
    needed = 0.0
    for at, weight in GAUSS:
        level = outlet * exp(half * at)
        needed += weight * level / max(curve.one(level, top, True)[0], NO_RATE)
    passed = curve.one(tank, top, False)[1] - curve.one(outlet, top, False)[1]
    return min(max(half * needed / max(passed, NO_RATE), 0.5), 2.0)
