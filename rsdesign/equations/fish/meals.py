"""What fish use and give off between meals, over the mean of a day that repeats itself.

A meal is answered by a rise that starts at zero, peaks once and dies away: ``k² t exp(-k t)``, with its
peak ``1 / k`` after the meal.  A day that repeats adds the tails of all the days before, a geometric
series in closed form, so that every hour of the day has its share and the whole is one.
"""

import functools
from dataclasses import dataclass

from ...core import tables
from ...core.arrays import exp, expm1
from ...core.equation import definition, equation
from ...core.kinds import Fraction, Hours, Ratio
from ...core.tables import SourcedRow

A_DAY = 86400.0  # units of the source


@dataclass(frozen=True, slots=True)
class MealResponse(SourcedRow):
    """What fish use or give off around a meal, each number between the least and the most likely.

    ``lag``: from a meal to the peak.  ``base_share``: what goes on without a meal, over the mean of
    the day; left out, the design says it.  ``light_factor``: rest in the light over rest in the dark.
    """

    name: str
    label: str
    lag: Hours
    lag_low: Hours
    lag_high: Hours
    base_share: Fraction | None
    base_low: Fraction
    base_high: Fraction
    light_factor: Ratio
    light_low: Ratio
    light_high: Ratio


@functools.cache
def response_of(name: str) -> MealResponse:
    """The response of ``"ammonia"`` or ``"oxygen"`` to a meal; KeyError names those there are."""
    return tables.named(tables.read("meal_responses", MealResponse), name, "response to a meal")


@equation(
    latex=r"g = \frac{D}{@lag^{2}} \cdot \exp\left(-\frac{@since_meal}{@lag}\right) \cdot "
    r"\left(\frac{@since_meal}{1 - q} + \frac{D \cdot q}{\left(1 - q\right)^{2}}\right), q = "
    r"\exp\left(-\frac{D}{@lag}\right), D = @meal_interval",
    source="gamma-shaped response of order two, its days summed as a geometric series; sea bream of "
    "40 g at 24 °C had their peak up to 4.5 h after the meal (Porter et al. 1987, abstract)",
    valid="0 to one interval after a meal; equal meals at equal intervals",
    basis="derived",
)
def meal_response(since_meal: Hours, lag: Hours, meal_interval: Hours = A_DAY) -> Ratio:
    """What fish give off so long after a meal, over the mean of the day.

    >>> round(meal_response(4.0 * 3600, 4.0 * 3600), 3)
    2.246
    """
    left = -expm1(-meal_interval / lag)
    tail = meal_interval * (1.0 - left) / left
    return meal_interval / lag / lag * exp(-since_meal / lag) * (since_meal + tail) / left


@equation(
    latex=r"t = @lag - \frac{D \cdot q}{1 - q}, q = \exp\left(-\frac{D}{@lag}\right), D = "
    r"@meal_interval",
    source="the response to a meal, its rate of change zero",
    valid="equal meals at equal intervals",
    basis="derived",
)
def highest_hour(lag: Hours, meal_interval: Hours = A_DAY) -> Hours:
    """Time from a meal until fish give off most; the day before brings it a little forward.

    >>> round(highest_hour(4.0 * 3600) / 3600, 2)
    3.94
    """
    left = -expm1(-meal_interval / lag)
    return lag - meal_interval * (1.0 - left) / left


@equation(
    latex=r"g = \frac{D}{@lag} \cdot \frac{1}{1 - q} \cdot \exp\left(-\frac{@highest_hour}{@lag}"
    r"\right), q = \exp\left(-\frac{D}{@lag}\right), D = @meal_interval",
    source="the response to a meal at its highest",
    valid="equal meals at equal intervals",
    basis="derived",
)
def highest_response(highest_hour: Hours, lag: Hours, meal_interval: Hours = A_DAY) -> Ratio:
    """Most that fish give off after a meal, over the mean of the day.

    >>> round(highest_response(highest_hour(4.0 * 3600), 4.0 * 3600), 3)
    2.246
    """
    return meal_interval / lag * exp(-highest_hour / lag) / -expm1(-meal_interval / lag)


@equation(
    latex=r"x = \frac{1 - \left(1 + \frac{@since_meal}{@lag}\right) \cdot e}{1 - q} + \frac{D \cdot "
    r"q \cdot \left(1 - e\right)}{@lag \cdot \left(1 - q\right)^{2}}, e = \exp\left(-"
    r"\frac{@since_meal}{@lag}\right), q = \exp\left(-\frac{D}{@lag}\right), D = @meal_interval",
    source="the response to a meal, summed from the meal on",
    valid="0 to one interval after a meal, where it is 1",
    basis="derived",
)
def given_off(since_meal: Hours, lag: Hours, meal_interval: Hours = A_DAY) -> Fraction:
    """Share of an interval's wastes that fish have given off so long after a meal.

    >>> round(given_off(4.0 * 3600, 4.0 * 3600), 3)
    0.274
    """
    left = -expm1(-meal_interval / lag)
    gone = -expm1(-since_meal / lag)
    rise = gone - since_meal / lag * (1.0 - gone)
    return rise / left + meal_interval / lag * (1.0 - left) / left / left * gone


@definition(
    "k",
    "what fish give off at rest goes on all day, the rest follows the meals",
    valid="fish fed to the daily ration",
    basis="common practice",
    example="hour_over_mean(0.25, 2.0) == 1.75",
)
def hour_over_mean(base_share: Fraction, response: Ratio) -> Ratio:
    """What fish use or give off in an hour, over the mean of the day."""
    return base_share + (1.0 - base_share) * response


@definition(
    "k",
    "mean of the day held at one",
    valid="light that comes and goes at fixed hours",
    example="round(dark_over_mean(2.0, 0.5), 6) == 0.666667",
)
def dark_over_mean(light_factor: Ratio, lit_share: Fraction) -> Ratio:
    """What resting fish use in the dark, over the mean of the day."""
    return 1.0 / (1.0 + (light_factor - 1.0) * lit_share)
