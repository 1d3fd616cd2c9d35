"""Definitions for flows and their limits."""

from ...core import kinds
from ...core.arrays import finite, for_load, index_of_largest, least, most, ratio
from ...core.equation import definition


@definition("S_m", example="ammonia_limit(0.001, 0.0004) == 0.0004")
def ammonia_limit(
    total_ammonia: kinds.Concentration, bearable: kinds.Concentration
) -> kinds.Concentration:
    """Total ammonia to hold: the user's limit, or less where the water makes it more toxic."""
    return least(total_ammonia, bearable)


@definition(
    "C",
    "self-aerated filters return water near saturation",
    basis="common practice",
    example="oxygen_returned(0.008, 1.0, 0.5, 0.005) == 0.005",
)
def oxygen_returned(
    saturation: kinds.Concentration,
    beta: kinds.Fraction,
    return_saturation: kinds.Fraction,
    oxygen: kinds.Concentration,
) -> kinds.Concentration:
    """Oxygen in the water that comes back to the tank."""
    return most(oxygen, saturation * beta * return_saturation)


@definition("Q", "conservation of mass", example="round(oxygen_flow(3.0, 1.0, 6.0, 5.0), 6) == 2.0")
def oxygen_flow(
    oxygen_demand: kinds.OxygenRate,
    transfer: kinds.OxygenRate,
    return_oxygen: kinds.Concentration,
    oxygen: kinds.Concentration,
) -> kinds.Flow:
    """Flow that carries the oxygen which the air does not bring; none where air is enough."""
    return for_load(most(0.0, oxygen_demand * (1.0 - 1e-9) - transfer), return_oxygen - oxygen)


@definition(
    "Q",
    "conservation of mass",
    example="carbon_dioxide_flow(3.0, 1.0, 0.0, 0.0, 5.0, 1.0, 0.5) == 1.0",
)
def carbon_dioxide_flow(
    production: kinds.OxygenRate,
    by_air: kinds.OxygenRate,
    exchange: kinds.DailyFlow,
    source: kinds.Concentration,
    limit: kinds.Concentration,
    equilibrium: kinds.Concentration,
    stripped: kinds.Fraction,
) -> kinds.Flow:
    """Flow through a stripping filter that holds carbon dioxide; none where air is enough."""
    return for_load(
        most(0.0, production - by_air - exchange * (limit - source)),
        stripped * (limit - equilibrium),
    )


@definition("Q")
def largest_flow(
    for_ammonia: kinds.Flow, for_carbon_dioxide: kinds.Flow, for_fines: kinds.Flow
) -> kinds.Flow:
    """The largest flow asked for; what no flow can hold is left to its own check.

    >>> largest_flow(1.0, 2.0, float("inf"))
    2.0
    """
    return most(for_ammonia, finite(for_carbon_dioxide), finite(for_fines))


@definition("i", example="governing(1.0, 2.0, 0.5) == 1.0")
def governing(
    for_ammonia: kinds.Flow, for_carbon_dioxide: kinds.Flow, for_fines: kinds.Flow
) -> kinds.Index:
    """Which flow is largest: 0 ammonia, 1 carbon dioxide, 2 fine waste."""
    return index_of_largest(for_ammonia, finite(for_carbon_dioxide), finite(for_fines))


@definition("Q'", "conservation of mass", example="equal_split_flow(1.0, 4.0, 3.0, 8.0) == 1.5")
def equal_split_flow(
    flow: kinds.Flow, tanks: kinds.Count, tank_feed: kinds.FeedRate, feed: kinds.FeedRate
) -> kinds.Flow:
    """Flow needed where every tank gets the same and the fullest must still be held."""
    return flow * ratio(tanks * tank_feed, feed, 1.0)


@definition("Q_i", example="equal_flow(4.0, 2.0) == 2.0")
def equal_flow(flow: kinds.Flow, tanks: kinds.Count) -> kinds.Flow:
    """Flow of each tank, shared equally."""
    return flow / tanks


@definition("Q_i", example="flow_by_feed(4.0, 1.0, 4.0) == 1.0")
def flow_by_feed(flow: kinds.Flow, tank_feed: kinds.FeedRate, feed: kinds.FeedRate) -> kinds.Flow:
    """Flow of a tank, shared by feed."""
    return flow * ratio(tank_feed, feed, 1.0)


@definition(
    "Q",
    "turnover every 30 to 60 minutes",
    valid="small warm-water tanks",
    basis="common practice",
    example="turnover_rule(7200.0) == 2.0",
)
def turnover_rule(
    volume: kinds.Volume, time: kinds.Minutes = 3600.0
) -> kinds.Flow:  # units of the source
    """Flow by the rule of thumb: the water of the tanks once an hour."""
    return volume / time


@definition("Q", example="bucket_flow(0.02, 20.0) == 0.001")
def bucket_flow(volume: kinds.SmallVolume, time: kinds.Time) -> kinds.Flow:
    """Flow from the time that a bucket takes to fill."""
    return volume / time
