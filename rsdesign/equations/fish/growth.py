"""Growth of fish with time and temperature."""

from ...core.arrays import least, log, most, power, ratio
from ...core.equation import definition, equation
from ...core.kinds import Days, FeedRate, FishWeight, RatePerTime, Ratio, Temperature

TGC = "thermal growth coefficient, Iwama and Tautz 1981 with exponent 1/3; base temperature above 0 °C"


@equation(
    latex=r"W' = \frac{1}{1000} \cdot \left(\left(1000 \cdot @weight\right)^{\frac{1}{3}}"
    r" + \frac{@growth_coefficient}{1000} \cdot"
    r" \max\left(@temperature - @base_temperature, 0\right) \cdot @days\right)^{3}",
    source=TGC,
    valid="between the base temperature and the best; growth stops below the base",
)
def weight_after(
    weight: FishWeight,
    days: Days,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature = 0.0,
) -> FishWeight:
    """Weight of a fish after so many days.

    The coefficient is in g^(1/3), times 1000, for each degree and day; growth is never
    negative.

    >>> round(weight_after(0.050, 197.0, 28.0, 2.4, 18.3), 3)
    0.566
    """
    warm = most(temperature - base_temperature, 0.0)
    root = (
        power(1000.0 * weight, 1.0 / 3.0) + growth_coefficient / 1000.0 * warm * days
    )  # units of the source
    return root * root * root / 1000.0  # units of the source


@definition(
    "t",
    "inverse of the thermal growth coefficient relation",
    valid="as there",
    example="round(days_to(0.050, 0.567, 28.0, 2.4, 18.3)) == 197",
)
def days_to(
    weight: FishWeight,
    harvest_weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature = 0.0,
) -> Days:
    """Days that a fish takes to a weight; infinite where it is too cold to grow."""
    warm = most(temperature - base_temperature, 0.0)
    gained = power(1000.0 * harvest_weight, 1.0 / 3.0) - power(
        1000.0 * weight, 1.0 / 3.0
    )  # units of the source
    return ratio(gained, growth_coefficient / 1000.0 * warm, float("inf"))  # units of the source


@equation(
    latex=r"G = \frac{3}{1000} \cdot \left(1000 \cdot @weight\right)^{\frac{2}{3}} \cdot"
    r" \frac{@growth_coefficient}{1000} \cdot \max\left(@temperature - @base_temperature, 0\right)"
    r" \cdot \frac{1}{86400}",
    source="time derivative of the thermal growth coefficient relation",
    valid="as there",
    basis="derived",
)
def gain(
    weight: FishWeight,
    temperature: Temperature,
    growth_coefficient: Ratio,
    base_temperature: Temperature = 0.0,
) -> FeedRate:
    """Weight that a fish gains in a time.

    >>> round(gain(0.567, 28.0, 2.4, 18.3) * 86400 * 1000, 2)
    4.78
    """
    warm = most(temperature - base_temperature, 0.0)
    a_day = (
        0.003 * power(1000.0 * weight, 2.0 / 3.0) * growth_coefficient / 1000.0 * warm
    )  # units of the source
    return a_day / 86400.0  # units of the source


@definition(
    "T_g",
    "growth does not rise above the best temperature",
    valid="up to the temperature at which feeding stops",
    basis="common practice",
    example="growing_temperature(33.0, 31.0) == 31.0",
)
def growing_temperature(temperature: Temperature, top_temperature: Temperature) -> Temperature:
    """Temperature that growth follows."""
    return least(temperature, top_temperature)


@definition(
    "g",
    "specific growth rate, definition",
    valid="short times",
    example="round(specific_growth_rate(1.0, 2.0, 10.0) * 86400 * 100, 2) == 6.93",
)
def specific_growth_rate(weight: FishWeight, later_weight: FishWeight, days: Days) -> RatePerTime:
    """Growth as a share of weight."""
    return log(later_weight / weight) / days / 86400.0  # units of the source
