"""Growth through a season: day by day, held back by feed, and read back from weighings."""

import numpy as np

from ...core.arrays import least, most, power, ratio
from ...core.equation import definition, equation
from ...core.kinds import (
    Days,
    FeedRate,
    FishWeight,
    Fraction,
    Length,
    Mass,
    RatePerTime,
    Ratio,
    Temperature,
)
from .growth import TGC


@equation(
    latex=r"k = 1000 \cdot \frac{\left(1000 \cdot @later_weight\right)^{\frac{1}{3}} - "
    r"\left(1000 \cdot @weight\right)^{\frac{1}{3}}}{@days \cdot \left(@temperature - "
    r"@base_temperature\right)}",
    source=TGC + "; solved for the coefficient",
    valid="water above the base temperature, and not above the best",
    basis="derived",
)
def coefficient_between(
    weight: FishWeight,
    later_weight: FishWeight,
    days: Days,
    temperature: Temperature,
    base_temperature: Temperature = 0.0,
) -> Ratio:
    """Growth coefficient of fish that were weighed twice.

    Zero where no day or no warmth lies between the weighings.

    >>> round(coefficient_between(0.010, 0.350, 200.0, 11.0), 3)
    2.224
    """
    gained = power(1000.0 * later_weight, 1.0 / 3.0) - power(
        1000.0 * weight, 1.0 / 3.0
    )  # units of the source
    return 1000.0 * ratio(gained, days * (temperature - base_temperature))  # units of the source


@definition(
    "g", TGC, valid="as the growth relation", example="round(growth_of_root(2.4, 10.0), 6) == 0.024"
)
def growth_of_root(growth_coefficient: Ratio, warmth: Ratio) -> Ratio:
    """Growth of the cube root of a weight in g in one day, at so many degrees over the base."""
    return growth_coefficient / 1000.0 * warmth  # units of the source


@definition(
    "F_e",
    "fish that are offered more than they ask for take a fifth more at most",
    valid="pellets by hand",
    basis="from memory",
    example="eaten(2.0, 1.0, 1.2) == 1.2; eaten(0.5, 1.0, 1.2) == 0.5",
)
def eaten(feed: FeedRate, appetite: FeedRate, most_eaten: Ratio = 1.2) -> FeedRate:
    """Feed that the fish take of what is given; the rest rots."""
    return least(feed, most_eaten * appetite)


@definition("F_r", "conservation of mass", example="uneaten(2.0, 1.25) == 0.75")
def uneaten(feed: FeedRate, eaten: FeedRate) -> FeedRate:
    """Feed that is given and not eaten."""
    return most(0.0, feed - eaten)


@definition(
    "G_a",
    "fish grow no faster than their warmth allows, and no faster than what they eat",
    valid="fish that are not fasting",
    example="gain_on_feed(2.0, 4.0, 1.6) == 2.0; gain_on_feed(2.0, 1.6, 1.6) == 1.0",
)
def gain_on_feed(gain: FeedRate, eaten: FeedRate, feed_conversion: Ratio) -> FeedRate:
    """Weight gained in a time, by warmth or by feed, whichever gives less."""
    return least(gain, eaten / feed_conversion)


@definition(
    "l",
    "0.2 to 0.3 % of the weight in a day while nothing is eaten, and more in warmer water",
    valid="the first weeks of a fast",
    basis="from memory",
    example="round(fasting_loss(2.0, 2.5e-3, 2.0), 9) == 0.01",
)
def fasting_loss(weight: FishWeight, loss_share: RatePerTime, warmth: Ratio) -> FeedRate:
    """Weight that a fish loses in a time while it is not fed."""
    return weight * loss_share * warmth


@definition(
    "K",
    "condition factor of Fulton, weight in g and length in cm",
    valid="fish of one shape",
    basis="seen",
    example="round(condition_factor(0.008, 0.078), 2) == 1.69",
)
def condition_factor(weight: FishWeight, body_length: Length) -> Ratio:
    """How heavy a fish is for its length."""
    return 100.0 * (1000.0 * weight) / power(100.0 * body_length, 3.0)  # units of the source


@definition(
    "x_N",
    "protein is 16 % nitrogen",
    valid="feed protein by the Kjeldahl factor 6.25",
    basis="from memory",
    example="round(ammonia_share_of_nitrogen(0.092), 3) == 0.575",
)
def ammonia_share_of_nitrogen(factor: Ratio) -> Fraction:
    """Share of the feed's nitrogen that leaves the fish as ammonia, from ammonia over protein."""
    return factor / 0.16


