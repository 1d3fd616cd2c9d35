"""Small sums of flows and their limits."""

from ...core.arrays import finite, for_load, index_of_largest, least, most, ratio
from ...core.equation import equation
from ...core.kinds import (
    Concentration,
    Count,
    DailyFlow,
    FeedRate,
    Flow,
    Fraction,
    Index,
    Minutes,
    OxygenRate,
    SmallVolume,
    Time,
    Volume,
)


@equation(
    latex=r"S_m = \min\left(@total_ammonia, @bearable\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def ammonia_limit(total_ammonia: Concentration, bearable: Concentration) -> Concentration:
    """Total ammonia to hold: the user's limit, or less where the water makes it more poisonous.

    Floats or arrays that broadcast.

    >>> ammonia_limit(0.001, 0.0004)
    0.0004
    """
    return least(total_ammonia, bearable)


@equation(
    latex=r"C = \max\left(@oxygen, @saturation \cdot @beta \cdot @return_saturation\right)",
    source="self-aerated filters return water near saturation",
    valid="any",
    basis="common practice",
)
def oxygen_returned(
    saturation: Concentration, beta: Fraction, return_saturation: Fraction, oxygen: Concentration
) -> Concentration:
    """Oxygen in the water that comes back to the tank.

    Floats or arrays that broadcast.

    >>> oxygen_returned(0.008, 1.0, 0.5, 0.005)
    0.005
    """
    return most(oxygen, saturation * beta * return_saturation)


@equation(
    latex=r"Q = \frac{\max\left(0, @oxygen_demand \cdot \left(1 - 10^{-9}\right) - "
    r"@transfer\right)}{@return_oxygen - @oxygen}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def oxygen_flow(
    oxygen_demand: OxygenRate,
    transfer: OxygenRate,
    return_oxygen: Concentration,
    oxygen: Concentration,
) -> Flow:
    """Flow that carries the oxygen which the air does not bring; none where air is enough.

    Floats or arrays that broadcast.

    >>> round(oxygen_flow(3.0, 1.0, 6.0, 5.0), 6)
    2.0
    """
    return for_load(most(0.0, oxygen_demand * (1.0 - 1e-9) - transfer), return_oxygen - oxygen)


@equation(
    latex=r"Q = \frac{\max\left(0, @production - @by_air - @exchange \cdot \left(@limit - "
    r"@source\right)\right)}{@stripped \cdot \left(@limit - @equilibrium\right)}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def carbon_dioxide_flow(
    production: OxygenRate,
    by_air: OxygenRate,
    exchange: DailyFlow,
    source: Concentration,
    limit: Concentration,
    equilibrium: Concentration,
    stripped: Fraction,
) -> Flow:
    """Flow through a stripping filter that holds carbon dioxide; none where air is enough.

    Floats or arrays that broadcast.

    >>> carbon_dioxide_flow(3.0, 1.0, 0.0, 0.0, 5.0, 1.0, 0.5)
    1.0
    """
    return for_load(
        most(0.0, production - by_air - exchange * (limit - source)),
        stripped * (limit - equilibrium),
    )


@equation(
    latex=r"Q = \max\left(@for_ammonia, @for_carbon_dioxide, @for_fines\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def largest_flow(for_ammonia: Flow, for_carbon_dioxide: Flow, for_fines: Flow) -> Flow:
    """The largest flow asked for; what no flow can hold is left to its own check.

    Floats or arrays that broadcast.

    >>> largest_flow(1.0, 2.0, float("inf"))
    2.0
    """
    return most(for_ammonia, finite(for_carbon_dioxide), finite(for_fines))


@equation(
    latex=r"i = \arg\max\left(@for_ammonia, @for_carbon_dioxide, @for_fines\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def governing(for_ammonia: Flow, for_carbon_dioxide: Flow, for_fines: Flow) -> Index:
    """Which flow is largest: 0 ammonia, 1 carbon dioxide, 2 fine waste.

    Floats or arrays that broadcast.

    >>> governing(1.0, 2.0, 0.5)
    1.0
    """
    return index_of_largest(for_ammonia, finite(for_carbon_dioxide), finite(for_fines))


@equation(
    latex=r"Q' = \frac{@flow \cdot @tanks \cdot @tank_feed}{@feed}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def equal_split_flow(flow: Flow, tanks: Count, tank_feed: FeedRate, feed: FeedRate) -> Flow:
    """Flow needed where every tank gets the same and the fullest must still be held.

    Floats or arrays that broadcast.

    >>> equal_split_flow(1.0, 4.0, 3.0, 8.0)
    1.5
    """
    return flow * ratio(tanks * tank_feed, feed, 1.0)


@equation(
    latex=r"Q_i = \frac{@flow}{@tanks}",
    source="definition",
    valid="any",
    basis="derived",
)
def equal_flow(flow: Flow, tanks: Count) -> Flow:
    """Flow of each tank, shared equally.

    Floats or arrays that broadcast.

    >>> equal_flow(4.0, 2.0)
    2.0
    """
    return flow / tanks


@equation(
    latex=r"Q_i = @flow \cdot \frac{@tank_feed}{@feed}",
    source="definition",
    valid="any",
    basis="derived",
)
def flow_by_feed(flow: Flow, tank_feed: FeedRate, feed: FeedRate) -> Flow:
    """Flow of a tank, shared by feed.

    Floats or arrays that broadcast.

    >>> flow_by_feed(4.0, 1.0, 4.0)
    1.0
    """
    return flow * ratio(tank_feed, feed, 1.0)


@equation(
    latex=r"Q = \frac{@volume}{@time}",
    source="turnover every 30 to 60 minutes",
    valid="small warm-water tanks",
    basis="common practice",
)
def turnover_rule(volume: Volume, time: Minutes = 3600.0) -> Flow:  # units of the source
    """Flow by the rule of thumb: the water of the tanks once an hour.

    Floats or arrays that broadcast.

    >>> turnover_rule(7200.0)
    2.0
    """
    return volume / time


@equation(
    latex=r"Q = \frac{@volume}{@time}",
    source="definition",
    valid="any",
    basis="derived",
)
def bucket_flow(volume: SmallVolume, time: Time) -> Flow:
    """Flow from the time that a bucket takes to fill.

    Floats or arrays that broadcast.

    >>> bucket_flow(0.02, 20.0)
    0.001
    """
    return volume / time
