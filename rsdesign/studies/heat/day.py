"""The day that repeats itself: water hour by hour under one day's weather, heated or not.

Each hour keeps the energy balance by the implicit midpoint rule: what the water stores is what
the flows at the hour's mean temperature, and the heater, bring.  All hours of all rows are solved
together, because a day that repeats closes into a ring: Newton's method on the ring, with the
hours at which a heater or a chiller works found as an active set.
"""

from dataclasses import dataclass

import numpy as np

from ...core.choices import DesignError

STEP = 3600.0
"""Seconds of one step; a test compares it with a sixth of it."""

NUDGE = 1e-4
"""Degrees by which the flows are probed for their slope."""

ROUNDS = 60
"""Most rounds; a day without a heater needs four or five."""

SETTLED = 1e-10
"""Degrees left in an hour's balance at which the day has settled."""


@dataclass(frozen=True, slots=True, eq=False)
class Day:
    """Water of a repeated day: rows × hours; ``heat`` is what the heater brings, chilling below 0."""

    start: np.ndarray
    end: np.ndarray
    middle: np.ndarray
    heat: np.ndarray
    rounds: int


UNSETTLED = (
    "The water does not settle in this weather; look at the tank's depth, its covers, and the watts"
    " of the pump."
)


@np.errstate(all="ignore")  # what runs off, as with megawatts on a small tank, does not settle
def repeated_day(net, capacity, guess, low=-np.inf, high=np.inf, step: float = STEP) -> Day:
    """Water temperature through a day that repeats itself.

    ``net``: a function of rows × hours of temperature [°C] that gives the heat flows [W];
    ``capacity`` [J/K], ``low`` and ``high`` [°C] for each row: a heater holds the water at or
    above ``low``, a chiller at or below ``high``.  ``guess`` starts the search.  Raises
    ``DesignError`` when the day does not settle.

    >>> day = repeated_day(lambda t: 10.0 * (20.0 - t), np.full((1, 1), 1e5), np.full((1, 24), 5.0))
    >>> bool(np.all(np.abs(day.middle - 20.0) < 1e-6))
    True
    """
    water = np.array(guess, float)
    pace = step / capacity
    cold = np.zeros(water.shape, bool)
    warm = np.zeros(water.shape, bool)
    low, high = (np.broadcast_to(v, water.shape) for v in (low, high))
    following = np.roll(water, -1, axis=-1)
    flow = net(0.5 * (water + following))
    for rounds in range(1, ROUNDS + 1):
        middle = 0.5 * (water + following)
        bend = 0.5 * pace * (net(middle + NUDGE) - flow) / NUDGE
        left = following - water - pace * flow
        held = cold | warm
        target = np.where(cold, low, high)
        carry = np.where(held, 0.0, (1.0 + bend) / (1.0 - bend))
        add = np.where(held, target - following, -left / (1.0 - bend))
        water = water + _around(carry, add)
        following = np.roll(water, -1, axis=-1)
        flow = net(0.5 * (water + following))
        left = following - water - pace * flow
        new_cold = np.where(cold, left > 0.0, following < low - SETTLED)
        new_warm = np.where(warm, left < 0.0, following > high + SETTLED)
        same = np.array_equal(new_cold, cold) and np.array_equal(new_warm, warm)
        cold, warm = new_cold, new_warm
        if same and np.all(np.abs(np.where(cold | warm, 0.0, left)) < SETTLED):
            heat = np.where(cold | warm, left / pace, 0.0)
            return Day(water, following, 0.5 * (water + following), heat, rounds)
    raise DesignError(UNSETTLED)


def _around(carry: np.ndarray, add: np.ndarray) -> np.ndarray:
    """The changes d of a ring with d[k + 1] = carry[k] d[k] + add[k], the last before the first."""
    hours = carry.shape[-1]
    product, total = np.ones(carry.shape[:-1]), np.zeros(carry.shape[:-1])
    for k in range(hours):
        total = carry[..., k] * total + add[..., k]
        product = product * carry[..., k]
    change = np.empty(carry.shape)
    now = total / (1.0 - product)
    for k in range(hours):
        change[..., k] = now
        now = carry[..., k] * now + add[..., k]
    return change


def at_rest(net, guess) -> np.ndarray:
    """Temperature at which a day's flows sum to zero, rows × 1: a tank too deep to swing.

    ``net`` as in ``repeated_day``.

    >>> float(at_rest(lambda t: 10.0 * (20.0 - t), np.zeros((1, 1)))[0, 0])
    20.0
    """
    water = np.array(guess, float)
    for _ in range(ROUNDS):
        flow = net(water).mean(axis=-1, keepdims=True)
        slope = (net(water + NUDGE).mean(axis=-1, keepdims=True) - flow) / NUDGE
        change = -flow / slope
        water = water + np.clip(change, -20.0, 20.0)
        if np.all(np.abs(change) < SETTLED):
            break
    return water
