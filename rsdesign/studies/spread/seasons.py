"""What the weather allows in a year to fish that grow slower or faster: ``growing`` for many draws.

The water of the year is that of the design; only the growth of the fish varies.
"""

import numpy as np

from ...equations.fish import growth
from ...sizing.system import Sizing
from ..fishyear import DAYS, Allowed
from ..growing import START_UP
from ..heat.season import YEAR
from ..heat.yearly import Weathered


def allowed_by(sizing: Sizing, found: Weathered, rate: np.ndarray) -> Allowed | None:
    """The season of a design for a row of growth coefficients; None where no weather decides.

    Parameters:
        sizing: of one design.
        found: what ``heat.yearly.weathered`` gives of it.
        rate: growth coefficients, a row.
    Returns: ``Allowed`` with a row in each figure.
    """
    if found.allowed is None or found.warmth is None:
        return None
    needed = _needed(sizing, rate)
    if found.run is None:
        return _all_year(sizing, found.warmth, needed)
    return _one_season(sizing, found.run.places, found.warmth, needed, rate)


def _needed(sizing: Sizing, rate: np.ndarray) -> np.ndarray:
    """Degree-days over the temperature where growth starts, from stocking to harvest size."""
    design, base = sizing.design, sizing.tables.species.base_temperature
    return growth.days_to.__wrapped__(
        design.stock.stocking_weight, design.goal.weight, base + 1.0, rate, base
    )


def _all_year(sizing: Sizing, warmth: np.ndarray, needed: np.ndarray) -> Allowed:
    plan, told = sizing.stock, sizing.design.stock
    cycle = needed / float(warmth.sum()) * YEAR
    if told.interval is None:
        batches = DAYS / (cycle + told.rest)
    else:
        batches = np.minimum(DAYS / plan.interval, float(plan.cohorts) * DAYS / cycle)
    return Allowed(
        batches, sizing.design.goal.weight, cycle,
        sizing.tables.species.base_temperature + float(warmth.mean()), DAYS,
    )  # fmt: skip


def _one_season(sizing: Sizing, places, warmth: np.ndarray, needed: np.ndarray, rate) -> Allowed:
    base = sizing.tables.species.base_temperature
    gathered = np.concatenate([[0.0], np.cumsum(warmth[places])])
    days = float(len(places))
    count, first, last = _batches(sizing, gathered, needed)
    ripe = count > 0
    cycle = np.where(ripe, first, days)
    warm = np.where(ripe, needed / np.where(ripe, first, 1.0), gathered[-1] / days)
    grown = growth.weight_after.__wrapped__(
        sizing.design.stock.stocking_weight, days, base + gathered[-1] / days, rate, base
    )
    return Allowed(
        batches=np.maximum(count, 1.0),
        weight=np.where(ripe, sizing.design.goal.weight, grown),
        cycle=cycle,
        temperature=base + warm,
        running=np.minimum(np.where(ripe, last, days) + START_UP, DAYS),
    )


def _batches(sizing: Sizing, gathered: np.ndarray, needed: np.ndarray):
    """Batches that come to size, the length of the first and the day of the last, for each draw."""
    plan = sizing.design.stock
    tanks, gap, rest = 1, 0, int(np.ceil(plan.rest))
    if plan.interval is not None:
        tanks, gap, rest = (
            int(np.ceil(float(sizing.stock.cohorts) - 1e-9)),
            int(np.ceil(plan.interval)),
            0,
        )
    rows, size = np.arange(needed.size), gathered.size
    free = np.zeros((needed.size, tanks), int)
    start, count, first, last = (np.zeros(needed.size, int) for _ in range(4))
    going = np.ones(needed.size, bool)
    while going.any():
        place = free.argmin(axis=1)
        start = np.maximum(start, free[rows, place])
        going &= start < size
        reached = gathered[np.minimum(start, size - 1)] + needed - 1e-9
        end = np.searchsorted(gathered, reached)
        going &= end < size
        first = np.where(going & (count == 0), end - start, first)
        last = np.where(going, end, last)
        count = count + going
        free[rows[going], place[going]] = end[going] + rest
        start = start + gap
    return count.astype(float), first.astype(float), last.astype(float)
