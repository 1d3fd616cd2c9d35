"""How well a level agrees with a reading that stands for an interval, as a colour of a test kit does.

A colour says no more than between which neighbours a level lies, and the reader's eye and the reagent
scatter too: by a share of the level, and by a part of the step where it lies.  The chance of a reading is that
of a normal scatter about the level falling between its two edges.  Its deviance, twice the logarithm of that
chance below the best chance there is, has a root that serves least squares as a residual: where the interval
is narrow it is the residual of ordinary least squares.
"""

from dataclasses import dataclass
from functools import cached_property
from math import log, pi

import numpy as np

from ..equations.readings import reading_error

_HALF_LOG = 0.5 * log(2.0 * pi)
NARROW = 0.05
"""Intervals narrower than this, in units of the scatter, are points."""
SKILL = 0.25
"""Part of a colour's step by which a reader errs beside it; common practice."""
EDGE = 0.15
"""Part of a step, at either end, over which its width passes into that of the next."""
LEAST = 1e-9
"""Level and scatter [kg/m³ or kg] that count as nothing."""
FAR = 3.0
"""Residual from which a reading counts as far off."""
GRID = 81
"""Levels that are tried for the best chance that a reading can have."""
_ERFC = (1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587,
         -0.82215223, 0.17087277)  # fmt: skip
"""Chebyshev coefficients of the complementary error function, to 1.2e-7 of its value everywhere: Press et al.,
Numerical Recipes, section 6.2; from memory, compared with SciPy in the tests."""


def log_below(x: np.ndarray) -> np.ndarray:
    """Logarithm of the chance that a standard normal number lies below ``x``.

    >>> round(float(log_below(np.array(0.0))), 6)
    -0.693147
    """
    z = np.abs(x) / np.sqrt(2.0)
    t = 1.0 / (1.0 + 0.5 * z)
    series = np.zeros_like(z)
    for coefficient in reversed(_ERFC):
        series = coefficient + t * series
    tail = np.log(0.5 * t) - z * z - 1.26551223 + t * series
    return np.where(x < 0.0, tail, np.log1p(-np.exp(np.minimum(tail, -0.5))))


def _log_density(x: np.ndarray) -> np.ndarray:
    return -0.5 * np.minimum(x * x, 1e12) - _HALF_LOG


