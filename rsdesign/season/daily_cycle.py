"""A day of feeding that repeats itself: oxygen, ammonia, carbon dioxide and pH step by step.

Between two steps of constant load a mixed tank has a closed form, so a day that repeats closes into a
ring of linear steps, solved for all designs in one call: numbers along the last axis are the steps of
the day, those along the first are designs.  The mean of every level that its balance is linear in is
then that of the sizing, to the last bits; the ammonia in a filter that is not linear is found by
Newton's method on the ring, and what is fed, taken and stored closes.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..equations.fish import meals as relations
from ..equations.power import backup

DAY = 86400.0
STEPS = 96
"""Steps of a day, a quarter of an hour each; a test compares them with steps of a minute."""

ROUNDS = 60
"""Most rounds of a search on the ring; a filter that has room to spare needs five."""

SETTLED = 1e-11
"""Relative change of a level at which a ring has settled."""

SMALL = 1e-4
"""Below this a quotient is taken by its series, which is then exact to the last bits."""


@dataclass(frozen=True, slots=True, eq=False)
class Ring:
    """Levels of a day that repeats: at the start of each step, and the mean of each step."""

    start: np.ndarray
    mean: np.ndarray


def _kept(x):
    """exp(-x), the mean of exp(-x s) for s from 0 to 1, and what the next order leaves."""
    safe = np.where(x < SMALL, 1.0, x)
    kept = np.exp(-x)
    first = np.where(x < SMALL, 1.0 - x / 2.0 + x * x / 6.0, -np.expm1(-safe) / safe)
    second = np.where(x < SMALL, 0.5 - x / 6.0 + x * x / 24.0, (1.0 - first) / safe)
    return kept, first, second


def ring(gain, rate, step: float = DAY / STEPS) -> Ring:
    """The day that repeats of dC/dt = gain - rate * C, exact for steps of constant gain and rate.

    Parameters:
        gain: what comes in for each volume [kg/(m³ s)], designs × steps.
        rate: what share leaves in a time [1/s], of the same shape.
        step: length of a step [s].
    Returns: ``Ring`` [kg/m³]; infinite where nothing ever leaves.

    >>> found = ring(np.full((1, 96), 2.0), np.full((1, 96), 0.5))
    >>> bool(np.allclose(found.start, 4.0) and np.allclose(found.mean, 4.0))
    True
    """
    gain, rate = np.broadcast_arrays(np.asarray(gain, float), np.asarray(rate, float))
    kept, first, second = _kept(rate * step)
    left = -np.expm1(-(rate * step).sum(axis=-1))
    with np.errstate(all="ignore"):
        start = _around(kept, gain * step * first, left)
        return Ring(start, start * first + gain * step * second)


def _around(carry, add, left) -> np.ndarray:
    """Levels with C[k + 1] = carry[k] C[k] + add[k], the last before the first."""
    one = carry.shape[0] == 1  # plain numbers are quicker than arrays of one
    rows = [(v[0].tolist() if one else v.T.copy()) for v in (carry, add)]
    total = 0.0 if one else np.zeros(carry.shape[0])
    for kept, more in zip(*rows, strict=True):
        total = kept * total + more
    now, found = total / (left[0] if one else left), []
    now = float(now) if one else now
    for kept, more in zip(*rows, strict=True):
        found.append(now)
        now = kept * now + more
    return np.array([found]) if one else np.stack(found, axis=-1)


def breathing_ring(brought, use, conductance, critical, step: float = DAY / STEPS) -> Ring:
    """Oxygen of a day that repeats; below ``critical`` fish take less, in proportion.

    Parameters:
        brought: what air and surface bring to water without oxygen [kg/(m³ s)], designs × steps.
        use: what breathes takes [kg/(m³ s)].
        conductance: what is brought less for each unit of oxygen in the water [1/s].
        critical: oxygen below which fish can no longer take all they want [kg/m³], designs × 1.
        step: length of a step [s].
    Returns: ``Ring`` [kg/m³], never below zero.
    """
    brought, use, conductance = np.broadcast_arrays(brought, use, conductance)
    found = ring(brought - use, conductance, step)
    critical = np.broadcast_to(critical, (*brought.shape[:-1], 1))
    lacking = ~(found.start >= critical).all(axis=-1)
    if not lacking.any():
        return found
    start, mean = found.start.copy(), found.mean.copy()
    low = _lacking_ring(
        brought[lacking], use[lacking], conductance[lacking], critical[lacking], step
    )
    start[lacking], mean[lacking] = low.start, low.mean
    return Ring(start, mean)


def _lacking_ring(brought, use, conductance, critical, step: float) -> Ring:
    """The same where oxygen comes below ``critical``: a day is run until it repeats.

    A day maps the oxygen at midnight to that of the next midnight and draws levels together, so a
    secant on the difference settles in a few days.
    """
    edge = critical[:, 0]

    def day(level, keep=None):
        for k in range(brought.shape[-1]):
            if keep is not None:
                keep[:, k] = level
            upper, lower = backup.terms(use[:, k], edge, conductance[:, k], brought[:, k])
            level = backup.advance(step, level, edge, upper, lower)
        return level

    with np.errstate(all="ignore"):
        level = 0.5 * edge
        after = day(level)
        slope = np.zeros(edge.shape)
        for _ in range(ROUNDS):
            trial = np.maximum(level + (after - level) / (1.0 - slope), 0.0)
            if np.all(np.abs(trial - level) <= SETTLED * edge):
                break
            then = day(trial)
            moved = trial - level
            slope = np.where(
                moved != 0.0, (then - after) / np.where(moved != 0.0, moved, 1.0), slope
            )
            slope = np.clip(slope, 0.0, 0.999)
            level, after = trial, then
        start = np.empty(brought.shape)
        day(level, start)
    following = np.roll(start, -1, axis=-1)
    return Ring(start, 0.5 * (start + following))


NODES = np.linspace(-4.5, 2.5, 141)
"""Levels at which a filter is asked what it takes, as logarithms over the level of a steady day."""
AT_REST = 90
"""Place of the steady level among them."""
AGREES = 0.02
"""Most that two integrals along a filter in plug flow may differ; 0.1 % was seen, at kinks of the rate."""


class Uptake:
    """What a filter takes at any level: asked once at many levels, between them by cubics that rise.

    The steady level is one of them, so that a day fed evenly keeps it to the last bits.
    """

    def __init__(self, taken: Callable, steady, at_rest=None):
        """``taken``: of levels, designs × nodes; ``steady``: the level of a steady day, designs × 1.

        ``at_rest``: what the filter takes at that level, as the sizing integrates it along the bed.
        """
        self.steady = np.maximum(steady, 1e-12)
        self.known = np.maximum(taken(self.steady * np.exp(NODES)), 0.0)
        if at_rest is not None:
            here = self.known[:, AT_REST : AT_REST + 1]
            part = np.where(here > 0.0, at_rest / np.where(here > 0.0, here, 1.0), 1.0)
            self.known = self.known * np.where(np.abs(part - 1.0) < AGREES, part, 1.0)
        self.width = NODES[1] - NODES[0]
        rise = np.diff(self.known, axis=-1) / self.width
        inner = 0.5 * (rise[:, 1:] + rise[:, :-1])
        inner = np.clip(inner, 0.0, 3.0 * np.minimum(rise[:, 1:], rise[:, :-1]).clip(0.0))
        self.slope = np.concatenate([rise[:, :1], inner, rise[:, -1:]], axis=-1)

    def at(self, level):
        """What it takes, and by how much more for each unit of level; designs × steps."""
        place = np.log(level / self.steady)
        inside = np.clip(place, NODES[0], NODES[-1])
        cell = np.minimum((inside - NODES[0]) / self.width, len(NODES) - 2).astype(int)
        t = (inside - NODES[0]) / self.width - cell
        y0, y1, m0, m1 = (
            np.take_along_axis(v, cell + k, axis=-1)
            for v, k in ((self.known, 0), (self.known, 1), (self.slope, 0), (self.slope, 1))
        )
        m0, m1 = m0 * self.width, m1 * self.width
        bend, turn = y1 - y0, m0 + m1
        takes = y0 + t * (m0 + t * (3.0 * bend - m0 - turn + t * (turn - 2.0 * bend)))
        rise = m0 + t * (2.0 * (3.0 * bend - m0 - turn) + 3.0 * t * (turn - 2.0 * bend))
        below = np.exp(np.minimum(place - NODES[0], 0.0))  # in proportion to the level
        within = place < NODES[-1]
        bend = np.where(below < 1.0, takes, np.where(within, rise / self.width, 0.0))
        return takes * below, np.maximum(bend * below, 0.0) / level


def filtered_ring(
    load, taken: Callable, leaving, steady, step: float = DAY / STEPS, at_rest=None
) -> tuple[Ring, np.ndarray]:
    """Ammonia of a day that repeats in a tank whose filter takes more where there is more.

    Each step takes what the filter takes at the step's mean level, so what comes, goes and stays
    closes in every step.

    Parameters:
        load: what comes in for each volume [kg/(m³ s)], designs × steps.
        taken: gives what the filter takes [kg/(m³ s)] of levels [kg/m³], designs × levels; rising.
        leaving: share of the water that is let out in a time [1/s], designs × 1.
        steady: the level of a steady day [kg/m³], designs × 1.
        step: length of a step [s].
        at_rest: what the filter takes at the steady level, where the sizing has it [kg/(m³ s)].
    Returns: ``Ring`` [kg/m³], and what the filter takes in each step [kg/(m³ s)]; not a number where
        no day repeats itself, because the filter and the old water take less than comes in.
    """
    load, leaving = np.broadcast_arrays(np.asarray(load, float), leaving)
    steady = np.broadcast_to(steady, (load.shape[0], 1))
    middle = np.broadcast_to(np.maximum(steady, 1e-12), load.shape).astype(float)
    calm = np.zeros(load.shape[0], bool)
    with np.errstate(all="ignore"):
        uptake = Uptake(taken, steady, at_rest)
        for turn in range(ROUNDS):
            takes, bend = uptake.at(middle)
            if (
                turn > ROUNDS // 3
            ):  # a kink between two levels: the chord settles where slopes do not
                bend = np.maximum(bend, takes / middle)
            found = ring(load - takes + bend * middle, bend + leaving, step)
            change = np.where(np.isfinite(found.mean), found.mean, middle)
            change = np.clip(change, 0.2 * middle, 5.0 * middle)
            calm = np.all(np.abs(change - middle) <= SETTLED * middle + 1e-18, axis=-1)
            middle = np.where(calm[:, None], middle, change)
            if calm.all():
                break
        takes, _ = uptake.at(middle)
        open_ = np.abs((load - takes - leaving * middle).mean(axis=-1))
        good = (calm | (open_ <= 1e-6 * load.mean(axis=-1)))[:, None]
        level = Ring(*(np.where(good, v, np.nan) for v in (found.start, middle)))
        return level, np.where(good, takes, np.nan)


def hours_of(steps: int = STEPS) -> np.ndarray:
    """Start of each step, hours after midnight.

    >>> hours_of(4).tolist()
    [0.0, 6.0, 12.0, 18.0]
    """
    return np.arange(steps) * (24.0 / steps)


def meal_pattern(meals, shares, lag, steps: int = STEPS) -> np.ndarray:
    """What meals bring in each step over the mean of the day, designs × steps; its mean is one.

    Parameters:
        meals: hours after midnight, designs × meals or one row for all.
        shares: share of the day's feed in each meal, of the same shape; their sum is one.
        lag: time from a meal to the peak of its response [s], designs × 1 × 1 or one number.
        steps: steps of the day.

    >>> meal_pattern([[8.0]], [[1.0]], 4 * 3600.0, 4).round(3).tolist()
    [[0.262, 1.134, 1.815, 0.789]]
    """
    meals, shares = (np.atleast_2d(np.asarray(v, float)) for v in (meals, shares))
    edges = np.arange(steps + 1) * (DAY / steps)
    since = np.mod(edges - 3600.0 * meals[..., None], DAY)
    given = relations.given_off.__wrapped__(since, lag)
    each = np.diff(given, axis=-1)
    each = np.where(np.diff(since, axis=-1) < 0.0, each + 1.0, each)
    each = np.maximum(each, 0.0)  # the last digits of a response that has died away
    return steps * (shares[..., None] * each).sum(axis=-2)


def light_pattern(light_factor, light, steps: int = STEPS) -> np.ndarray:
    """What resting fish use in each step over the mean of the day, designs × steps.

    Parameters:
        light_factor: what they use in the light over the dark, designs × 1 or one number.
        light: hours at which light comes and goes; the same hour twice is no change.
        steps: steps of the day.

    >>> light_pattern(2.0, (6.0, 18.0), 4).round(3).tolist()
    [0.667, 1.333, 1.333, 0.667]
    """
    on, off = (float(h) for h in light)
    edges = hours_of(steps)
    width = 24.0 / steps
    length = (off - on) % 24.0
    start = np.mod(edges - on, 24.0)
    lit = np.clip(length - start, 0.0, width) + np.clip(start + width - 24.0, 0.0, length)
    lit = lit / width
    dark = relations.dark_over_mean.__wrapped__(light_factor, length / 24.0)
    return dark * (1.0 + (light_factor - 1.0) * lit)


def use_pattern(base_share, light, meals) -> np.ndarray:
    """What fish use in each step over the mean of the day: at rest by light, the rest by meals."""
    return base_share * light + (1.0 - base_share) * meals
