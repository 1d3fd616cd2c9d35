"""Definitions for the air side."""

import numpy as np

from ...core import kinds
from ...core.arrays import most, ratio
from ...core.equation import definition


@definition("R", example="oxygen_from_filter(1.0, 0.25) == 0.75")
def oxygen_from_filter(
    nitrifier_oxygen: kinds.OxygenRate, tank_share: kinds.Fraction
) -> kinds.OxygenRate:
    """Oxygen that a self-aerated filter takes from air of its own."""
    return nitrifier_oxygen * (1.0 - tank_share)


@definition("R_t", "conservation of mass", example="oxygen_for_tank(1.0, 0.25) == 0.75")
def oxygen_for_tank(
    oxygen_demand: kinds.OxygenRate, from_filter: kinds.OxygenRate
) -> kinds.OxygenRate:
    """Oxygen that must be brought to the tank."""
    return oxygen_demand - from_filter


@definition(
    "d",
    "common practice",
    valid="tanks",
    basis="common practice",
    example="stone_depth(0.9) == 0.8",
)
def stone_depth(depth: kinds.Length, gap: kinds.Length = 0.1) -> kinds.Length:
    """Depth of air stones a little above the floor."""
    return most(depth - gap, 0.1)


@definition("R_i", example="share_by_feed(1.0, 0.5, 2.0) == 0.25")
def share_by_feed(
    oxygen_demand: kinds.OxygenRate, tank_feed: kinds.FeedRate, feed: kinds.FeedRate
) -> kinds.OxygenRate:
    """A tank's part of an oxygen rate, by its part of the feed."""
    return oxygen_demand * ratio(tank_feed, feed)


@definition("G_i", example="air_by_feed(1.0, 0.5, 2.0) == 0.25")
def air_by_feed(
    air_flow: kinds.AirFlow, tank_feed: kinds.FeedRate, feed: kinds.FeedRate
) -> kinds.AirFlow:
    """A tank's part of the air, by its part of the feed."""
    return air_flow * ratio(tank_feed, feed)


@definition("R", example="field_rate(4.0, 0.25) == 1.0")
def field_rate(standard_rate: kinds.OxygenRate, factor: kinds.Ratio) -> kinds.OxygenRate:
    """Oxygen brought here from the rate in clean cool water."""
    return standard_rate * factor


@definition("e", example="transfer_for_power(1.0, 4.0) == 0.25")
def transfer_for_power(transfer: kinds.OxygenRate, power: kinds.Power) -> kinds.AerationEfficiency:
    """Oxygen brought for the energy drawn."""
    return ratio(transfer, power)


@definition(
    "C",
    "transfer in proportion to the deficit, ASCE/EWRI 2-06",
    example="round(tank_oxygen(0.008, 1.0, 0.005, 1.0, 1.0), 6) == 0.005",
)
def tank_oxygen(
    saturation: kinds.Concentration,
    beta: kinds.Fraction,
    oxygen: kinds.Concentration,
    oxygen_demand: kinds.OxygenRate,
    transfer: kinds.OxygenRate,
) -> kinds.Concentration:
    """Oxygen at which transfer meets demand; the transfer given is that at the oxygen given."""
    return most(
        0.0,
        beta * saturation - (beta * saturation - oxygen) * ratio(oxygen_demand, transfer, np.inf),
    )


@definition("R", "older rule of thumb", basis="from memory", example="rule_oxygen(4.0) == 3.0")
def rule_oxygen(
    feed: kinds.FeedRate, per_feed: kinds.Ratio = 0.5, factor: kinds.Ratio = 1.5
) -> kinds.OxygenRate:
    """Oxygen by an older rule of thumb: half the feed, and half as much again after a meal."""
    return feed * per_feed * factor


@definition("p", example="absolute_pressure(1000.0, 100000.0) == 101000.0")
def absolute_pressure(gauge: kinds.Pressure, atmosphere: kinds.Pressure) -> kinds.Pressure:
    """Absolute pressure."""
    return gauge + atmosphere


@definition("G'", "in proportion to the oxygen", example="rule_air(2.0, 1.0, 2.0) == 1.0")
def rule_air(
    air_flow: kinds.AirFlow, rule_demand: kinds.OxygenRate, oxygen_demand: kinds.OxygenRate
) -> kinds.AirFlow:
    """Air by the older rule of thumb for oxygen."""
    return air_flow * ratio(rule_demand, oxygen_demand)


@definition(
    "x",
    "transfer in proportion to the deficit, ASCE/EWRI 2-06",
    valid="the same stones, pipes and demand",
    example="round(air_over_sea_level(0.008, 0.0065, 1.0, 0.005), 6) == 2.0",
)
def air_over_sea_level(
    sea_level_saturation: kinds.Concentration,
    saturation: kinds.Concentration,
    beta: kinds.Fraction,
    oxygen: kinds.Concentration,
) -> kinds.Ratio:
    """Air needed at this height over that at sea level."""
    return ratio(
        beta * sea_level_saturation - oxygen, most(beta * saturation - oxygen, 0.0), np.inf
    )


@definition(
    "C",
    "transfer in proportion to the deficit, ASCE/EWRI 2-06",
    valid="the same stones, pipes and demand",
    example="round(oxygen_as_at_sea_level(0.008, 0.0065, 1.0, 0.005), 6) == 0.005",
)
def oxygen_as_at_sea_level(
    sea_level_saturation: kinds.Concentration,
    saturation: kinds.Concentration,
    beta: kinds.Fraction,
    oxygen: kinds.Concentration,
    times_sea_level: kinds.Ratio = 2.0,
) -> kinds.Concentration:
    """Oxygen that may be kept here with no more than so many times the air of sea level."""
    return beta * saturation - (beta * sea_level_saturation - oxygen) / times_sea_level


@definition("E", example="energy_used(100.0, 3600.0) == 360000.0")
def energy_used(power: kinds.Power, time: kinds.Hours) -> kinds.Energy:
    """Energy drawn in a time."""
    return power * time
