"""How many batches a year's weather allows in water that is not heated, and how large they get.

Fish that live through the winter grow on in the next spring, so their batches go on through the
years.  Fish that the cold kills have one season: batches follow each other while it lasts, and one
that cannot reach its size is not begun, unless it is the first.
"""

import numpy as np

from ..core.kinds import Number
from ..equations.fish import growth
from ..sizing.system import Sizing
from .enterprise import DAYS, Allowed
from .heat.season import YEAR, Run

START_UP = 42.0
"""Days in which a filter is started before fish come; four to eight weeks, common practice."""


def warmth_needed(sizing: Sizing) -> float:
    """Degree-days over the temperature where growth starts, from stocking to harvest size."""
    plan, kind = sizing.design.stock, sizing.tables.species
    base = kind.base_temperature
    return growth.days_to.__wrapped__(
        plan.stocking_weight, sizing.design.goal.weight, base + 1.0, rate_of(sizing), base
    )


def rate_of(sizing: Sizing) -> Number:
    """The growth coefficient: that of the design, else of the species."""
    told = sizing.design.stock.growth_coefficient
    return sizing.tables.species.growth_coefficient if told is None else told


def all_year(sizing: Sizing, warmth: np.ndarray) -> Allowed:
    """Batches that go on through the years; ``warmth``: degrees of growth of each day of a year."""
    plan, kind = sizing.stock, sizing.tables.species
    cycle = warmth_needed(sizing) / float(warmth.sum()) * YEAR
    if sizing.design.stock.interval is None:
        batches = DAYS / (cycle + sizing.design.stock.rest)
    else:  # no more than the plan stocks, and no more than its tanks can grow
        batches = min(DAYS / plan.interval, float(plan.cohorts) * DAYS / cycle)
    return Allowed(
        batches=float(batches),
        weight=float(sizing.design.goal.weight),
        cycle=float(cycle),
        temperature=float(kind.base_temperature + warmth.mean()),
        running=DAYS,
    )


def one_season(sizing: Sizing, run: Run, warmth: np.ndarray) -> Allowed:
    """Batches within the days of one run; ``warmth`` as in ``all_year``."""
    plan, kind = sizing.design.stock, sizing.tables.species
    gathered = np.concatenate([[0.0], np.cumsum(warmth[run.places])])
    needed = warmth_needed(sizing)
    starts, ends = _batches(sizing, gathered, needed)
    if ends:
        batches, weight, cycle = len(ends), sizing.design.goal.weight, ends[0] - starts[0]
        warm, last = needed / cycle, ends[-1]
    else:
        starts, batches, cycle = [0], 1, run.days
        warm, last = gathered[-1] / run.days, run.days
        weight = growth.weight_after.__wrapped__(
            plan.stocking_weight, float(run.days), kind.base_temperature + warm, rate_of(sizing),
            kind.base_temperature,
        )  # fmt: skip
    return Allowed(
        batches=float(batches),
        weight=float(weight),
        cycle=float(cycle),
        temperature=float(kind.base_temperature + warm),
        running=float(min(last + START_UP, DAYS)),
        starts=tuple(float(day) for day in starts),
    )


def _batches(sizing: Sizing, gathered: np.ndarray, needed: float) -> tuple[list, list]:
    """Days of the stockings and harvests that come to size, each in the tanks that are free first."""
    plan = sizing.design.stock
    turns = plan.interval is not None
    free = [0] * (int(np.ceil(float(sizing.stock.cohorts) - 1e-9)) if turns else 1)
    gap = 0 if plan.interval is None else int(np.ceil(plan.interval))
    starts: list[int] = []
    ends: list[int] = []
    start = 0
    while True:
        place = int(np.argmin(free))
        start = max(start, free[place])
        if start >= gathered.size:
            return starts, ends
        ready = np.flatnonzero(gathered >= gathered[start] + needed - 1e-9)
        if not ready.size:
            return starts, ends
        end = int(ready[0])
        starts.append(start)
        ends.append(end)
        free[place] = end if turns else end + int(np.ceil(plan.rest))
        start += gap
