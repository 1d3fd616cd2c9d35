"""Definitions for the air machines: how many run, how many stand by, and what they draw."""

from ...core import kinds
from ...core.arrays import ceil, least, most, ratio, where
from ...core.equation import definition, equation


@definition("n", example="machines_needed(5.0, 2.0) == 3.0")
def machines_needed(air_flow: kinds.AirFlow, each: kinds.AirFlow) -> kinds.Count:
    """Machines of one size for an air flow; 0 where that size gives none."""
    return ceil(ratio(air_flow, each) - 1e-9) + 0.0  # never -0


@definition("G", example="total_machine_air(2.0, 3.0) == 6.0")
def total_machine_air(each: kinds.AirFlow, count: kinds.Count) -> kinds.AirFlow:
    """Air of all machines."""
    return each * count


@definition("P", example="total_rated_power(200.0, 3.0) == 600.0")
def total_rated_power(each: kinds.Power, count: kinds.Count) -> kinds.Power:
    """Rated power of all machines."""
    return each * count


@definition("G'", example="derated_air_flow(2.0, 0.5) == 1.0")
def derated_air_flow(air_flow: kinds.AirFlow, factor: kinds.Ratio) -> kinds.AirFlow:
    """Standard air from a machine that takes in thin, hot air."""
    return air_flow * factor


@definition("G", example="total_air_flow(2.0, 1.0) == 3.0")
def total_air_flow(required: kinds.AirFlow, to_airlifts: kinds.AirFlow) -> kinds.AirFlow:
    """Air that the machines must give: for the oxygen, and for the airlifts."""
    return required + to_airlifts


@definition(
    "G'", "definition; the airlifts take theirs first", example="air_for_stones(3.0, 1.0) == 2.0"
)
def air_for_stones(air_flow: kinds.AirFlow, to_airlifts: kinds.AirFlow) -> kinds.AirFlow:
    """Air that is left for the stones."""
    return most(0.0, air_flow - to_airlifts)


@definition(
    "G'",
    "spare air is let out, or it drives out the carbon dioxide that holds the pH down",
    example="admitted_air_flow(3.0, 2.0) == 2.0; admitted_air_flow(1.0, 2.0) == 1.0",
)
def admitted_air_flow(air_flow: kinds.AirFlow, required: kinds.AirFlow) -> kinds.AirFlow:
    """Air that is let into the water: what is needed, or all there is."""
    return least(air_flow, required)


@definition("G_1", valid="equal machines", example="air_each(6.0, 3.0) == 2.0")
def air_each(air_flow: kinds.AirFlow, count: kinds.Count) -> kinds.AirFlow:
    """Air of one of so many machines, from the air of all."""
    return air_flow / most(count, 1.0)


@definition(
    "G",
    "machines of one make give air in proportion to their watts",
    valid="a machine near the size that is compared",
    basis="common practice",
    example="air_by_watts(2.0, 300.0, 100.0) == 6.0",
)
def air_by_watts(each: kinds.AirFlow, watts: kinds.Power, plate: kinds.Power) -> kinds.AirFlow:
    """Air of machines known by their watts alone, from a machine of known air and watts."""
    return each * ratio(watts, plate)


@equation(
    latex=r"n' = \max\left(0, \lceil \frac{@air_flow \cdot \frac{@mean_demand}{@oxygen_demand} +"
    r" @to_airlifts}{@each} - 10^{-9} \rceil + 1 - @count\right)",
    source="the mean load is carried with one machine off: two air sources from the first fish",
    valid="equal machines",
    basis="common practice",
)
def spare_machines(
    air_flow: kinds.AirFlow,
    each: kinds.AirFlow,
    mean_demand: kinds.OxygenRate,
    oxygen_demand: kinds.OxygenRate,
    to_airlifts: kinds.AirFlow,
    count: kinds.Count,
) -> kinds.Count:
    """Standby machines beside those that run, so that any one may fail.

    Zero where that size gives no air at the pressure.

    >>> spare_machines(5.0, 6.0, 0.5, 1.0, 0.0, 1.0)
    1.0
    """
    mean = air_flow * ratio(mean_demand, oxygen_demand) + to_airlifts
    needed = ceil(ratio(mean, each) - 1e-9) + 1.0
    return where(each > 0.0, most(0.0, needed - count), 0.0)


@definition("G", valid="equal machines", example="air_after_failure(2.0, 2.0, 1.0, 1.0) == 3.0")
def air_after_failure(
    each: kinds.AirFlow, count: kinds.Count, spare: kinds.Count, to_airlifts: kinds.AirFlow
) -> kinds.AirFlow:
    """Air for the stones when one machine has failed and the spares run."""
    return most(0.0, each * most(count + spare - 1.0, 0.0) - to_airlifts)


@definition(
    "n'",
    "feed drives the oxygen: on the day of mean feed so many bring the busiest hour's air",
    valid="equal machines that can be switched one by one",
    basis="common practice",
    example="machines_on_mean_day(5.0, 2.0, 0.5, 1.0, 0.0, 3.0) == 2.0",
)
def machines_on_mean_day(
    air_flow: kinds.AirFlow,
    each: kinds.AirFlow,
    mean_feed: kinds.FeedRate,
    feed: kinds.FeedRate,
    to_airlifts: kinds.AirFlow,
    count: kinds.Count,
) -> kinds.Count:
    """Machines that run on the day of mean feed, all day."""
    needed = ceil(ratio(air_flow * ratio(mean_feed, feed) + to_airlifts, each) - 1e-9)
    return least(count, most(1.0, needed))


@definition("P'", valid="equal machines", example="running_power(300.0, 2.0, 3.0) == 200.0")
def running_power(
    power: kinds.Power, running_count: kinds.Count, count: kinds.Count
) -> kinds.Power:
    """Power of some of the machines, from that of all."""
    return power * ratio(running_count, count)


@definition("P'", example="installed_power(200.0, 100.0, 1.0) == 300.0")
def installed_power(power: kinds.Power, each: kinds.Power, spare: kinds.Count) -> kinds.Power:
    """Rated power of all machines, the standby ones too."""
    return power + each * spare


@definition("P'", valid="equal machines", example="power_each(600.0, 3.0) == 200.0")
def power_each(power: kinds.Power, count: kinds.Count) -> kinds.Power:
    """Power of one of so many equal machines."""
    return power / most(count, 1.0)


@definition("G", example="air_for_floor(2.0, 0.5) == 1.0")
def air_for_floor(area: kinds.Area, air_rate: kinds.HydraulicLoad) -> kinds.AirFlow:
    """Air that keeps a moving bed of carriers mixed, by its floor area."""
    return area * air_rate


@definition("G", example="larger_air(1.0, 2.0) == 2.0")
def larger_air(for_rolling: kinds.AirFlow, for_breathing: kinds.AirFlow) -> kinds.AirFlow:
    """The larger of two needs that one air flow serves."""
    return most(for_rolling, for_breathing)


@definition("P", example="total_motor_power(200.0, 50.0, 100.0) == 350.0")
def total_motor_power(
    air_power: kinds.Power, filter_power: kinds.Power, pump_power: kinds.Power
) -> kinds.Power:
    """Power of all motors: air, the filter's own air, and water."""
    return air_power + filter_power + pump_power


@definition("E", example="energy_for_harvest(300.0, 0.5) == 600.0")
def energy_for_harvest(power: kinds.Power, harvest: kinds.HarvestRate) -> kinds.EnergyPerFish:
    """Energy at the wall for each weight of fish harvested."""
    return ratio(power, harvest, float("inf"))