@definition(
    "P",
    "nitrogen of the feed less what the fish keep",
    valid="whatever the feed",
    basis="derived",
    example="ammonia_within(0.6, 1.0, 0.25) == 0.6; ammonia_within(0.9, 1.0, 0.25) == 0.75",
)
def ammonia_within(ammonia: FeedRate, feed_nitrogen: FeedRate, fish_nitrogen: FeedRate) -> FeedRate:
    """Ammonia of the fish, never more than the nitrogen that they do not keep."""
    return most(0.0, least(ammonia, feed_nitrogen - fish_nitrogen))


@equation(
    latex=r"k = 1000 \cdot \frac{\sum x_i \cdot y_i}{\sum x_i^{2}}, x_i = @warmth_i, y_i = \left(1000 "
    r"\cdot @weights_i\right)^{\frac{1}{3}} - \left(1000 \cdot @weight\right)^{\frac{1}{3}}",
    source="least squares through the weight at the start",
    valid="weighings of one batch",
    basis="derived",
)
def coefficient_of_weighings(weights: FishWeight, weight: FishWeight, warmth: Ratio) -> Ratio:
    """Growth coefficient that fits the weighings of a batch best.

    ``weights``: mean weights as they were found; ``weight``: the weight at the start; ``warmth``:
    degree-days over the base temperature from the start to each weighing.

    >>> round(coefficient_of_weighings(np.array([0.350]), 0.010, np.array([2200.0])), 3)
    2.224
    """
    warm = np.asarray(warmth, float)
    gained = np.cbrt(1000.0 * np.asarray(weights, float)) - np.cbrt(
        1000.0 * np.asarray(weight, float)
    )  # units of the source
    return float(1000.0 * np.sum(warm * gained) / np.sum(warm * warm))  # units of the source


@equation(
    latex=r"k = \frac{\sum \left(T_i - \bar{T}\right) \left(g_i - \bar{g}\right)}{\sum "
    r"\left(T_i - \bar{T}\right)^{2}}",
    source="least squares: growth of the cube root of weight along the temperature",
    valid="batches that grew at different temperatures below the best",
    basis="derived",
)
def coefficient_of_trials(temperatures: Temperature, growth: Ratio) -> Ratio:
    """Growth coefficient that batches at several temperatures show together.

    ``temperatures``: of each batch; ``growth``: its coefficient over a base one degree below its
    own temperature, which is the growth of the cube root in a day times 1000.

    >>> round(coefficient_of_trials(np.array([20.0, 30.0]), np.array([10.0, 30.0])), 6)
    2.0
    """
    slope, _ = np.polyfit(np.asarray(temperatures, float), np.asarray(growth, float), 1)
    return float(slope)


@definition(
    "T_0",
    "the straight line through mean growth and mean temperature, down to no growth",
    valid="an extrapolation below the coldest trial",
    basis="derived",
    example="base_of_trials(25.0, 20.0, 2.0) == 15.0",
)
def base_of_trials(
    temperature: Temperature, growth: Ratio, growth_coefficient: Ratio
) -> Temperature:
    """Temperature at which the growth of batches at several temperatures would end."""
    return temperature - growth / growth_coefficient


@definition(
    "w",
    "worth of what is gained less what the day costs",
    valid="one price for every size",
    basis="derived",
    example="worth_of_day(2.0, 3.0, 1.0, 0.5) == 4.5",
)
def worth_of_day(gain: Mass, price: Ratio, feed_cost: Ratio, running_cost: Ratio) -> Ratio:
    """What one more day of growth brings, feed and power paid."""
    return gain * price - feed_cost - running_cost


@definition(
    "v",
    "worth of a place: the best mean of a cycle, rest between batches counted",
    valid="batches that follow each other",
    basis="from memory",
    example="worth_of_place(300.0, 100.0, 190.0, 10.0) == 1.0",
)
def worth_of_place(receipts: Ratio, costs: Ratio, age: Days, rest: Days) -> Ratio:
    """What a place for a batch earns on a mean day, when batches of this age follow each other."""
    return ratio(receipts - costs, age + rest, 0.0)


@definition(
    "n",
    "the same share dies every day",
    valid="any day up to harvest",
    basis="common practice",
    example="round(left_after_day(100.0, 0.81, 2.0), 6) == 90.0",
)
def left_after_day(fish: Ratio, survival: Fraction, cycle: Days) -> Ratio:
    """Fish alive after one more day."""
    return fish * power(survival, 1.0 / cycle)
