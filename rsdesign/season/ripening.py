"""The solver for a filter that ripens: bacteria, ammonia, nitrite, nitrate and alkalinity.

One kernel, ``step``, takes any number of designs from one moment to a later one.  Each unknown is
the one root, never negative, of an implicit equation; a whole step and two half steps are put
together (Richardson 1911), so that the error falls with the square of the step.  What leaves one
pool enters the next, so that nitrogen closes to rounding.  At rest a step changes nothing: a long
run ends at the level of the steady sizing, however long the step.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..core.arrays import exp, most, sqrt, where
from .film_curve import Curve, as_in_sizing
from .film_curve import film as film_curve
from .film_search import FilmStep

Numbers = Any
"""A float, or an array with a number for each design."""

State = Any
"""The rows named below: an array of rows, or for one design a list of floats, which is far quicker."""

AMMONIA, NITRITE, NITRATE, ALKALINITY, AMMONIA_BACTERIA, NITRITE_BACTERIA, OUTLET = range(7)
"""Rows of a state; ``OUTLET`` is the ammonia that leaves the filter, no pool of its own."""


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

    ``area``: media surface for each volume of water [m²/m³], times what ``film_curve.scale_of`` says
    of the water.  ``turnover``: flow through the filter over the volume of water [1/s].  ``cap``:
    level [kg/m³] beyond which the film takes no more, for want of oxygen.  ``mixed``: a mixed bed,
    else plug flow.  ``curve``: its rate, that of the sizing.
    """

    area: Numbers
    turnover: Numbers
    cap: Numbers
    mixed: bool = True
    curve: Curve = field(default_factory=film_curve)

    def through(self, seconds: float, kept: Numbers, area: Numbers, top: tuple) -> FilmStep:
        """This filter through a step of time."""
        return FilmStep(self.curve, seconds, area, self.turnover, top, self.mixed, kept)

    def from_state(self, state: State) -> tuple[Numbers, tuple]:
        """Its area from a state on, and what ``Curve.top`` gives of its cap."""
        cap = self.cap if type(self.cap) is float else np.asarray(self.cap, float)
        area, top = self.area, self.curve.top(cap)
        if not self.mixed:
            area = area / as_in_sizing(self.curve, state[OUTLET], state[AMMONIA], top)
        return area, top


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
    state: State,
    load: Numbers,
    seconds: float,
    oxidizers: tuple[Bacteria, Bacteria],
    water: Water,
    film: Film | None = None,
    times: int = 1,
) -> State:
    """The state after a step of time: two half steps, and what a whole one says of their error.

    Parameters:
        state: rows as named above, from ``start`` or an earlier step [kg/m³], 0 and up; a list of
            floats where all the rest are floats, too.
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
    here = None if film is None else film.from_state(state)
    whole, half = (
        _Step.of(length, load, oxidizers, water, film, here) for length in (seconds, 0.5 * seconds)
    )
    moves: Numbers = 0.0
    for _ in range(times):
        middle = half.once(state, state[OUTLET] + moves)
        fine = half.once(middle, 2.0 * middle[OUTLET] - state[OUTLET])
        moves = fine[OUTLET] - middle[OUTLET]
        state = _extrapolated(fine, whole.once(state, fine[OUTLET]))
    return state


def _extrapolated(fine: State, coarse: State) -> State:
    """Twice the half steps less the whole one; the half steps where that would be below zero."""
    if isinstance(fine, list):
        better = [2.0 * half - whole for half, whole in zip(fine, coarse, strict=True)]
        return better if min(better) >= 0.0 else fine
    better = 2.0 * fine - coarse
    return better if better.min() >= 0.0 else np.where((better < 0.0).any(0), fine, better)


@dataclass(frozen=True, slots=True)
class _Step:
    """One implicit step of the first order, with what does not change from step to step."""

    seconds: float
    oxidizers: tuple[Bacteria, Bacteria]
    film: FilmStep | None
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
    def of(cls, seconds, load, oxidizers, water: Water, film: Film | None, here) -> "_Step":
        fades = [exp(-kind.decay * seconds) for kind in oxidizers]
        kept = 1.0 + seconds * water.exchange
        return cls(
            seconds,
            oxidizers,
            None if film is None else film.through(seconds, kept, *here),
            seconds * (load + water.exchange * water.ammonia),
            seconds * water.exchange * water.nitrate,
            seconds * (water.base + water.exchange * water.alkalinity),
            water.alkalinity_use,
            kept,
            tuple(seconds * kind.growth / kind.yields for kind in oxidizers),
            tuple(fades),
            # exact for an even uptake
            tuple(kind.yields * (1.0 - fade) / (kind.decay * seconds)
                  for kind, fade in zip(oxidizers, fades, strict=True)),
        )  # fmt: skip

    def once(self, old: State, guess: Numbers) -> State:
        """The state after the step; ``guess``: what may leave the filter then."""
        new = old.copy()
        there = old[AMMONIA] + self.brought
        alkaline = old[ALKALINITY] + self.brought_alkalinity
        level = left(
            there, self.kept, self.speeds[0] * old[AMMONIA_BACTERIA], self.oxidizers[0].half
        )
        level = most(level, (there - alkaline / self.alkalinity_use) / self.kept)
        new[OUTLET] = level
        if self.film is not None:
            level, new[OUTLET] = self.film.limited(level, there, guess)
        taken = most(there - self.kept * level, 0.0)

        waiting = old[NITRITE] + taken
        nitrite = left(waiting, self.kept, self.speeds[1] * old[NITRITE_BACTERIA],
                       self.oxidizers[1].half)  # fmt: skip
        passed = most(waiting - self.kept * nitrite, 0.0)
        new[AMMONIA] = level
        new[NITRITE] = nitrite
        new[NITRATE] = (old[NITRATE] + passed + self.brought_nitrate) / self.kept
        new[ALKALINITY] = most(alkaline - self.alkalinity_use * taken, 0.0) / self.kept
        new[AMMONIA_BACTERIA] = old[AMMONIA_BACTERIA] * self.fades[0] + self.gains[0] * taken
        new[NITRITE_BACTERIA] = old[NITRITE_BACTERIA] * self.fades[1] + self.gains[1] * passed
        return new


def left(there, kept, speed, half):
    """The level that is left: the one root, never negative, of a quadratic.

    kept · S + speed · S / (half + S) = there.

    >>> float(left(2.0, 1.0, 2.0, 1.0))
    1.0
    """
    b = kept * half + speed - there
    c = there * half
    # both forms of the root without a difference of near numbers
    sum_ = abs(b) + sqrt(b * b + 4.0 * kept * c) + 1e-300
    return where(b > 0.0, 2.0 * c / sum_, sum_ / (2.0 * kept))
