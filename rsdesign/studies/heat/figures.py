"""The figures of a heat study: months, design days, depths, and the heater with its energy."""

import numpy as np

from ...core.figures import figure, stage
from ...core.kinds import (
    DailyFlow,
    Energy,
    EnergyPerFish,
    Hours,
    Length,
    Power,
    Temperature,
    TemperatureDifference,
    TemperatureRate,
)


@stage()
class Month:
    """Water of a mean day of a month."""

    month: str = figure("Month")
    air: Temperature = figure("Mean air")
    water: Temperature = figure("Mean water, not heated")
    hottest: Temperature = figure("Hottest hour")
    coldest: Temperature = figure("Coldest hour")
    evaporation: DailyFlow = figure("Water evaporated")
    evaporation_low: DailyFlow = figure("The same by the lowest relation")
    evaporation_high: DailyFlow = figure("The same by the highest relation")
    heating: Power = figure("Heat to hold the temperature asked for, mean")
    chilling: Power = figure("Heat to take away, mean")


@stage()
class Course:
    """One design day under one arrangement, hour by hour; the flows are gains of the water [W]."""

    day: str = figure("Day")
    arrangement: str = figure("Arrangement")
    mean: Temperature = figure("Mean water")
    hottest: Temperature = figure("Hottest hour")
    coldest: Temperature = figure("Coldest hour")
    swing: TemperatureDifference = figure("Swing of the day")
    at_rest: Temperature = figure("Where a tank too deep to swing comes to rest")
    evaporation: DailyFlow = figure("Water evaporated")
    air: np.ndarray = figure("Air by hour")
    start: np.ndarray = figure("Water at the start of each hour")
    end: np.ndarray = figure("Water at the end of each hour")
    middle: np.ndarray = figure("Water by hour")
    flows: dict = figure("Heat flows by hour")
    heat: np.ndarray = figure("Heat of the heater by hour, chilling below zero")
    capacity: float = figure("Heat that warms the water by a degree")


@stage()
class Depth:
    """The hot day at one depth of water over the same floor."""

    depth: Length = figure("Water depth")
    swing: TemperatureDifference = figure("Swing of the hot day")
    hottest: Temperature = figure("Hottest hour")
    coldest: Temperature = figure("Coldest hour")


@stage()
class Heating:
    """The heater and the chiller, and what they use in a year."""

    set_point: Temperature = figure("Water to hold")
    chill_above: Temperature = figure("Water to stay below")
    loss: Power = figure("Largest loss on the cold day")
    heater: Power = figure("Heater to install")
    heater_each: Power = figure("Each of the heaters")
    rule_heater: Power = figure("Heater by the rule for pools")
    chiller: Power = figure("Largest heat to take away on the hot day")
    warm_up: Hours = figure("Time to warm the coldest month's water, losses left out")
    cooling: TemperatureRate = figure("How fast it cools on the cold day when the heater stops")
    yearly_heat: Energy = figure("Heat brought in a year")
    yearly_heating_energy: Energy = figure("Energy to buy for it in a year")
    energy_per_fish: EnergyPerFish = figure("The same for each weight of fish harvested")
    yearly_chill: Energy = figure("Heat taken away in a year")
    yearly_chilling_energy: Energy = figure("Energy to buy for that in a year")
