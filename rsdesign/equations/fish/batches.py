"""Batches: how many fish, what they weigh and eat, how many at once."""

import numpy as np

from ...core.arrays import ceil, least, most, power, ratio
from ...core.equation import equation
from ...core.kinds import (
    Count,
    Days,
    FeedRate,
    FishWeight,
    Fraction,
    HarvestRate,
    Mass,
    RatePerTime,
    Ratio,
    Temperature,
)

A_DAY = 86400.0  # units of the source
A_WEEK = 7.0


@equation(
    latex=r"n = \frac{@fish}{@survival}",
    source="definition of survival",
    valid="any",
    basis="derived",
)
def fish_to_stock(fish: Count, survival: Fraction) -> Count:
    """Fingerlings that leave so many fish at harvest.

    Floats or arrays that broadcast.

    >>> fish_to_stock(380.0, 0.95)
    400.0
    """
    return fish / survival


@equation(
    latex=r"n = \frac{@harvest \cdot 86400 \cdot @interval}{@harvest_weight}",
    source="conservation of fish",
    valid="batches of one size",
    basis="derived",
)
def fish_per_batch(harvest: HarvestRate, interval: Days, harvest_weight: FishWeight) -> Count:
    """Fish in each batch for a harvest rate.

    Floats or arrays that broadcast.

    >>> round(fish_per_batch(1.0 / 86400, 50.0, 0.5))
    100
    """
    return harvest * A_DAY * interval / harvest_weight


@equation(
    latex=r"n = @stocked \cdot @survival^{\frac{@age}{@cycle}}",
    source="the same share dies every day",
    valid="any age up to harvest",
    basis="common practice",
)
def surviving(stocked: Count, survival: Fraction, age: Days, cycle: Days) -> Count:
    """Fish alive at an age.

    Floats or arrays that broadcast.

    >>> round(surviving(100.0, 0.81, 50.0, 100.0), 6)
    90.0
    """
    return stocked * power(survival, age / cycle)


@equation(latex=r"B = @number \cdot @weight", source="definition", valid="any", basis="derived")
def biomass(number: Count, weight: FishWeight) -> Mass:
    """Weight of so many fish.

    Floats or arrays that broadcast.

    >>> biomass(100.0, 0.5)
    50.0
    """
    return number * weight


@equation(
    latex=r"F = @number \cdot @gain \cdot @feed_conversion",
    source="definition of feed conversion",
    valid="any",
    basis="derived",
)
def feed_for_gain(number: Count, gain: FeedRate, feed_conversion: Ratio) -> FeedRate:
    """Feed of so many fish that each gain so much.

    Floats or arrays that broadcast.

    >>> feed_for_gain(100.0, 0.5, 1.5)
    75.0
    """
    return number * gain * feed_conversion


@equation(latex=r"F = @biomass \cdot @ration", source="definition", valid="any", basis="derived")
def ration_feed(biomass: Mass, ration: RatePerTime) -> FeedRate:
    """Feed by weight of fish.

    Floats or arrays that broadcast.

    >>> ration_feed(100.0, 0.25)
    25.0
    """
    return biomass * ration


@equation(latex=r"r = \frac{@feed}{@biomass}", source="definition", valid="any", basis="derived")
def implied_ration(feed: FeedRate, biomass: Mass) -> RatePerTime:
    """Feed as a share of the weight of fish.

    Floats or arrays that broadcast.

    >>> implied_ration(25.0, 100.0)
    0.25
    """
    return ratio(feed, biomass)


@equation(
    latex=r"n = \lceil \frac{@cycle}{@interval} - 10^{-9} \rceil",
    source="definition",
    valid="any",
    basis="derived",
)
def cohorts(cycle: Days, interval: Days) -> Count:
    """Batches that grow at once.

    Floats or arrays that broadcast.

    >>> cohorts(197.0, 42.0)
    5.0
    """
    return most(1.0, ceil(cycle / interval - 1e-9))


@equation(
    latex=r"F = \frac{@feed_per_batch}{86400 \cdot @interval}", source="definition",
    valid="a plan at rest", basis="derived",
)  # fmt: skip
def mean_feed(feed_per_batch: Mass, interval: Days) -> FeedRate:
    """Feed on the mean day.

    Floats or arrays that broadcast.

    >>> round(mean_feed(86400.0, 2.0), 6)
    0.5
    """
    return feed_per_batch / (A_DAY * interval)


@equation(
    latex=r"r = r\left(W\right)", source="feeding table, linear between its sizes",
    valid="the sizes of the table", basis="from memory",
)  # fmt: skip
def table_ration(weight: FishWeight, sizes: FishWeight, rates: RatePerTime) -> RatePerTime:
    """Feed as a share of weight, from a feeding table.

    ``weight``: float or array; ``sizes`` and ``rates``: the table, sizes rising.

    >>> round(float(table_ration(0.35, np.array([0.25, 0.45]), np.array([0.03, 0.01]))), 3)
    0.02
    """
    found = np.interp(weight, sizes, rates)
    return float(found) if np.ndim(found) == 0 else found


@equation(
    latex=r"r = @ration \cdot \min\left(1, \frac{\max\left(0, @temperature - @feeding_low\right)}"
    r"{@best_low - @feeding_low}\right)",
    source="fish eat less as the water cools, down to nothing where feeding stops",
    valid="from where feeding stops to the best temperature, a straight line",
    basis="common practice",
)
def ration_at(
    ration: RatePerTime, temperature: Temperature, feeding_low: Temperature, best_low: Temperature
) -> RatePerTime:
    """Ration of a table, made for the best temperature, in cooler water.

    Floats or arrays that broadcast.

    >>> ration_at(0.02, 25.0, 20.0, 30.0)
    0.01
    """
    warmth = most(0.0, temperature - feeding_low) / (best_low - feeding_low)
    return ration * least(1.0, warmth)


@equation(
    latex=r"W = W\left(t\right)", source="stage table, linear in the logarithm of the weight",
    valid="the days of the table", basis="from memory",
)  # fmt: skip
def weight_from_stages(days: Days, stage_days: Days, stage_weights: FishWeight) -> FishWeight:
    """Weight of a fish after so many days, from a table of stages.

    ``days``: float or array; ``stage_days`` and ``stage_weights``: the table, days rising.

    >>> round(float(weight_from_stages(15.0, np.array([0.0, 30.0]), np.array([0.001, 0.1]))), 4)
    0.01
    """
    found = np.exp(np.interp(days, stage_days, np.log(stage_weights)))
    return float(found) if np.ndim(found) == 0 else found
