"""Meals whose worst hour is best: every set of hours tried, on the balance that meals add up in."""

import itertools

import numpy as np

from ..core.choices import DesignError
from ..design.model import Design
from ..sizing.system import Sizing, size
from . import daily_cycle as cycle
from .fed_day import FedDay, fed_day
from .meal_times import clock

FIRST, LAST = 6.0, 20.0
"""Hours between which a grower feeds by hand (common practice)."""

SLOT = 0.5
"""Hours from one start of a meal that is tried to the next."""

MOST_TRIED = 200_000
"""Sets of meals tried; more meals are moved one at a time until none is better."""

SHORT_LIST = 60
"""Sets whose days are then computed in full, the best of them taken."""


def best_meals(design, count: int, first: float = FIRST, last: float = LAST) -> tuple[float, ...]:
    """Hours of so many equal meals whose lowest oxygen of the day is highest.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        count: number of meals [-], 1 to 12.
        first: earliest hour of a meal [h after midnight], 0 to 23.5.
        last: latest hour of a meal [h after midnight], 0 to 23.5.
    Returns: the hours after midnight, on half hours; of more than five meals one good set among many.
    Raises: ``DesignError`` with one sentence.
    Source: ``data/meal_responses.csv``, by ``feeding_day``; the set is found by trying.

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
    sizing = size(design) if isinstance(design, Design) else design
    low = _lows(sizing, slots)
    if _ways(len(slots), int(count)) <= MOST_TRIED:
        sets = np.array(list(itertools.combinations(range(len(slots)), int(count))))
        depths = _depths(low, sets)
        near = sets[np.argsort(depths, kind="stable")[:SHORT_LIST]]
    else:
        near = _moved(low, int(count))[None, :]
    hours = slots[np.sort(near, axis=-1)]
    best = hours[int(np.argmax(_days(sizing, hours).oxygen.start.min(axis=-1)))]
    return tuple(float(h) for h in best)


def _ways(slots: int, count: int) -> int:
    found = 1
    for k in range(count):
        found = found * (slots - k) // (k + 1)
    return found


def _days(sizing: Sizing, hours: np.ndarray) -> FedDay:
    """A day for each row of meals."""
    with np.errstate(all="ignore"):
        return fed_day(sizing, hours, np.full(hours.shape, 1.0 / hours.shape[1]))


def _lows(sizing: Sizing, slots) -> np.ndarray:
    """How far one meal at each slot, the whole feed in it, pulls the oxygen down: slots × steps.

    The balance of oxygen is linear, so meals add up, but for the bacteria of the filter, whose use
    follows the ammonia.
    """
    day = _days(sizing, slots[:, None])
    use = (day.fish + day.others) / float(day.tank.volume)
    rate = float(day.tank.conductance) / float(day.tank.volume)
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
