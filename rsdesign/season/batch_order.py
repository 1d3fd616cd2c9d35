"""One order for all papers: when a batch is stocked and harvested, and what ends its season.

Where the weather decides and cold or heat kills those that are left, a batch has the days in a row on which
the fish grow; the year of the design counts the same days (``studies.growing``).
"""

import datetime
from dataclasses import dataclass

import numpy as np

from ..equations.fish import growth
from ..sizing.system import Sizing
from ..studies.growing import rate_of, warmth_needed
from ..studies.heat.season import YEAR
from ..studies.heat.yearly import WEATHER, weathered
from .growing_season import first_day


@dataclass(frozen=True, slots=True)
class Order:
    """When a batch is stocked and harvested.

    ``first`` and ``last``: days of the year between which the water suits the fish; None where it is kept warm or
    where they live all year.  ``days`` from stocking to harvest, ``weight`` of a fish then [kg], ``every``: days to
    the next batch, ``ends``: what kills those left, "cold", "heat" or "".
    """

    first: int | None
    last: int | None
    days: int
    weight: float
    every: float
    ends: str
    suits: bool = True
    """Whether the water suits the fish on the day of stocking that was told."""
    starts: tuple[int, ...] = (0,)
    """Days of the stockings of a year, counted from the first, where the season ends."""

    def days_on(self, date: datetime.date | None) -> int:
        """Days to add to the day of stocking: a season counts that day as day 1, so its last date is one less."""
        return self.days - 1 if self.closes and date is not None else self.days

    @property
    def closes(self) -> bool:
        """Whether a season ends the batch, stocked while the water suits the fish."""
        return bool(self.ends) and self.suits


def order_of(sizing: Sizing, start: datetime.date | str | int | None = None) -> Order:
    """The order of one design.

    ``start``: the day of stocking as ``season.growout`` takes it; None is the first day of the season.
    """
    found, stock = weathered(sizing), sizing.stock
    weight = float(sizing.design.goal.weight)
    if found.basis != WEATHER or found.run is None or found.warmth is None:
        return Order(None, None, round(float(stock.cycle)), weight, float(stock.interval), "")
    run = found.run
    first, last = run.first + 1, (run.first + run.days - 1) % YEAR + 1
    ends = "heat" if found.winter else "cold"
    place = 0 if start is None else (_day_of_year(start, sizing) - first) % YEAR
    if place >= run.days:
        return Order(
            first, last, round(float(stock.cycle)), weight, float(stock.interval), ends, False
        )
    days, weight = _grown(sizing, found.warmth[run.places[place:]])
    starts: tuple[int, ...] = (0,)
    if place == 0 and found.allowed is not None:
        starts = tuple(round(day) for day in found.allowed.starts)
    return Order(first, last, days, weight, float(YEAR), ends, True, starts)


def _day_of_year(start: datetime.date | str | int, sizing: Sizing) -> int:
    """A day of stocking as a day of the year."""
    day = first_day(start, None, sizing)
    return day if isinstance(day, int) else min(day.timetuple().tm_yday, YEAR)


def day_that_suits(sizing: Sizing, date: datetime.date | None) -> datetime.date | None:
    """The told day of stocking, or the next first day of the season where the water does not suit the fish on it.

    ``date``: the day told; None stays None.
    """
    if date is None:
        return None
    order = order_of(sizing, date)
    if order.suits or order.first is None:
        return date
    # In a year of 365 days, as its words have it: no 29 February is a first day.
    first = datetime.date(2027, 1, 1) + datetime.timedelta(days=order.first - 1)
    return next(day for day in (first.replace(year=date.year + n) for n in (0, 1)) if day > date)


def _grown(sizing: Sizing, warmth: np.ndarray) -> tuple[int, float]:
    """Days until the fish have their weight or the season ends, and their weight then [kg]."""
    plan, base = sizing.design.stock, sizing.tables.species.base_temperature
    gathered = np.cumsum(warmth)
    reached = np.flatnonzero(gathered >= warmth_needed(sizing) - 1e-9)
    if reached.size:
        return int(reached[0]) + 1, float(sizing.design.goal.weight)
    days = int(gathered.size)
    mean = base + float(gathered[-1]) / days
    grown = growth.weight_after.__wrapped__(
        plan.stocking_weight, float(days), mean, rate_of(sizing), base
    )
    return days, float(grown)


def days_to_follow(sizing: Sizing, start: datetime.date | str | int | None = None) -> int:
    """Days of a season that are told: to the harvest where cold or heat ends it, else a year."""
    order = order_of(sizing, start)
    return order.days if order.closes else YEAR
