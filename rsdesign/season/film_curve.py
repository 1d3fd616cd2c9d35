"""The film of a filter as a season needs it: one curve of rate, quick to look up and to solve.

Temperature, pH, alkalinity and allowances only scale the areal rate of the sizing; its course with
the level is one curve, held here as a table along the root of the level, in which the half-order
form is a straight line.  ``scale_of`` says by how much a day scales it.
"""

import functools
from math import sqrt as root_of
from typing import Any

import numpy as np

from ..core.arrays import most
from ..equations.biofilter.nitrification import OXYGEN_FOR_AMMONIA, rate_law

Numbers = Any  # a float or an array, one number for each design

NODES = 4000
TOP = 2.2e-3
"""Level [kg/m³] above which the rate no longer rises."""
UNIT = 1e-3
"""Level [kg/m³] at which two rates are compared."""
ROUNDS = 24
NEAR = 1e-13
"""Change of a level [kg/m³] at which a search for one design ends."""
NEAR_AMONG_MANY = 1e-10
"""Likewise for the design among many that moves most; Newton's next step would be far smaller."""


def _reference():
    """The law at 24 °C, where neither oxygen nor acid holds it back."""
    return rate_law(1.0, 24.0, 8.2, 1e12, 1.0)


@functools.cache
def _tables() -> tuple[np.ndarray, np.ndarray, list, list]:
    """Rate and area for each flow at the nodes, as arrays and as lists."""
    levels = (np.arange(NODES + 1) / NODES) ** 2 * TOP
    rate = np.asarray(_reference()(levels))
    passed = np.zeros(NODES + 1)
    first = int(np.flatnonzero(rate > 0.0)[0])
    middle = np.asarray(_reference()(0.5 * (levels[first:-1] + levels[first + 1 :])))
    slow = (1.0 / rate[first:-1] + 4.0 / middle + 1.0 / rate[first + 1 :]) / 6.0  # Simpson's rule
    passed[first + 1 :] = np.cumsum(slow * np.diff(levels[first:]))
    passed[:first] = -1e30  # the film takes nothing from so thin a level
    return rate, passed, rate.tolist(), passed.tolist()


def scale_of(oxygen, temperature, ph, alkalinity, derate) -> Numbers:
    """The areal rate of a day over that of the curve; arrays broadcast.

    >>> float(scale_of(0.006, 24.0, 8.2, 1e9, 0.75).round(6))
    0.75
    """
    level = np.minimum(UNIT, np.asarray(oxygen) / OXYGEN_FOR_AMMONIA)
    law = rate_law(oxygen, temperature, ph, alkalinity, derate)
    return law(level) / _reference()(level)


def rate_at(level: Numbers, cap: Numbers) -> tuple[Numbers, Numbers]:
    """The rate of the curve at a level and its slope there; no rise beyond ``cap`` [kg/m³]."""
    table = _tables()
    if type(level) is float and type(cap) is float:
        if level <= 0.0:
            return 0.0, 0.0
        held = min(level, cap, TOP * (1.0 - 1e-12))
        at = root_of(held / TOP) * NODES
        place = int(at)
        low = table[2][place]
        step = table[2][place + 1] - low
        rate = low + (at - place) * step
        return rate, (step * 0.5 * at / held if held == level else 0.0)
    level = np.asarray(level)
    held = np.minimum(np.maximum(level, 1e-15), np.minimum(cap, TOP * (1.0 - 1e-12)))
    at = np.sqrt(held / TOP) * NODES
    place = at.astype(int)
    low = table[0][place]
    step = table[0][place + 1] - low
    rate = np.where(level > 0.0, low + (at - place) * step, 0.0)
    return rate, np.where(held == level, step * 0.5 * at / held, 0.0)


def passed_at(level: Numbers, cap: Numbers) -> Numbers:
    """Area for each flow that plug flow needs to come down to the start of the curve."""
    table = _tables()
    if type(level) is float and type(cap) is float:
        held = min(max(level, 0.0), cap, TOP * (1.0 - 1e-12))
        at = root_of(held / TOP) * NODES
        place = int(at)
        low = table[3][place]
        found = low + (at - place) * (table[3][place + 1] - low)
    else:
        held = np.minimum(np.maximum(level, 0.0), np.minimum(cap, TOP * (1.0 - 1e-12)))
        at = np.sqrt(held / TOP) * NODES
        place = at.astype(int)
        low = table[1][place]
        found = low + (at - place) * (table[1][place + 1] - low)
    beyond = level - held
    return found + beyond / most(rate_at(cap + 0.0 * level, cap)[0], 1e-30)


def level_left(there, seconds, area, turnover, cap, guess, mixed: bool) -> tuple[Numbers, Numbers]:
    """The level in the tank where the film takes all it can through a step, and that of the outlet.

    ``there``: what would be in the water without the film [kg/m³]; ``area``: media over water,
    scaled as ``scale_of`` says [1/m]; ``turnover``: flow over water [1/s]; ``guess``: the outlet of
    the step before.  Newton's steps inside a bracket.
    """
    through = seconds * turnover
    one = type(there) is float
    low, high = 0.0 * there, 1.0 * there
    x = guess if one and 0.0 < guess < there else 0.5 * there
    if not one:
        x = np.where((guess > 0.0) & (guess < there), guess, x)
    for _ in range(ROUNDS):
        value, slope = (_mixed if mixed else _plug)(x, there, seconds, area, turnover, cap)
        if one:
            low, high = (x, high) if value < 0.0 else (low, x)
            following = x - value / slope if slope > 0.0 else low
            following = following if low < following < high else 0.5 * (low + high)
            done, x = abs(following - x) < NEAR, following
            if done:
                break
        else:
            low, high = np.where(value < 0.0, x, low), np.where(value < 0.0, high, x)
            following = x - value / np.maximum(slope, 1e-30)
            following = np.where(
                (following > low) & (following < high), following, 0.5 * (low + high)
            )
            done, x = np.abs(following - x).max() < NEAR_AMONG_MANY, following
            if done:
                break
    return (there + through * x) / (1.0 + through), x


def _mixed(x, there, seconds, area, turnover, cap):
    """What a mixed bed leaves and takes over what there is, and its slope."""
    most_taken = (1.0 / turnover + seconds) * area
    rate, slope = rate_at(x, cap)
    return x + most_taken * rate - there, 1.0 + most_taken * slope


def _plug(x, there, seconds, area, turnover, cap):
    """Area for each flow there is over what plug flow would need, in a unit of level, and its slope."""
    through = seconds * turnover
    tank = (there + through * x) / (1.0 + through)
    here = most(rate_at(x, cap)[0], 1e-12)
    above = most(rate_at(tank, cap)[0], 1e-12)
    needed = passed_at(tank, cap) - passed_at(x, cap)
    unit = here
    value = unit * (area / turnover - needed)
    slope = unit * (1.0 / here - through / (1.0 + through) / above)
    return value, slope
