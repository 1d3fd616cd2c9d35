"""A batch through its life, and the biggest day of all batches together."""

import math

import numpy as np

from ..arrays import exp, log, most, power, where
from ..equation import equation
from ..kinds import Count, Days, FeedRate, FishWeight, Fraction, Mass, Ratio, Temperature

A_DAY = 86400.0  # units of the source
A_WEEK = 7.0

PEAK = (
    "sum over batches at rest, weekly back from the harvest day; the day is the mean of its growth"
)


def _roots(weight, temperature, coefficient, base):
    """Cube root of the stocking weight in g, and what it gains in a day."""
    rate = coefficient / 1000.0 * most(temperature - base, 0.0)  # units of the source
    return power(1000.0 * weight, 1.0 / 3.0), rate  # units of the source


def _feed(age, root, rate, wane, stocked, conversion):
    """Feed of one batch at an age, 0 before stocking; ``wane`` is ln(survival)/cycle."""
    grown = root + rate * age
    eaten = stocked * exp(wane * age) * (conversion * 0.003 / A_DAY) * rate * grown * grown
    return where(age >= -1e-9, eaten, 0.0)


def _weight(age, root, rate, wane, stocked, _):
    grown = root + rate * age
    return where(
        age >= -1e-9, stocked * exp(wane * age) * grown * grown * grown / 1000.0, 0.0
    )  # units of the source


def _largest(of_batch, cycle, interval, batch):
    """The largest sum over batches, weekly back from the harvest day."""
    weeks = math.ceil(float(np.max(np.minimum(interval, cycle))) / A_WEEK)
    batches = math.ceil(float(np.max(cycle / interval)) - 1e-9)
    best = 0.0
    for week in range(max(weeks, 1)):
        total = 0.0
        for number in range(max(batches, 1)):
            total = total + of_batch(cycle - number * interval - A_WEEK * week, *batch)
        best = most(best, total)
    return best


@equation(
    latex=r"F = @stocked \cdot @survival^{\frac{@age}{@cycle}} \cdot @feed_conversion \cdot "
    r"\frac{0.003}{86400} \cdot k \cdot \left(\left(1000 \cdot "
    r"@stocking_weight\right)^{\frac{1}{3}} + k \cdot @age\right)^{2}, k = "
    r"\frac{@growth_coefficient}{1000} \cdot \max\left(@temperature - "
    r"@base_temperature, 0\right)",
    source="feed conversion times growth of the fish alive",
    valid="from stocking to harvest, 0 outside",
    basis="derived",
)
def cohort_feed(
    age: Days,
    stocked: Count,
    stocking_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature,
    cycle: Days,
    survival: Fraction,
    feed_conversion: Ratio,
) -> FeedRate:
    """Feed of one batch at an age.

    Floats or arrays that broadcast.

    >>> round(cohort_feed(197.0, 475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    fed = _feed(age, root, rate, log(survival) / cycle, stocked, feed_conversion)
    return where(age <= cycle * (1.0 + 1e-12), fed, 0.0)


@equation(
    latex=r"F = \max_m \sum_j F_j\left(t - j i - 7 m\right)", source=PEAK, valid="a plan at rest",
    basis="derived",
)  # fmt: skip
def peak_total_feed(
    stocked: Count,
    stocking_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature,
    cycle: Days,
    survival: Fraction,
    feed_conversion: Ratio,
    interval: Days,
) -> FeedRate:
    """Feed of all batches on the biggest day.

    Floats or arrays that broadcast; an interval of the cycle or more is one batch at a time.

    >>> round(peak_total_feed(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6, 211.0) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    batch = (root, rate, log(survival) / cycle, stocked, feed_conversion)
    return _largest(_feed, cycle, interval, batch)


@equation(latex=r"F = \max_t F\left(t\right)", source=PEAK, valid="a plan at rest", basis="derived")
def peak_cohort_feed(
    stocked: Count,
    stocking_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature,
    cycle: Days,
    survival: Fraction,
    feed_conversion: Ratio,
) -> FeedRate:
    """Feed of one batch on its biggest day.

    Floats or arrays that broadcast.

    >>> round(peak_cohort_feed(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    batch = (root, rate, log(survival) / cycle, stocked, feed_conversion)
    return _largest(_feed, cycle, cycle, batch)


@equation(
    latex=r"B = \max_m \sum_j B_j\left(t - j i - 7 m\right)", source=PEAK, valid="a plan at rest",
    basis="derived",
)  # fmt: skip
def peak_total_biomass(
    stocked: Count,
    stocking_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature,
    cycle: Days,
    survival: Fraction,
    interval: Days,
) -> Mass:
    """Weight of all batches just before a harvest.

    Floats or arrays that broadcast.

    >>> round(peak_total_biomass(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 211.0))
    255
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    batch = (root, rate, log(survival) / cycle, stocked, 1.0)
    return _largest(_weight, cycle, interval, batch)


@equation(
    latex=r"F = \int_0^t F\left(a\right) da", source="Simpson's rule over the cycle, 20 steps",
    valid="a whole cycle", basis="derived",
)  # fmt: skip
def feed_per_batch(
    stocked: Count,
    stocking_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature,
    cycle: Days,
    survival: Fraction,
    feed_conversion: Ratio,
) -> Mass:
    """Feed that one batch eats from stocking to harvest.

    Floats or arrays that broadcast.

    >>> round(feed_per_batch(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6))
    380
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    batch = (root, rate, log(survival) / cycle, stocked, feed_conversion)
    total = 0.0
    for step in range(21):
        weight = 1.0 if step in (0, 20) else 4.0 if step % 2 else 2.0
        total = total + weight * _feed(cycle * (step / 20.0), *batch)
    return total * cycle * A_DAY / 60.0  # units of the source
