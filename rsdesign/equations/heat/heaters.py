"""Heaters and chillers: what the water stores, how fast it changes, what to install and to buy."""

from ...core import kinds
from ...core.arrays import least, ratio
from ...core.equation import definition
from .flows import WATER_HEAT


@definition(
    "C",
    "definition, heat capacity of water",
    valid="10 to 50 °C; walls and floor store no heat here",
    example="round(heat_capacity(1.0, 996.0) * 10 / 3.6e6, 2) == 11.56",
)
def heat_capacity(volume: kinds.Volume, density: kinds.Density = 1000.0) -> kinds.HeatCapacity:
    """Heat that warms the water by one degree."""
    return WATER_HEAT * density * volume


@definition(
    "r",
    valid="at once; the loss falls as the water cools",
    example="round(cooling_rate(2046.3, 29546679.0) * 3600, 4) == 0.2493",
)
def cooling_rate(loss: kinds.Power, capacity: kinds.HeatCapacity) -> kinds.TemperatureRate:
    """How fast the water cools when the heater stops."""
    return loss / capacity


@definition(
    "t",
    valid="losses left out, so a floor",
    example="round(warm_up_time(29546679.0, 10.0, 2835.7) / 3600, 2) == 28.94",
)
def warm_up_time(
    capacity: kinds.HeatCapacity, rise: kinds.TemperatureDifference, power: kinds.Power
) -> kinds.Hours:
    """Time in which a heater warms the whole tank; infinite without one."""
    return ratio(capacity * rise, power, float("inf"))


@definition(
    "P",
    "a quarter over the largest loss, so that a cold tank can still be warmed",
    valid="two heaters, each for about two thirds, are safer than one",
    basis="common practice",
    example="heater_size(2268.5) == 2835.625",
)
def heater_size(loss: kinds.Power, factor: kinds.Ratio = 1.25) -> kinds.Power:
    """Heater to install for the largest loss."""
    return loss * factor


@definition(
    "P_1",
    "two heaters, each for 60 to 70 % of the whole, so that one can fail",
    valid="one or more equal heaters",
    basis="common practice",
    example="heater_each(1000.0, 2.0) == 650.0",
)
def heater_each(power: kinds.Power, count: kinds.Count) -> kinds.Power:
    """Size of each of several heaters; together they are a third over the whole."""
    return power * least(1.0 + 0.3 * (count - 1.0), 1.3) / count


@definition(
    "P",
    "12 Btu/h/ft²/°F of surface, a rule for heating outdoor pools quickly (U.S. DOE, quoted"
    " in trade pages)",
    valid="open outdoor pools; far too much for a covered tank",
    basis="seen",
    example="round(rule_heater(1.0, 1.0), 2) == 68.14",
)
def rule_heater(
    area: kinds.Area, rise: kinds.TemperatureDifference, rule_transfer: kinds.HeatTransfer = 68.1391
) -> kinds.Power:
    """Heater by a rule for pools, shown beside the balance."""
    return rule_transfer * area * rise


@definition(
    "E",
    valid="1 for a resistance heater in the water; more for a heat pump, less for a burner",
    example="energy_bought(9.0, 3.0) == 3.0",
)
def energy_bought(heat: kinds.Energy, performance: kinds.Ratio = 1.0) -> kinds.Energy:
    """Energy to buy for heat brought or taken away."""
    return heat / performance


@definition(
    "e",
    "definition, year of 365.25 days",
    example="round(energy_for_fish(3.6e9, 200.0 / 31557600.0) / 3.6e6, 6) == 5.0",
)
def energy_for_fish(energy: kinds.Energy, harvest: kinds.HarvestRate) -> kinds.EnergyPerFish:
    """Energy of a year for each weight of fish harvested in it."""
    return energy / (harvest * 31557600.0)
