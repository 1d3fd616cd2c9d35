"""The stocking plan: batches, what they weigh and eat, and the biggest day."""

import math
from dataclasses import dataclass

import numpy as np

from ..arrays import ceil, exp, log, most, power, ratio, where
from ..equation import equation
from ..kinds import (
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
from . import growth

A_DAY = 86400.0  # units of the source
A_WEEK = 7.0

PEAK = (
    "sum over batches at rest, weekly back from the harvest day; the day is the mean of its growth"
)


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


def _roots(weight, temperature, coefficient, base):
    """Cube root of the stocking weight in g, and what it gains in a day."""
    rate = coefficient / 1000.0 * most(temperature - base, 0.0)
    return power(1000.0 * weight, 1.0 / 3.0), rate


def _feed(age, root, rate, wane, stocked, conversion):
    """Feed of one batch at an age, 0 before stocking; ``wane`` is ln(survival)/cycle."""
    grown = root + rate * age
    eaten = stocked * exp(wane * age) * (conversion * 0.003 / A_DAY) * rate * grown * grown
    return where(age >= -1e-9, eaten, 0.0)


def _weight(age, root, rate, wane, stocked, _):
    grown = root + rate * age
    return where(age >= -1e-9, stocked * exp(wane * age) * grown * grown * grown / 1000.0, 0.0)


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
    3.44
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
    3.44
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
    3.44
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
    374
    """
    root, rate = _roots(stocking_weight, temperature, growth_coefficient, base_temperature)
    batch = (root, rate, log(survival) / cycle, stocked, feed_conversion)
    total = 0.0
    for step in range(21):
        weight = 1.0 if step in (0, 20) else 4.0 if step % 2 else 2.0
        total = total + weight * _feed(cycle * (step / 20.0), *batch)
    return total * cycle * A_DAY / 60.0  # units of the source


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
    latex=r"t = @start_up + @quarantine + @cycle", source="definition", valid="any",
    basis="derived",
)  # fmt: skip
def first_sale(start_up: Days, quarantine: Days, cycle: Days) -> Days:
    """Days from the first water to the first harvest.

    Floats or arrays that broadcast.

    >>> first_sale(42.0, 28.0, 197.0)
    267.0
    """
    return start_up + quarantine + cycle


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
    stocked = float(fish_to_stock(fish, survival))
    at_once = int(cohorts(cycle, interval))
    started = 1 if weeks is None else at_once + math.ceil(cycle / interval) + 1
    length = total_weeks or math.ceil((cycle + (started - 1) * interval) / A_WEEK)
    days = np.unique(
        [*(A_WEEK * np.arange(1, length + 1)), *(cycle + interval * np.arange(started))]
    )
    days = days[days <= A_WEEK * length + 1e-9]
    age = days[None, :] - interval * np.arange(started)[:, None]
    here = (age >= 0) & (age <= cycle * (1 + 1e-12))
    inside = np.clip(age, 0.0, cycle)
    number = np.where(here, surviving(stocked, survival, inside, cycle), 0.0)
    grown = np.where(here, growth.weight_after(weight, inside, *args), 0.0)
    feed = np.where(here, feed_for_gain(number, growth.gain(grown, *args), feed_conversion), 0.0)
    whole = feed_per_batch(stocked, weight, *args, cycle, survival, feed_conversion)
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
        mean_feed=float(mean_feed(whole, interval)),
        peak_biomass=float((number * grown).sum(axis=0).max()),
        first_sale=cycle,
        fingerlings_per_year=stocked * 365.25 / interval,  # units of the source
    )
