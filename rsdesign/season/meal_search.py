"""Meals whose worst hour is best: every set of hours tried, on the balance that meals add up in."""

import itertools

import numpy as np

from ..core.choices import DesignError
from ..equations.fish.meals import response_of
from . import daily_cycle as cycle
from .feeding import day_of
from .meal_times import clock

FIRST, LAST = 6.0, 20.0
"""Hours between which a grower feeds by hand (common practice)."""

SLOT = 0.5
"""Hours from one start of a meal that is tried to the next."""

MOST_TRIED = 200_000
"""Sets of meals tried; more meals are moved one at a time until none is better."""


def best_meals(design, count: int, first: float = FIRST, last: float = LAST) -> tuple[float, ...]:
    """Hours of so many equal meals whose lowest oxygen of the day is highest.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        count: number of meals, 1 to 12.
        first: earliest hour of a meal.
        last: latest hour of a meal.
    Returns: the hours after midnight, on half hours.
    Raises: ``DesignError`` with one sentence.

    >>> from rsdesign import load
    >>> len(best_meals(load("family"), 3))
    3
    """
    if count != int(count) or not 1 <= count <= 12:
        raise DesignError(f"{count} meals a day cannot be placed; give 1 to 12.")
    if not 0.0 <= first < last <= 23.5:
        raise DesignError("Meals lie between two hours from 0 to 23.5, the first one earlier.")
    slots = np.arange(np.ceil(first / SLOT) * SLOT, last + 1e-9, SLOT)
    if len(slots) < count:
        raise DesignError(f"{count} meals do not fit between {clock(first)} and {clock(last)}.")
    low = _lows(design, slots)
    ways = _ways(len(slots), int(count))
    if ways <= MOST_TRIED:
        sets = np.array(list(itertools.combinations(range(len(slots)), int(count))))
        best = sets[int(np.argmin(_depths(low, sets)))]
    else:
        best = _moved(low, int(count))
    return tuple(float(h) for h in slots[np.sort(best)])


def _ways(slots: int, count: int) -> int:
    found = 1
    for k in range(count):
        found = found * (slots - k) // (k + 1)
    return found


def _lows(design, slots) -> np.ndarray:
    """How far one meal at each slot, the whole feed in it, pulls the oxygen down: slots × steps.

    The balance is linear, so meals add up; what is the same for all meals is left out.
    """
    day, _, _ = day_of(design, [float(slots[0])])
    lag = response_of("oxygen").lag
    pattern = cycle.meal_pattern(slots[:, None], np.ones((len(slots), 1)), lag)
    tank = day.tank
    rate = float(tank.conductance) / float(tank.volume)
    base, _, _ = day_of(design, [float(h) for h in cycle.hours_of()])
    rest = base.fish[0] / base.fish[0].mean()
    meal = 1.0 - float(day.sizing.design.safety.resting)
    use = rest + meal * (pattern - 1.0)
    return cycle.ring(use, np.full(use.shape, rate)).start


def _depths(low: np.ndarray, sets: np.ndarray) -> np.ndarray:
    """Deepest of the day for each set of meals, in blocks that stay small."""
    return np.concatenate(
        [low[sets[k : k + 5000]].mean(axis=1).max(axis=1) for k in range(0, len(sets), 5000)]
    )


def _moved(low: np.ndarray, count: int) -> np.ndarray:
    """Meals spread evenly, then moved one at a time until no move is better."""
    slots = len(low)
    best = np.linspace(0, slots - 1, count).round().astype(int)
    deep = float(_depths(low, best[None, :])[0])
    while True:
        tries = np.array([[*np.delete(best, k), slot] for k in range(count)
                          for slot in range(slots) if slot not in best])  # fmt: skip
        if not len(tries):
            return best
        found = _depths(low, tries)
        if float(found.min()) >= deep - 1e-15:
            return best
        best, deep = tries[int(found.argmin())], float(found.min())
