"""A stocking plan week by week: numbers, weights, biomass and feed of every batch."""

import math
from dataclasses import dataclass

import numpy as np

from . import batches, growth, peaks

A_WEEK = 7.0


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A stocking plan week by week; a row of each 2-D array is a batch, a column a week."""

    week: np.ndarray
    number: np.ndarray
    weight: np.ndarray
    biomass: np.ndarray
    feed: np.ndarray
    cycle: float
    cohorts: int
    to_stock: float
    peak_feed: float
    peak_tank_feed: float
    mean_feed: float
    peak_biomass: float
    first_sale: float
    fingerlings_per_year: float

    def rows(self) -> list[dict]:
        """The plan as rows for a table: one for each batch and week in which it has fish."""
        return [
            {"week": float(self.week[w]), "batch": b + 1, "number": self.number[b, w],
             "weight": self.weight[b, w], "biomass": self.biomass[b, w], "feed": self.feed[b, w]}
            for b in range(self.number.shape[0])
            for w in range(self.week.size)
            if self.number[b, w] > 0
        ]  # fmt: skip


def plan(
    fish,
    weight,
    harvest,
    weeks=None,
    temperature=28.0,
    growth_coefficient=2.4,
    base_temperature=18.3,
    survival=0.95,
    feed_conversion=1.6,
    tanks=None,
    total_weeks=None,
) -> Plan:
    """A plan from its numbers: ``fish`` harvested from each batch, stocked at ``weight`` [kg]
    and harvested at ``harvest`` [kg], a new batch every ``weeks`` (None: one batch).

    Every week is looked at on its last day, and a batch on the day before it is harvested.

    >>> round(plan(451, 0.05, 0.567).peak_feed * 86400, 2)
    3.45
    """
    args = (temperature, growth_coefficient, base_temperature)
    cycle = float(growth.days_to(weight, harvest, *args))
    interval = cycle if weeks is None else A_WEEK * weeks
    stocked = float(batches.fish_to_stock(fish, survival))
    at_once = int(batches.cohorts(cycle, interval))
    started = 1 if weeks is None else at_once + math.ceil(cycle / interval) + 1
    length = total_weeks or math.ceil((cycle + (started - 1) * interval) / A_WEEK)
    days = np.unique(
        [*(A_WEEK * np.arange(1, length + 1)), *(cycle + interval * np.arange(started))]
    )
    days = days[days <= A_WEEK * length + 1e-9]
    age = days[None, :] - interval * np.arange(started)[:, None]
    here = (age >= 0) & (age <= cycle * (1 + 1e-12))
    inside = np.clip(age, 0.0, cycle)
    number = np.where(here, batches.surviving(stocked, survival, inside, cycle), 0.0)
    grown = np.where(here, growth.weight_after(weight, inside, *args), 0.0)
    feed = np.where(
        here, batches.feed_for_gain(number, growth.gain(grown, *args), feed_conversion), 0.0
    )
    whole = peaks.feed_per_batch(stocked, weight, *args, cycle, survival, feed_conversion)
    each = 1.0 if tanks is None else max(1.0, tanks / at_once)
    return Plan(
        week=days / A_WEEK,
        number=number,
        weight=grown,
        biomass=number * grown,
        feed=feed,
        cycle=cycle,
        cohorts=at_once,
        to_stock=stocked,
        peak_feed=float(feed.sum(axis=0).max()),
        peak_tank_feed=float(feed.max()) / each,
        mean_feed=float(batches.mean_feed(whole, interval)),
        peak_biomass=float((number * grown).sum(axis=0).max()),
        first_sale=cycle,
        fingerlings_per_year=stocked * 365.25 / interval,  # units of the source
    )
