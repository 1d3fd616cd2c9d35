"""The solver for a filter that ripens: bacteria, ammonia, nitrite, nitrate and alkalinity.

One kernel, ``step``, takes any number of designs from one moment to a later one.  Each unknown is
the one root, never negative, of an implicit equation; a whole step and two half steps are put
together (Richardson 1911), so that the error falls with the square of the step.  What leaves one
pool enters the next, so that nitrogen closes to rounding.  At rest a step changes nothing: a long
run ends at the level of the steady sizing, however long the step.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..equations.biofilter.solvers import reach

Numbers = Any
"""A float, or an array with a number for each design."""

AMMONIA, NITRITE, NITRATE, ALKALINITY, AMMONIA_BACTERIA, NITRITE_BACTERIA, OUTLET = range(7)
"""Rows of a state; ``OUTLET`` is the ammonia that leaves the filter, no pool of its own."""

ROUNDS = 4
"""Newton steps in search of the outlet; each starts where the last step of time ended."""


@dataclass(frozen=True, slots=True)
class Bacteria:
    """One kind of bacteria in the water as it is now.

    ``growth`` and ``decay`` [1/s] at this temperature, oxygen and pH; ``yields`` [kg of bacteria
    for each kg of nitrogen]; ``half``: level [kg/m³] at which they grow half as fast.
    """

    growth: Numbers
    decay: Numbers
    yields: Numbers
    half: Numbers


@dataclass(frozen=True, slots=True)
class Film:
    """The most that the film of the design's filter can take, by the relation of its sizing.

    ``rate``: areal rate [kg/(m² s)] as a function of the level [kg/m³], such as
    ``biofilter.rate_law`` gives; it must not fall with the level.  ``area``: media surface for each
    volume of water [m²/m³].  ``turnover``: flow through the filter over the volume of water
    [1/s].  ``mixed``: a mixed bed, else plug flow.
    """

    rate: Callable
    area: Numbers
    turnover: Numbers
    mixed: bool = True


@dataclass(frozen=True, slots=True)
class Water:
    """What comes in and goes out beside the load.

    ``exchange``: new water over volume [1/s]; ``ammonia``, ``nitrate`` and ``alkalinity``: its
    levels [kg/m³].  ``base``: alkalinity added, as calcium carbonate [kg/(m³ s)].
    ``alkalinity_use``: alkalinity taken for each mass of nitrogen.
    """

    exchange: Numbers = 0.0
    ammonia: Numbers = 0.0
    nitrate: Numbers = 0.0
    alkalinity: Numbers = 0.0
    base: Numbers = 0.0
    alkalinity_use: Numbers = 7.145


def start(ammonia_bacteria: Numbers, nitrite_bacteria: Numbers, alkalinity: Numbers,
          ammonia: Numbers = 0.0, nitrite: Numbers = 0.0, nitrate: Numbers = 0.0) -> np.ndarray:  # fmt: skip
    """A state from its levels, each a number or an array with one for each design [kg/m³].

    Example:
        >>> start(1e-6, 1e-6, 0.1).shape
        (7,)
    """
    rows = (ammonia, nitrite, nitrate, alkalinity, ammonia_bacteria, nitrite_bacteria, ammonia)
    return np.stack([np.asarray(row, float) for row in np.broadcast_arrays(*rows)])


def step(
    state: np.ndarray,
    load: Numbers,
    seconds: float,
    oxidizers: tuple[Bacteria, Bacteria],
    water: Water,
    film: Film | None = None,
) -> np.ndarray:
    """The state after a step of time: two half steps, and what a whole one says of their error.

    Parameters:
        state: rows as named above, from ``start`` or an earlier step [kg/m³], 0 and up.
        load: ammonia nitrogen that comes in [kg/(m³ s)], 0 and up, even over the step.
        seconds: length of the step; an hour to a quarter of a day.
        oxidizers: bacteria that take ammonia and bacteria that take nitrite, as they are now.
        water: new water, base, and alkalinity taken for each mass of nitrogen.
        film: the most that the filter can take; none where only bacteria limit.
    Returns: the state then.  Where the extrapolation would be below zero, the half steps stand.
    Source: implicit steps and extrapolation are textbook numerics (Hairer and Wanner, from memory).

    Example:
        >>> a = Bacteria(1e-5, 2e-6, 0.15, 0.5e-3), Bacteria(6e-6, 1.4e-6, 0.05, 1.5e-3)
        >>> later = step(start(1e-6, 1e-6, 0.1), 6e-8, 3600.0, a, Water())
        >>> abs(later[:3].sum() - 6e-8 * 3600.0) < 1e-15
        True
    """
    given = (load, oxidizers, water, film)
    half = once(once(state, 0.5 * seconds, *given), 0.5 * seconds, *given)
    better = 2.0 * half - once(state, seconds, *given)
    return np.where((better < 0.0).any(axis=0), half, better)


def once(state, seconds, load, oxidizers, water, film):
    """One implicit step of the first order; arguments as for ``step``."""
    old = state
    eaters, takers = oxidizers
    kept = 1.0 + seconds * water.exchange  # what stays is divided by this
    there = old[AMMONIA] + seconds * (load + water.exchange * water.ammonia)
    alkaline = old[ALKALINITY] + seconds * (water.base + water.exchange * water.alkalinity)

    speed = seconds * eaters.growth / eaters.yields * old[AMMONIA_BACTERIA]
    level = left(there, kept, speed, eaters.half)
    level = np.maximum(level, (there - alkaline / water.alkalinity_use) / kept)
    outlet = None
    if film is not None:
        level, outlet = _within_film(level, there, kept, seconds, old[OUTLET], film)
    taken = np.maximum(there - kept * level, 0.0)

    speed = seconds * takers.growth / takers.yields * old[NITRITE_BACTERIA]
    nitrite = left(old[NITRITE] + taken, kept, speed, takers.half)
    passed = np.maximum(old[NITRITE] + taken - kept * nitrite, 0.0)

    new = np.empty_like(old, shape=(len(old), *np.shape(passed)))
    new[AMMONIA] = level
    new[NITRITE] = nitrite
    new[NITRATE] = (old[NITRATE] + passed + seconds * water.exchange * water.nitrate) / kept
    new[ALKALINITY] = np.maximum(alkaline - water.alkalinity_use * taken, 0.0) / kept
    new[AMMONIA_BACTERIA] = _grown(old[AMMONIA_BACTERIA], eaters, taken, seconds)
    new[NITRITE_BACTERIA] = _grown(old[NITRITE_BACTERIA], takers, passed, seconds)
    new[OUTLET] = level if outlet is None else outlet
    return new


def left(there, kept, speed, half):
    """The level that is left: the one root, never negative, of a quadratic.

    kept · S + speed · S / (half + S) = there.

    >>> float(left(2.0, 1.0, 2.0, 1.0))
    1.0
    """
    b = kept * half + speed - there
    c = there * half
    root = np.sqrt(b * b + 4.0 * kept * c)
    # the form without a difference of near numbers, on either side
    return np.where(b > 0.0, 2.0 * c / (b + root + 1e-300), (root - b) / (2.0 * kept))


def _grown(bacteria, kind: Bacteria, taken, seconds):
    """Bacteria after a step: exact for an even uptake."""
    fade = np.exp(-kind.decay * seconds)
    return bacteria * fade + kind.yields * taken * (1.0 - fade) / (kind.decay * seconds)


def _within_film(level, there, kept, seconds, guess, film: Film):
    """The level where the film may hold the bacteria back, and the level that leaves the filter."""
    outlet = level - (there - kept * level) / (seconds * film.turnover)
    with np.errstate(all="ignore"):
        if film.mixed:
            short = film.area * film.rate(np.maximum(outlet, 0.0)) < film.turnover * (
                level - outlet
            )
        else:
            short = ~(
                reach(np.maximum(outlet, 1e-15), level, film.rate) <= film.area / film.turnover
            )
        short = (short | (outlet < 0.0)) & (there > 0.0)
        if not np.any(short):
            return level, outlet
        found = _film_outlet(there, kept, seconds, guess, film)
    through = seconds * film.turnover
    tank = (there + through * found) / (kept + through)
    short = short & (tank > level)
    return np.where(short, tank, level), np.where(short, found, outlet)


def _film_outlet(there, kept, seconds, guess, film: Film):
    """The level that leaves the filter where the film takes all it can: Newton inside a bracket."""
    surplus = _mixed if film.mixed else _plug
    low, high = 0.0 * there, there / kept
    x = np.where((guess > 0.0) & (guess < high), guess, 0.5 * high)
    for _ in range(ROUNDS):
        value, slope = surplus(x, there, kept, seconds, film)
        low, high = np.where(value < 0.0, x, low), np.where(value < 0.0, high, x)
        next_x = x - value / slope
        x = np.where((next_x >= low) & (next_x <= high), next_x, 0.5 * (low + high))
    return x


def _mixed(x, there, kept, seconds, film: Film):
    """What flows out and is taken over what there is, and its slope, for a mixed bed."""
    most = (kept / film.turnover + seconds) * film.area
    near = np.maximum(x, 1e-12) * (1.0 + 1e-6)
    here, beside = film.rate(np.stack([x, near]))
    return kept * x + most * here - there, kept + most * (beside - here) / (near - x)


def _plug(x, there, kept, seconds, film: Film):
    """Area for each flow over what plug flow would need to come down so far, and its slope."""
    x = np.maximum(x, 1e-15)
    through = seconds * film.turnover
    tank = (there + through * x) / (kept + through)
    value = film.area / film.turnover - reach(x, tank, film.rate)
    here, above = film.rate(np.stack([x, tank]))
    slope = 1.0 / np.maximum(here, 1e-30) - through / (kept + through) / np.maximum(above, 1e-30)
    return value, slope
