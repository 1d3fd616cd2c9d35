"""Small sums of the air side."""

import numpy as np

from ...core.arrays import most, ratio
from ...core.equation import equation
from ...core.kinds import (
    AerationEfficiency,
    AirFlow,
    Concentration,
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
    latex=r"x = \frac{@beta \cdot @sea_level_saturation - @oxygen}{@beta \cdot @saturation - "
    r"@oxygen}",
    source="transfer in proportion to the deficit, ASCE/EWRI 2-06",
    valid="the same stones, pipes and demand",
    basis="derived",
)
def air_over_sea_level(
    sea_level_saturation: Concentration,
    saturation: Concentration,
    beta: Fraction,
    oxygen: Concentration,
) -> Ratio:
    """Air needed at this height over that at sea level.

    Floats or arrays that broadcast.

    >>> round(air_over_sea_level(0.008, 0.0065, 1.0, 0.005), 6)
    2.0
    """
    return ratio(
        beta * sea_level_saturation - oxygen, most(beta * saturation - oxygen, 0.0), np.inf
    )


@equation(
    latex=r"C = @beta \cdot @saturation - \frac{@beta \cdot @sea_level_saturation - "
    r"@oxygen}{@times_sea_level}",
    source="transfer in proportion to the deficit, ASCE/EWRI 2-06",
    valid="the same stones, pipes and demand",
    basis="derived",
)
def oxygen_as_at_sea_level(
    sea_level_saturation: Concentration,
    saturation: Concentration,
    beta: Fraction,
    oxygen: Concentration,
    times_sea_level: Ratio = 2.0,
) -> Concentration:
    """Oxygen that may be kept here with no more than so many times the air of sea level.

    Floats or arrays that broadcast.

    >>> round(oxygen_as_at_sea_level(0.008, 0.0065, 1.0, 0.005), 6)
    0.005
    """
    return beta * saturation - (beta * sea_level_saturation - oxygen) / times_sea_level


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
