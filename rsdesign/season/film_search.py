"""What the film of a filter leaves at the end of a step: a search for one design or for many."""

from dataclasses import dataclass
from math import nan
from typing import Any

import numpy as np

from .film_curve import NO_RATE, Curve

Numbers = Any  # a float or an array, one number for each design

ROUNDS = 40
CLOSE = 1e-5
"""Relative change of a level at which a search ends: Newton's next step would be far smaller, and
the next search starts where this one ended."""

PLAIN = 3
"""Newton steps of all designs without a bracket; those that then still move get one."""
FEW = 30
"""Designs below which numbers one by one are quicker than arrays."""


@dataclass(frozen=True, slots=True, eq=False)
class FilmStep:
    """A filter through a step of time, as its film meets it.

    ``area``: media over water, scaled to the day [1/m]; ``turnover``: flow over water [1/s];
    ``top``: what ``Curve.top`` gives; ``kept``: the level at the end is multiplied by this, 1
    without new water.
    """

    curve: Curve
    seconds: float
    area: Numbers
    turnover: Numbers
    top: tuple[Numbers, Numbers]
    mixed: bool
    kept: Numbers = 1.0

    def limited(self, level: Numbers, there: Numbers, guess: Numbers) -> tuple[Numbers, Numbers]:
        """The level of the tank and of the outlet where the film may hold bacteria back.

        Parameters:
            level: at which bacteria would leave the tank [kg/m³].
            there: what would be in the water without a filter [kg/m³].
            guess: the outlet, as of the step before.
        Returns: the levels at the end of the step: those of the bacteria, where the film can take as
            much, else those where it takes all it can.
        """
        through = self.seconds * self.turnover
        outlet = level - (there - self.kept * level) / through
        search = self._one if type(level) is float else self._many
        found = search(there, outlet, guess)
        return (there + through * found) / (self.kept + through), found

    def _numbers(self, there):
        """What the search needs of a step: see ``_beyond``."""
        through = self.seconds * self.turnover
        whole = self.kept + through
        if self.mixed:
            return self.kept, (self.kept / self.turnover + self.seconds) * self.area, there
        return there / whole, through / whole, self.area / self.turnover

    def _one(self, there: float, outlet: float, guess: float) -> float:
        start = self.curve.starts[self.mixed]
        high = there / self.kept
        if high <= start:
            return high  # too thin for the film to take any
        low = max(outlet, start)
        ends = (low, high, nan, nan, min(max(guess, low), high))
        return self._of_one(ends, self._numbers(there), self.top)

    def _of_one(self, ends, numbers, top) -> float:
        """Newton inside a bracket for one design.

        ``ends``: low and high end, the values there, as far as they are known, and a place between.
        """
        low, high, at_low, at_high, x = ends
        for _ in range(ROUNDS):
            value, slope = _beyond(self.curve.one, x, numbers, top, self.mixed)
            if value < 0.0:
                low, at_low = x, value
            elif x <= low * (1.0 + CLOSE):
                return low  # the film takes what the bacteria can
            else:
                high, at_high = x, value
            sure = at_low < 0.0
            better = x - value / slope if slope > 0.0 else high
            if better <= low and not sure:
                better = low
            elif not low <= better <= high:
                better = low - at_low * (high - low) / (at_high - at_low)
                if not low <= better <= high:
                    better = 0.5 * (low + high)
            near, x = abs(better - x) < CLOSE * x, better
            if near and (sure or x > low):
                break
        return x

    def _many(self, there, outlet, guess) -> np.ndarray:
        shape = np.shape(there)
        there, outlet, guess = np.atleast_1d(there), np.atleast_1d(outlet), np.atleast_1d(guess)
        start = self.curve.starts[self.mixed]
        high = there / self.kept
        low = np.maximum(outlet, start)
        x = np.minimum(np.maximum(guess, low), high)
        numbers = self._numbers(there)
        thin = high <= start  # the film takes nothing from it
        least = np.where(thin, high, low)
        nearly = low * (1.0 + CLOSE)
        for at in range(PLAIN):
            value, slope = _beyond(self.curve.many, x, numbers, self.top, self.mixed)
            held = (x <= nearly) & (value >= 0.0)  # the film takes what the bacteria can
            held |= thin
            found = x - value / np.maximum(slope, NO_RATE)
            going = np.abs(found - x) >= CLOSE * x
            going |= found <= low
            going &= ~held
            np.copyto(found, least, where=held)
            which = np.flatnonzero(going)
            if which.size <= FEW or at == PLAIN - 1:
                break
            x = np.minimum(np.maximum(found, low), high)
        if which.size:
            low, high = low[which], high[which]
            better = np.minimum(np.maximum(found[which], low), high)
            unknown = np.full(which.size, np.nan)
            search = self._each if which.size <= FEW else self._search
            found[which] = search(
                (low, high, unknown, unknown, better),
                _those(numbers, which), _those(self.top, which),
            )  # fmt: skip
        return found.reshape(shape)

    def _each(self, ends, numbers, top) -> list[float]:
        """The same for a few designs, for which arrays are slow, one by one."""
        count = ends[0].size
        rows = (zip(*_lists(part, count), strict=True) for part in (ends, numbers, top))
        return [self._of_one(*one) for one in zip(*rows, strict=True)]

    def _search(self, ends, numbers, top) -> np.ndarray:
        """The same for many designs."""
        table = np.stack(ends)
        found, place = table[4].copy(), np.arange(table.shape[1])
        for _ in range(ROUNDS):
            if place.size <= FEW:
                break
            low, high, at_low, at_high, x = table
            value, slope = _beyond(self.curve.many, x, numbers, top, self.mixed)
            below = value < 0.0
            held = (x <= low * (1.0 + CLOSE)) & ~below
            for end, there, side in ((low, at_low, below), (high, at_high, ~below)):
                np.copyto(end, x, where=side)
                np.copyto(there, value, where=side)
            before = x.copy()
            x -= value / np.maximum(slope, NO_RATE)
            first = _kept_within(table)
            going = np.abs(x - before) >= CLOSE * before
            going |= first
            going &= ~held
            found[place] = np.where(held, low, x)
            which = np.flatnonzero(going)
            table, place = table[:, which], place[which]
            numbers, top = _those(numbers, which), _those(top, which)
        if place.size:
            found[place] = self._each(table, numbers, top)
        return found


