"""Heaters and chillers: what the water stores, how fast it changes, what to install and to buy."""

from ...core.arrays import least, ratio
from ...core.equation import equation
from ...core.kinds import (
    Area,
    Count,
    Density,
    Energy,
    EnergyPerFish,
    HarvestRate,
    HeatCapacity,
    HeatTransfer,
    Hours,
    Power,
    Ratio,
    TemperatureDifference,
    TemperatureRate,
    Volume,
)
from .flows import WATER_HEAT


@equation(
    latex=r"C = 4180 \cdot @density \cdot @volume",
    source="definition, heat capacity of water",
    valid="10 to 50 °C; walls and floor store no heat here",
    basis="derived",
)
def heat_capacity(volume: Volume, density: Density = 1000.0) -> HeatCapacity:
    """Heat that warms the water by one degree.

    Floats or arrays that broadcast.

    >>> round(heat_capacity(1.0, 996.0) * 10 / 3.6e6, 2)
    11.56
    """
    return WATER_HEAT * density * volume


@equation(
    latex=r"r = \frac{@loss}{@capacity}",
    source="definition",
    valid="at once; the loss falls as the water cools",
    basis="derived",
)
def cooling_rate(loss: Power, capacity: HeatCapacity) -> TemperatureRate:
    """How fast the water cools when the heater stops.

    Floats or arrays that broadcast.

    >>> round(cooling_rate(2046.3, 29546679.0) * 3600, 4)
    0.2493
    """
    return loss / capacity


@equation(
    latex=r"t = \frac{@capacity \cdot @rise}{@power}",
    source="definition",
    valid="losses left out, so a floor",
    basis="derived",
)
def warm_up_time(capacity: HeatCapacity, rise: TemperatureDifference, power: Power) -> Hours:
    """Time in which a heater warms the whole tank; infinite without one.

    Floats or arrays that broadcast.

    >>> round(warm_up_time(29546679.0, 10.0, 2835.7) / 3600, 2)
    28.94
    """
    return ratio(capacity * rise, power, float("inf"))


@equation(
    latex=r"P = @loss \cdot @factor",
    source="a quarter over the largest loss, so that a cold tank can still be warmed",
    valid="two heaters, each for about two thirds, are safer than one",
    basis="common practice",
)
def heater_size(loss: Power, factor: Ratio = 1.25) -> Power:
    """Heater to install for the largest loss.

    Floats or arrays that broadcast.

    >>> heater_size(2268.5)
    2835.625
    """
    return loss * factor


@equation(
    latex=r"P_1 = @power \cdot \frac{\min\left(1 + 0.3 \cdot \left(@count - 1\right), 1.3\right)}{@count}",
    source="two heaters, each for 60 to 70 % of the whole, so that one can fail",
    valid="one or more equal heaters",
    basis="common practice",
)
def heater_each(power: Power, count: Count) -> Power:
    """Size of each of several heaters; together they are a third over the whole.

    Floats or arrays that broadcast.

    >>> heater_each(1000.0, 2.0)
    650.0
    """
    return power * least(1.0 + 0.3 * (count - 1.0), 1.3) / count


@equation(
    latex=r"P = @rule_transfer \cdot @area \cdot @rise",
    source="12 Btu/h/ft²/°F of surface, a rule for heating outdoor pools quickly (U.S. DOE, quoted"
    " in trade pages)",
    valid="open outdoor pools; far too much for a covered tank",
)
def rule_heater(
    area: Area, rise: TemperatureDifference, rule_transfer: HeatTransfer = 68.1391
) -> Power:
    """Heater by a rule for pools, shown beside the balance.

    Floats or arrays that broadcast.

    >>> round(rule_heater(1.0, 1.0), 2)
    68.14
    """
    return rule_transfer * area * rise


@equation(
    latex=r"E = \frac{@heat}{@performance}",
    source="definition",
    valid="1 for a resistance heater in the water; more for a heat pump, less for a burner",
    basis="derived",
)
def energy_bought(heat: Energy, performance: Ratio = 1.0) -> Energy:
    """Energy to buy for heat brought or taken away.

    Floats or arrays that broadcast.

    >>> energy_bought(9.0, 3.0)
    3.0
    """
    return heat / performance


@equation(
    latex=r"e = \frac{@energy}{@harvest \cdot 31557600}",
    source="definition, year of 365.25 days",
    valid="any",
    basis="derived",
)
def energy_for_fish(energy: Energy, harvest: HarvestRate) -> EnergyPerFish:
    """Energy of a year for each weight of fish harvested in it.

    Floats or arrays that broadcast.

    >>> round(energy_for_fish(3.6e9, 200.0 / 31557600.0) / 3.6e6, 6)
    5.0
    """
    return energy / (harvest * 31557600.0)
