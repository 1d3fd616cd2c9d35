"""A batch through its life, and the biggest day of all batches together."""

import math

import numpy as np

from ...core.arrays import clip, exp, log, most, power, ratio, where
from ...core.equation import equation
from ...core.kinds import Count, Days, FeedRate, FishWeight, Fraction, Mass, Ratio, Temperature

A_DAY = 86400.0  # units of the source
A_WEEK = 7.0

PEAK = (
    "sum over batches in steady state, weekly back from the harvest day; one batch alone in closed"
    " form"
)


def _roots(weight, temperature, coefficient, base):
    """Cube root of the stocking weight in g, and what it gains in a day."""
    rate = coefficient / 1000.0 * most(temperature - base, 0.0)  # units of the source
    return power(1000.0 * weight, 1.0 / 3.0), rate  # units of the source


def _feed(age, alive, root, rate, conversion):
    """Feed of one batch at an age, 0 before stocking."""
    grown = root + rate * age
    eaten = alive * (conversion * 0.003 / A_DAY) * rate * grown * grown
    return where(age >= -1e-9, eaten, 0.0)


def _weight(age, alive, root, rate, _):
    """Weight of one batch at an age, 0 before stocking."""
    grown = root + rate * age
    return where(age >= -1e-9, alive * grown * grown * grown * 1e-3, 0.0)


def _largest(of_batch, order, cycle, interval, stocked, survival, root, rate, *more):
    """The largest sum over batches; ``order`` is the power of length that a batch grows by.

    One batch at a time has its largest day in closed form; batches that overlap are looked at
    weekly back from the harvest day.
    """
    wane = log(survival) / cycle
    overlap = cycle / interval > 1.0 + 1e-9
    if not np.any(overlap):
        return _largest_alone(of_batch, order, cycle, wane, stocked, root, rate, *more)
    together = _largest_together(
        of_batch, cycle, interval, wane, stocked, survival, root, rate, *more
    )
    if np.all(overlap):
        return together
    alone = _largest_alone(of_batch, order, cycle, wane, stocked, root, rate, *more)
    return where(overlap, together, alone)


def _largest_alone(of_batch, order, cycle, wane, stocked, root, rate, *more):
    """One batch on its largest day: fish that grow against fish that die, at most the harvest day.

    The rate of change of ``exp(wane a) (root + rate a)**order`` is zero at one age.
    """
    age = ratio(order, -1.0 * wane, np.inf) - ratio(root, rate, np.inf)
    age = clip(where(age == age, age, cycle), 0.0, cycle)  # noqa: PLR0124 (nan: none die, none grow)
    return of_batch(age, stocked * exp(wane * age), root, rate, *more)


def _largest_together(of_batch, cycle, interval, wane, stocked, survival, *batch):
    """The largest sum over batches, weekly back from the harvest day.

    The fish alive go back in time by factors for a week and for a batch, which spares an
    exponential for every week of every batch.
    """
    weeks = math.ceil(float(np.max(np.minimum(interval, cycle))) / A_WEEK)
    batches = math.ceil(float(np.max(cycle / interval)) - 1e-9)
    week_back, batch_back = exp(-1.0 * wane * A_WEEK), exp(-1.0 * wane * interval)
    best, at_week = 0.0, stocked * survival
    for week in range(max(weeks, 1)):
        total, alive = 0.0, at_week
        for number in range(max(batches, 1)):
            total = total + of_batch(cycle - number * interval - A_WEEK * week, alive, *batch)
            alive = alive * batch_back
        best = most(best, total)
        at_week = at_week * week_back
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

    >>> round(cohort_feed(197.0, 475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    alive = stocked * exp(log(survival) * age / cycle)
    fed = _feed(age, alive, root, rate, feed_conversion)
    return where(age <= cycle * (1.0 + 1e-12), fed, 0.0)


@equation(
    latex=r"F = \max_m \sum_j F_j\left(t - j i - 7 m\right)",
    source=PEAK,
    valid="a plan in steady state",
    basis="derived",
)
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

    An interval of the cycle or more is one batch at a time.

    >>> round(peak_total_feed(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6, 211.0) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    return _largest(_feed, 2.0, cycle, interval, stocked, survival, root, rate, feed_conversion)


@equation(
    latex=r"F = \max_t F\left(t\right)",
    source=PEAK,
    valid="a plan in steady state",
    basis="derived",
)
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

    >>> round(peak_cohort_feed(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6) * 86400, 2)
    3.45
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    return _largest(_feed, 2.0, cycle, cycle, stocked, survival, root, rate, feed_conversion)


@equation(
    latex=r"B = \max_m \sum_j B_j\left(t - j i - 7 m\right)",
    source=PEAK,
    valid="a plan in steady state",
    basis="derived",
)
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

    >>> round(peak_total_biomass(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 211.0))
    255
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    return _largest(_weight, 3.0, cycle, interval, stocked, survival, root, rate, 1.0)


@equation(
    latex=r"F = \int_0^t F\left(a\right) da",
    source="Simpson's rule over the cycle, 20 steps",
    valid="a whole cycle",
    basis="derived",
)
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

    >>> round(feed_per_batch(475.0, 0.05, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6))
    380
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    total, alive, on = 0.0, stocked, power(survival, 0.05)
    for step in range(21):
        weight = 1.0 if step in (0, 20) else 4.0 if step % 2 else 2.0
        total = total + weight * _feed(cycle * (step / 20.0), alive, root, rate, feed_conversion)
        alive = alive * on
    return total * cycle * A_DAY / 60.0  # units of the source