def _kept_within(table) -> np.ndarray:
    """Brings the places of a table back into their brackets; says which are at a low end not yet tried."""
    low, high, at_low, at_high, x = table
    first = (x <= low) & ~(at_low < 0.0)
    out = ~((x >= low) & (x <= high))
    if out.any():
        chord = low - at_low * (high - low) / (at_high - at_low)
        inside = (chord >= low) & (chord <= high)
        np.copyto(x, np.where(inside, chord, 0.5 * (low + high)), where=out)
    np.copyto(x, low, where=first)
    return first


def _lists(values, count: int) -> list[list[float]]:
    """Rows of numbers, of which each may be one for all, as lists of so many floats."""
    return [v.tolist() if _is_row(v) else [float(v)] * count for v in values]


def _those(values, which):
    """Some of the columns of numbers, of which each may be one for all."""
    return tuple(v[which] if _is_row(v) else v for v in values)


def _is_row(value) -> bool:
    return isinstance(value, np.ndarray) and value.ndim > 0


def _beyond(look, x, numbers, top, mixed: bool) -> tuple[Numbers, Numbers]:
    """How far an outlet lies beyond what the film can reach, and the slope of it.

    A mixed bed: what flows out and is taken, over what there is.  Plug flow: area for each flow,
    over what it takes to come down so far from the tank.
    """
    rate, other = look(x, top, mixed)
    if mixed:
        kept, most_taken, there = numbers
        return kept * x + most_taken * rate - there, kept + most_taken * other
    base, share, there_is = numbers
    above, passed = look(base + share * x, top, mixed)
    return there_is - passed + other, 1.0 / (rate + NO_RATE) - share / (above + NO_RATE)
