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

from ..equations.biofilter.solvers import GAUSS

Numbers = Any
"""A float, or an array with a number for each design."""

AMMONIA, NITRITE, NITRATE, ALKALINITY, AMMONIA_BACTERIA, NITRITE_BACTERIA, OUTLET = range(7)
"""Rows of a state; ``OUTLET`` is the ammonia that leaves the filter, no pool of its own."""

ROUNDS, CLOSE = 6, 1e-5
"""Newton steps in search of the outlet at most, and how near is near: each search starts where the
last one ended, and what it leaves stays in the water, so that nitrogen closes all the same."""

_LEAST = 1e-15  # kg/m³; logarithms want more than nothing


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
    times: int = 1,
) -> np.ndarray:
    """The state after a step of time: two half steps, and what a whole one says of their error.

    Parameters:
        state: rows as named above, from ``start`` or an earlier step [kg/m³], 0 and up.
        load: ammonia nitrogen that comes in [kg/(m³ s)], 0 and up, even over the step.
        seconds: length of the step; an hour to a quarter of a day.
        oxidizers: bacteria that take ammonia and bacteria that take nitrite, as they are now.
        water: new water, base, and alkalinity taken for each mass of nitrogen.
        film: the most that the filter can take; none where only bacteria limit.
        times: so many steps one after another, all alike.
    Returns: the state then.  Where the extrapolation would be below zero, the half steps stand.
    Source: implicit steps and extrapolation are textbook numerics (Hairer and Wanner, from memory).

    Example:
        >>> a = Bacteria(1e-5, 2e-6, 0.15, 0.5e-3), Bacteria(6e-6, 1.4e-6, 0.05, 1.5e-3)
        >>> later = step(start(1e-6, 1e-6, 0.1), 6e-8, 3600.0, a, Water())
        >>> bool(abs(later[:3].sum() - 6e-8 * 3600.0) < 1e-15)
        True
    """
    whole = _Step.of(seconds, load, oxidizers, water, film)
    half = _Step.of(0.5 * seconds, load, oxidizers, water, film)
    for _ in range(times):
        fine = half.once(half.once(state))
        better = 2.0 * fine - whole.once(state)
        state = better if better.min() >= 0.0 else np.where((better < 0.0).any(0), fine, better)
    return state