def log_between(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """Logarithm of the chance that a standard normal number lies between two others.

    ``low`` below ``high``; either may be infinite.

    >>> round(float(np.exp(log_between(np.array(-1.0), np.array(1.0)))), 5)
    0.68269
    """
    flip = low > 0.0  # the side on which the tails are small keeps the digits
    a, b = np.where(flip, -high, low), np.where(flip, -low, high)
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        left, right = log_below(a), log_below(b)
        tails = right + np.log1p(-np.exp(np.minimum(left - right, 0.0)))
        middle = np.log1p(-np.minimum(np.exp(left) + np.exp(log_below(-b)), 1.0))
        wide = np.where(b <= 0.0, tails, middle)
        narrow = _log_density(0.5 * (a + b)) + np.log(b - a)
    return np.where(b - a < NARROW, narrow, wide)


@dataclass(frozen=True, eq=False)
class Readings:
    """Readings of one kind as intervals, with their scatter.

    ``low``, ``high``: edges, the upper may be infinite; ``share``: standard deviation of a reading over
    the level, where steps have no part in it.  Arrays of one length, in the plain unit of the kind.
    """

    low: np.ndarray
    high: np.ndarray
    share: np.ndarray

    @cached_property
    def closed(self) -> np.ndarray:
        """Which intervals have both ends: a lowest colour, from nothing up, and a highest tell less."""
        return np.isfinite(self.high) & (self.low > 0.0)

    @cached_property
    def middle(self) -> np.ndarray:
        """The middle of each interval; its lower edge where it has no upper one."""
        return np.where(np.isfinite(self.high), 0.5 * (self.low + np.where(np.isfinite(self.high), self.high, 0.0)),
                        self.low)  # fmt: skip

    @cached_property
    def _steps(self) -> tuple[np.ndarray, np.ndarray]:
        """Levels and the width of the step there, from the steps that were read."""
        whole = np.isfinite(self.high)
        steps = np.unique(np.stack([self.low[whole], self.high[whole]], axis=1), axis=0)
        if not steps.size:
            return np.zeros(1), np.zeros(1)
        width = steps[:, 1] - steps[:, 0]
        ends = np.stack([steps[:, 0] + EDGE * width, steps[:, 1] - EDGE * width], axis=1)
        return ends.ravel(), np.repeat(width, 2)

    def scatter(self, level: np.ndarray) -> np.ndarray:
        """Standard deviation of a reading about a level; ``level``: readings x columns."""
        return np.hypot(self.share[:, None] * level, SKILL * np.interp(level, *self._steps)) + LEAST

    @cached_property
    def _best(self) -> tuple[np.ndarray, np.ndarray]:
        """For each reading the best chance, as a logarithm, and the level that has it."""
        wide = (
            np.where(np.isfinite(self.high), self.high - self.low, self.low)
            + self.share * self.middle
        )
        low = np.maximum(self.low - 0.5 * wide, LEAST)
        high = (
            np.where(np.isfinite(self.high), self.high, 4.0 * self.low) + 0.5 * wide + 2.0 * LEAST
        )
        low = np.where(self.low > 0.0, low, LEAST)
        grid = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, GRID)
        chance = self._chance(grid)
        place = chance.argmax(axis=1)[:, None]
        level = np.take_along_axis(grid, place, axis=1)
        open_ended = np.where(self.closed, level[:, 0], np.where(self.low > 0.0, np.inf, 0.0))
        return np.take_along_axis(chance, place, axis=1)[:, 0], open_ended

    def _chance(self, level: np.ndarray) -> np.ndarray:
        scatter = self.scatter(level)
        low = np.where(self.low > 0.0, self.low, -np.inf)[
            :, None
        ]  # less than nothing reads as nothing
        return log_between((low - level) / scatter, (self.high[:, None] - level) / scatter)

    def _near(self, level: np.ndarray) -> np.ndarray:
        """The root of the deviance with its sign, as it is near a reading."""
        best, at = self._best
        size = np.sqrt(np.maximum(2.0 * (best[:, None] - self._chance(level)), 0.0))
        return np.where(level < at[:, None], -size, size)

    @cached_property
    def _far(self) -> tuple[np.ndarray, np.ndarray]:
        """Logarithms of the levels below and above each reading from which it is far off."""
        edge = np.where(np.isfinite(self.high), self.high, self.low)
        best = np.where(
            self.low > 0.0, self._best[1], edge
        )  # a lowest colour is never far above its level
        middle = np.clip(best, np.maximum(self.low, LEAST), np.maximum(edge, LEAST))
        ends = []
        for sign in (-1.0, 1.0):
            near, far = np.log(middle), np.log(middle) + sign * 12.0
            for _ in range(40):
                half = 0.5 * (near + far)
                beyond = sign * self._near(np.exp(half)[:, None])[:, 0] > FAR
                near, far = np.where(beyond, near, half), np.where(beyond, half, far)
            ends.append(near)
        return ends[0], ends[1]

    def residuals(self, level: np.ndarray) -> np.ndarray:
        """The root of the deviance of each reading, with its sign; ``level``: readings x columns.

        Farther off than ``FAR`` each doubling of the level counts as one more: such a reading is wrong, and by
        how much says little.  A scatter that grows with the level would else let one wrong reading of 8 mg/L
        pull harder the lower the level is.
        """
        low, high = self._far
        place = np.log(np.maximum(level, LEAST))
        held = self._near(np.exp(np.clip(place, low[:, None], high[:, None])))
        under, over = np.minimum(place - low[:, None], 0.0), np.maximum(place - high[:, None], 0.0)
        return held + (under + over) / log(2.0)

    def spread(self, level: np.ndarray) -> np.ndarray:
        """Standard deviation that step and scatter have together; ``level``: one for each reading."""
        width = np.where(np.isfinite(self.high), self.high - self.low, 0.0)
        return reading_error.__wrapped__(width, self.scatter(level[:, None])[:, 0])

    def information(self, level: np.ndarray) -> np.ndarray:
        """What each reading tells of the logarithm of a level: one over the square of what it leaves open.

        ``level``: one for each reading.  A colour between two others counts with ``spread``; the lowest and
        the highest, open to one side, tell little away from their edge.
        """
        step = 1e-4
        near, far = (self.residuals((level * np.exp(h))[:, None])[:, 0] for h in (step, -step))
        return np.where(
            self.closed, (level / self.spread(level)) ** 2, ((near - far) / (2.0 * step)) ** 2
        )
