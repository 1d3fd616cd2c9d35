"""The figures of a heat study: months, design days, depths, and the heater with its energy."""

import numpy as np

from ...core import kinds
from ...core.figures import figure, stage


@stage()
class Month:
    """Water of a mean day of a month."""

    month: str = figure("Month")
    air: kinds.Temperature = figure("Mean air")
    water: kinds.Temperature = figure("Mean water, not heated")
    hottest: kinds.Temperature = figure("Hottest hour")
    coldest: kinds.Temperature = figure("Coldest hour")
    evaporation: kinds.DailyFlow = figure("Water evaporated")
    evaporation_low: kinds.DailyFlow = figure("The same by the lowest relation")
    evaporation_high: kinds.DailyFlow = figure("The same by the highest relation")
    heating: kinds.Power = figure("Heat to hold the temperature asked for, mean")
    chilling: kinds.Power = figure("Heat to take away, mean")


@stage()
class Course:
    """One design day under one arrangement, hour by hour; the flows are gains of the water [W]."""

    day: str = figure("Day")
    arrangement: str = figure("Arrangement")
    mean: kinds.Temperature = figure("Mean water")
    hottest: kinds.Temperature = figure("Hottest hour")
    coldest: kinds.Temperature = figure("Coldest hour")
    swing: kinds.TemperatureDifference = figure("Swing of the day")
    at_rest: kinds.Temperature = figure("Where a tank too deep to swing comes to rest")
    evaporation: kinds.DailyFlow = figure("Water evaporated")
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

    depth: kinds.Length = figure("Water depth")
    swing: kinds.TemperatureDifference = figure("Swing of the hot day")
    hottest: kinds.Temperature = figure("Hottest hour")
    coldest: kinds.Temperature = figure("Coldest hour")


@stage()
class Heating:
    """The heater and the chiller, and what they use in a year."""

    set_point: kinds.Temperature = figure("Water to hold")
    chill_above: kinds.Temperature = figure("Water to stay below")
    loss: kinds.Power = figure("Largest loss on the cold day")
    heater: kinds.Power = figure("Heater to install")
    heater_each: kinds.Power = figure("Each of the heaters")
    rule_heater: kinds.Power = figure("Heater by the rule for pools")
    chiller: kinds.Power = figure("Largest heat to take away on the hot day")
    warm_up: kinds.Hours = figure("Time to warm the coldest month's water, losses left out")
    cooling: kinds.TemperatureRate = figure(
        "How fast it cools on the cold day when the heater stops"
    )
    yearly_heat: kinds.Energy = figure("Heat brought in a year")
    yearly_heating_energy: kinds.Energy = figure("Energy to buy for it in a year")
    energy_per_fish: kinds.EnergyPerFish = figure("The same for each weight of fish harvested")
    yearly_chill: kinds.Energy = figure("Heat taken away in a year")
    yearly_chilling_energy: kinds.Energy = figure("Energy to buy for that in a year")
