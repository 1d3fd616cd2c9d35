"""Batches: how many fish, what they weigh and eat, how many at once."""

import numpy as np

from ...core import kinds
from ...core.arrays import ceil, least, most, power, ratio
from ...core.equation import definition, equation

A_DAY = 86400.0  # units of the source
A_WEEK = 7.0


@definition("n", "definition of survival", example="fish_to_stock(380.0, 0.95) == 400.0")
def fish_to_stock(fish: kinds.Count, survival: kinds.Fraction) -> kinds.Count:
    """Fingerlings that leave so many fish at harvest."""
    return fish / survival


@definition(
    "n",
    "conservation of fish",
    valid="batches of one size",
    example="round(fish_per_batch(1.0 / 86400, 50.0, 0.5)) == 100",
)
def fish_per_batch(
    harvest: kinds.HarvestRate, interval: kinds.Days, harvest_weight: kinds.FishWeight
) -> kinds.Count:
    """Fish in each batch for a harvest rate."""
    return harvest * A_DAY * interval / harvest_weight


@definition(
    "n",
    "the same share dies every day",
    valid="any age up to harvest",
    basis="common practice",
    example="round(surviving(100.0, 0.81, 50.0, 100.0), 6) == 90.0",
)
def surviving(
    stocked: kinds.Count, survival: kinds.Fraction, age: kinds.Days, cycle: kinds.Days
) -> kinds.Count:
    """Fish alive at an age."""
    return stocked * power(survival, age / cycle)


@definition("B", example="biomass(100.0, 0.5) == 50.0")
def biomass(number: kinds.Count, weight: kinds.FishWeight) -> kinds.Mass:
    """Weight of so many fish."""
    return number * weight


@definition("F", "definition of feed conversion", example="feed_for_gain(100.0, 0.5, 1.5) == 75.0")
def feed_for_gain(
    number: kinds.Count, gain: kinds.FeedRate, feed_conversion: kinds.Ratio
) -> kinds.FeedRate:
    """Feed of so many fish that each gain so much."""
    return number * gain * feed_conversion


@definition("F", example="ration_feed(100.0, 0.25) == 25.0")
def ration_feed(biomass: kinds.Mass, ration: kinds.RatePerTime) -> kinds.FeedRate:
    """Feed by weight of fish."""
    return biomass * ration


@definition("r", example="implied_ration(25.0, 100.0) == 0.25")
def implied_ration(feed: kinds.FeedRate, biomass: kinds.Mass) -> kinds.RatePerTime:
    """Feed as a share of the weight of fish."""
    return ratio(feed, biomass)


@definition("n", example="cohorts(197.0, 42.0) == 5.0")
def cohorts(cycle: kinds.Days, interval: kinds.Days) -> kinds.Count:
    """Batches that grow at once."""
    return most(1.0, ceil(cycle / interval - 1e-9))


@definition("F", valid="a plan in steady state", example="round(mean_feed(86400.0, 2.0), 6) == 0.5")
def mean_feed(feed_per_batch: kinds.Mass, interval: kinds.Days) -> kinds.FeedRate:
    """Feed on the mean day."""
    return feed_per_batch / (A_DAY * interval)


@equation(
    latex=r"r = r\left(W\right)",
    source="feeding table, linear between its sizes",
    valid="the sizes of the table",
    basis="from memory",
)
def table_ration(
    weight: kinds.FishWeight, sizes: kinds.FishWeight, rates: kinds.RatePerTime
) -> kinds.RatePerTime:
    """Feed as a share of weight, from a feeding table.

    ``weight``: float or array; ``sizes`` and ``rates``: the table, sizes rising.

    >>> round(float(table_ration(0.35, np.array([0.25, 0.45]), np.array([0.03, 0.01]))), 3)
    0.02
    """
    found = np.interp(weight, sizes, rates)
    return float(found) if np.ndim(found) == 0 else found


@definition(
    "r",
    "fish eat less as the water cools, down to nothing where feeding stops",
    valid="from where feeding stops to the best temperature, a straight line",
    basis="common practice",
    example="ration_at(0.02, 25.0, 20.0, 30.0) == 0.01",
)
def ration_at(
    ration: kinds.RatePerTime,
    temperature: kinds.Temperature,
    feeding_low: kinds.Temperature,
    best_low: kinds.Temperature,
) -> kinds.RatePerTime:
    """Ration of a table, made for the best temperature, in cooler water."""
    warmth = most(0.0, temperature - feeding_low) / (best_low - feeding_low)
    return ration * least(1.0, warmth)


@equation(
    latex=r"W = W\left(t\right)",
    source="stage table, linear in the logarithm of the weight",
    valid="the days of the table",
    basis="from memory",
)
def weight_from_stages(
    days: kinds.Days, stage_days: kinds.Days, stage_weights: kinds.FishWeight
) -> kinds.FishWeight:
    """Weight of a fish after so many days, from a table of stages.

    ``days``: float or array; ``stage_days`` and ``stage_weights``: the table, days rising.

    >>> round(float(weight_from_stages(15.0, np.array([0.0, 30.0]), np.array([0.001, 0.1]))), 4)
    0.01
    """
    found = np.exp(np.interp(days, stage_days, np.log(stage_weights)))
    return float(found) if np.ndim(found) == 0 else found