@dataclass(frozen=True, slots=True)
class _Step:
    """One implicit step of the first order, with what does not change from step to step."""

    seconds: float
    oxidizers: tuple[Bacteria, Bacteria]
    film: Film | None
    brought: Numbers
    brought_nitrate: Numbers
    brought_alkalinity: Numbers
    alkalinity_use: Numbers
    kept: Numbers
    """What stays is divided by this: 1 without new water."""
    speeds: tuple[Numbers, Numbers]
    fades: tuple[Numbers, Numbers]
    gains: tuple[Numbers, Numbers]

    @classmethod
    def of(cls, seconds, load, oxidizers, water: Water, film) -> "_Step":
        fades = [np.exp(-kind.decay * seconds) for kind in oxidizers]
        return cls(
            seconds,
            oxidizers,
            film,
            seconds * (load + water.exchange * water.ammonia),
            seconds * water.exchange * water.nitrate,
            seconds * (water.base + water.exchange * water.alkalinity),
            water.alkalinity_use,
            1.0 + seconds * water.exchange,
            tuple(seconds * kind.growth / kind.yields for kind in oxidizers),
            tuple(fades),
            # exact for an even uptake
            tuple(kind.yields * (1.0 - fade) / (kind.decay * seconds)
                  for kind, fade in zip(oxidizers, fades, strict=True)),
        )  # fmt: skip

    def once(self, old: np.ndarray) -> np.ndarray:
        """The state after the step."""
        new = np.empty_like(old)
        there = old[AMMONIA] + self.brought
        alkaline = old[ALKALINITY] + self.brought_alkalinity
        level = left(
            there, self.kept, self.speeds[0] * old[AMMONIA_BACTERIA], self.oxidizers[0].half
        )
        level = np.maximum(level, (there - alkaline / self.alkalinity_use) / self.kept)
        new[OUTLET] = level
        if self.film is not None:
            level, new[OUTLET] = self._within_film(level, there, old[OUTLET], self.film)
        taken = np.maximum(there - self.kept * level, 0.0)

        waiting = old[NITRITE] + taken
        nitrite = left(waiting, self.kept, self.speeds[1] * old[NITRITE_BACTERIA],
                       self.oxidizers[1].half)  # fmt: skip
        passed = np.maximum(waiting - self.kept * nitrite, 0.0)
        new[AMMONIA] = level
        new[NITRITE] = nitrite
        new[NITRATE] = (old[NITRATE] + passed + self.brought_nitrate) / self.kept
        new[ALKALINITY] = np.maximum(alkaline - self.alkalinity_use * taken, 0.0) / self.kept
        new[AMMONIA_BACTERIA] = old[AMMONIA_BACTERIA] * self.fades[0] + self.gains[0] * taken
        new[NITRITE_BACTERIA] = old[NITRITE_BACTERIA] * self.fades[1] + self.gains[1] * passed
        return new

    def _within_film(self, level, there, guess, film: Film):
        """The level where the film may hold the bacteria back, and that which leaves the filter."""
        outlet = level - (there - self.kept * level) / (self.seconds * film.turnover)
        low = np.maximum(outlet, _LEAST)
        if film.mixed:
            short = film.area * film.rate(low) < film.turnover * (level - outlet)
        else:
            short = film.area < film.turnover * reach(low, np.maximum(level, _LEAST), film.rate)
        short = (short | (outlet < 0.0)) & (there > 0.0)
        if not short.any():
            return level, outlet
        found = self._film_outlet(there, guess, short, film)
        through = self.seconds * film.turnover
        tank = (there + through * found) / (self.kept + through)
        short = short & (tank > level)
        return np.where(short, tank, level), np.where(short, found, outlet)

    def _film_outlet(self, there, guess, wanted, film: Film):
        """What leaves the filter where the film takes all it can: Newton inside a bracket."""
        surplus = self._mixed if film.mixed else self._plug
        low, high = 0.0 * there, there / self.kept
        x = np.where((guess > 0.0) & (guess < high), guess, 0.5 * high)
        for _ in range(ROUNDS):
            value, slope = surplus(x, there, film)
            below = value < 0.0
            low, high = np.where(below, x, low), np.where(below, high, x)
            better = x - value / slope
            better = np.where((better >= low) & (better <= high), better, 0.5 * (low + high))
            far = wanted & (np.abs(better - x) > CLOSE * x)
            x = better
            if not far.any():
                break
        return x

    def _mixed(self, x, there, film: Film):
        """What flows out and is taken over what there is, and its slope, for a mixed bed."""
        most = (self.kept / film.turnover + self.seconds) * film.area
        beside = np.maximum(x, _LEAST) * (1.0 + 1e-6)
        rates = film.rate(np.stack([x, beside]))
        return (
            self.kept * x + most * rates[0] - there,
            self.kept + most * (rates[1] - rates[0]) / (beside - x),
        )

    def _plug(self, x, there, film: Film):
        """Area for each flow over what plug flow would need to come down so far, and its slope."""
        x = np.maximum(x, _LEAST)
        through = self.seconds * film.turnover
        tank = (there + through * x) / (self.kept + through)
        value = film.area / film.turnover - reach(x, tank, film.rate)
        rates = 1.0 / np.maximum(film.rate(np.stack([x, tank])), 1e-30)
        return value, rates[0] - through / (self.kept + through) * rates[1]


def left(there, kept, speed, half):
    """The level that is left: the one root, never negative, of a quadratic.

    kept · S + speed · S / (half + S) = there.

    >>> float(left(2.0, 1.0, 2.0, 1.0))
    1.0
    """
    b = kept * half + speed - there
    c = there * half
    # both forms of the root without a difference of near numbers
    sum_ = np.abs(b) + np.sqrt(b * b + 4.0 * kept * c) + 1e-300
    return np.where(b > 0.0, 2.0 * c / sum_, sum_ / (2.0 * kept))


def reach(low, high, rate):
    """Area for each flow that brings plug flow from one level down to another, as in the sizing.

    Eight points of Gauss in the logarithm of the level, all in one call.

    >>> round(float(reach(np.array(0.5), np.array(1.0), lambda level: 2.0 * level)), 6)
    0.346574
    """
    x, half = np.log(low), 0.5 * np.log(high / low)
    levels = np.exp(x + half * _at(x.ndim))
    return half * (_weight(x.ndim) * levels / np.maximum(rate(levels), 1e-30)).sum(axis=0)


def _at(dimensions: int):
    return np.array([at for at, _ in GAUSS]).reshape(-1, *[1] * dimensions)


def _weight(dimensions: int):
    return np.array([weight for _, weight in GAUSS]).reshape(-1, *[1] * dimensions)
