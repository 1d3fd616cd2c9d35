"""Small sums of the air side."""

import numpy as np

from ..arrays import ceil, most, ratio, where
from ..equation import equation
from ..kinds import (
    AerationEfficiency,
    AirFlow,
    Concentration,
    Count,
    Energy,
    FeedRate,
    Fraction,
    Hours,
    Length,
    OxygenRate,
    Power,
    Pressure,
    Ratio,
)


@equation(
    latex=r"R = @nitrifier_oxygen \cdot \left(1 - @tank_share\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def oxygen_from_filter(nitrifier_oxygen: OxygenRate, tank_share: Fraction) -> OxygenRate:
    """Oxygen that a self-aerated filter takes from air of its own.

    Floats or arrays that broadcast.

    >>> oxygen_from_filter(1.0, 0.25)
    0.75
    """
    return nitrifier_oxygen * (1.0 - tank_share)


@equation(
    latex=r"R_t = @oxygen_demand - @from_filter",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def oxygen_for_tank(oxygen_demand: OxygenRate, from_filter: OxygenRate) -> OxygenRate:
    """Oxygen that must be brought to the tank.

    Floats or arrays that broadcast.

    >>> oxygen_for_tank(1.0, 0.25)
    0.75
    """
    return oxygen_demand - from_filter


@equation(
    latex=r"d = \max\left(@depth - @gap, 0.1\right)",
    source="common practice",
    valid="tanks",
    basis="common practice",
)
def stone_depth(depth: Length, gap: Length = 0.1) -> Length:
    """Depth of stones that lie a hand above the floor.

    Floats or arrays that broadcast.

    >>> stone_depth(0.9)
    0.8
    """
    return most(depth - gap, 0.1)


@equation(
    latex=r"R_i = @oxygen_demand \cdot \frac{@tank_feed}{@feed}",
    source="definition",
    valid="any",
    basis="derived",
)
def share_by_feed(oxygen_demand: OxygenRate, tank_feed: FeedRate, feed: FeedRate) -> OxygenRate:
    """A tank's part of an oxygen rate, by its part of the feed.

    Floats or arrays that broadcast.

    >>> share_by_feed(1.0, 0.5, 2.0)
    0.25
    """
    return oxygen_demand * ratio(tank_feed, feed)


@equation(
    latex=r"G_i = @air_flow \cdot \frac{@tank_feed}{@feed}",
    source="definition",
    valid="any",
    basis="derived",
)
def air_by_feed(air_flow: AirFlow, tank_feed: FeedRate, feed: FeedRate) -> AirFlow:
    """A tank's part of the air, by its part of the feed.

    Floats or arrays that broadcast.

    >>> air_by_feed(1.0, 0.5, 2.0)
    0.25
    """
    return air_flow * ratio(tank_feed, feed)


@equation(
    latex=r"R = @standard_rate \cdot @factor",
    source="definition",
    valid="any",
    basis="derived",
)
def field_rate(standard_rate: OxygenRate, factor: Ratio) -> OxygenRate:
    """Oxygen brought here from the rate in clean cool water.

    Floats or arrays that broadcast.

    >>> field_rate(4.0, 0.25)
    1.0
    """
    return standard_rate * factor


@equation(
    latex=r"R = @transfer \cdot \frac{\max\left(@count - 1, 0\right)}{\max\left(@count, 1\right)}",
    source="definition",
    valid="any",
    basis="derived",
)
def largest_off(transfer: OxygenRate, count: Count) -> OxygenRate:
    """Oxygen brought with one of so many equal machines off.

    Floats or arrays that broadcast.

    >>> largest_off(4.0, 2.0)
    2.0
    """
    return transfer * most(count - 1.0, 0.0) / most(count, 1.0)


@equation(
    latex=r"e = \frac{@transfer}{@power}",
    source="definition",
    valid="any",
    basis="derived",
)
def transfer_for_power(transfer: OxygenRate, power: Power) -> AerationEfficiency:
    """Oxygen brought for the energy drawn.

    Floats or arrays that broadcast.

    >>> transfer_for_power(1.0, 4.0)
    0.25
    """
    return ratio(transfer, power)


@equation(
    latex=r"C = \max\left(0, @beta \cdot @saturation - \left(@beta \cdot @saturation - "
    r"@oxygen\right) \cdot \frac{@oxygen_demand}{@transfer}\right)",
    source="transfer in proportion to the deficit, ASCE/EWRI 2-06",
    valid="any",
    basis="derived",
)
def tank_oxygen(
    saturation: Concentration,
    beta: Fraction,
    oxygen: Concentration,
    oxygen_demand: OxygenRate,
    transfer: OxygenRate,
) -> Concentration:
    """Oxygen at which transfer meets demand; the transfer given is that at the oxygen given.

    Floats or arrays that broadcast.

    >>> round(tank_oxygen(0.008, 1.0, 0.005, 1.0, 1.0), 6)
    0.005
    """
    return most(
        0.0,
        beta * saturation - (beta * saturation - oxygen) * ratio(oxygen_demand, transfer, np.inf),
    )


@equation(
    latex=r"R = @feed \cdot @per_feed \cdot @factor",
    source="older rule of the trade",
    valid="any",
    basis="from memory",
)
def rule_oxygen(feed: FeedRate, per_feed: Ratio = 0.5, factor: Ratio = 1.5) -> OxygenRate:
    """Oxygen by the older rule: half the feed, and half as much again after a meal.

    Floats or arrays that broadcast.

    >>> rule_oxygen(4.0)
    3.0
    """
    return feed * per_feed * factor


@equation(
    latex=r"p = @gauge + @atmosphere",
    source="definition",
    valid="any",
    basis="derived",
)
def absolute_pressure(gauge: Pressure, atmosphere: Pressure) -> Pressure:
    """Absolute pressure.

    Floats or arrays that broadcast.

    >>> absolute_pressure(1000.0, 100000.0)
    101000.0
    """
    return gauge + atmosphere


@equation(
    latex=r"G' = @air_flow \cdot @factor",
    source="definition",
    valid="any",
    basis="derived",
)
def thinner_air(air_flow: AirFlow, factor: Ratio) -> AirFlow:
    """Standard air from a machine that takes in thin, hot air.

    Floats or arrays that broadcast.

    >>> thinner_air(2.0, 0.5)
    1.0
    """
    return air_flow * factor


@equation(
    latex=r"n = \lceil \frac{@air_flow}{@each} - 10^{-9} \rceil",
    source="definition",
    valid="any",
    basis="derived",
)
def machines_needed(air_flow: AirFlow, each: AirFlow) -> Count:
    """Machines of one size for an air flow; 0 where that size gives none.

    Floats or arrays that broadcast.

    >>> machines_needed(5.0, 2.0)
    3.0
    """
    return ceil(ratio(air_flow, each) - 1e-9)


@equation(
    latex=r"G = @each \cdot @count",
    source="definition",
    valid="any",
    basis="derived",
)
def all_machines(each: AirFlow, count: Count) -> AirFlow:
    """Air of all machines.

    Floats or arrays that broadcast.

    >>> all_machines(2.0, 3.0)
    6.0
    """
    return each * count


@equation(
    latex=r"P = @each \cdot @count",
    source="definition",
    valid="any",
    basis="derived",
)
def all_watts(each: Power, count: Count) -> Power:
    """Plate watts of all machines.

    Floats or arrays that broadcast.

    >>> all_watts(200.0, 3.0)
    600.0
    """
    return each * count


@equation(
    latex=r"P = @air_power + @pump_power",
    source="definition",
    valid="any",
    basis="derived",
)
def watts_together(air_power: Power, pump_power: Power) -> Power:
    """Power of air and water together.

    Floats or arrays that broadcast.

    >>> watts_together(200.0, 100.0)
    300.0
    """
    return air_power + pump_power


@equation(
    latex=r"E = @power \cdot @time",
    source="definition",
    valid="any",
    basis="derived",
)
def energy_used(power: Power, time: Hours) -> Energy:
    """Energy drawn in a time.

    Floats or arrays that broadcast.

    >>> energy_used(100.0, 3600.0)
    360000.0
    """
    return power * time


@equation(
    latex=r"G' = @air_flow \cdot \frac{@rule_demand}{@oxygen_demand}",
    source="in proportion to the oxygen",
    valid="any",
    basis="derived",
)
def rule_air(air_flow: AirFlow, rule_demand: OxygenRate, oxygen_demand: OxygenRate) -> AirFlow:
    """Air by the older rule for oxygen.

    Floats or arrays that broadcast.

    >>> rule_air(2.0, 1.0, 2.0)
    1.0
    """
    return air_flow * ratio(rule_demand, oxygen_demand)


@equation(
    latex=r"n = \max\left(\lceil \frac{@air_flow}{@each} - 10^{-9} \rceil,"
    r" \lceil \frac{@air_flow \cdot @mean_demand}{@each \cdot @oxygen_demand} - 10^{-9} \rceil + 1\right)",
    source="the mean load is carried with one machine off: two air sources from the first fish",
    valid="equal machines",
    basis="common practice",
)
def machines_with_spare(
    air_flow: AirFlow, each: AirFlow, mean_demand: OxygenRate, oxygen_demand: OxygenRate
) -> Count:
    """Machines that bring the air of the busiest hour, and that of the mean hour with one off.

    Floats or arrays that broadcast; 0 where that size gives no air at the pressure.

    >>> machines_with_spare(5.0, 6.0, 0.5, 1.0)
    2.0
    """
    all_on = ceil(ratio(air_flow, each) - 1e-9)
    one_off = ceil(ratio(air_flow * mean_demand, each * oxygen_demand) - 1e-9) + 1.0
    return where(each > 0.0, most(all_on, one_off), 0.0)
