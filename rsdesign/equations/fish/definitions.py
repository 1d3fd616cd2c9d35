"""Small sums of the stocking plan and the tanks that hold it."""

from ...core.arrays import floor, least, most, ratio
from ...core.equation import equation
from ...core.kinds import Count, Days, FeedRate, FishWeight, HarvestRate, Mass, Ratio, Volume
from ...core.unit_table import DAY


@equation(
    latex=r"t_i = @cycle + @rest",
    source="definition",
    valid="any",
    basis="derived",
)
def batch_interval(cycle: Days, rest: Days) -> Days:
    """Days between batches when one batch at a time is kept.

    Floats or arrays that broadcast.

    >>> batch_interval(197.0, 14.0)
    211.0
    """
    return cycle + rest


@equation(
    latex=r"n = \max\left(1, \lfloor \frac{@tanks}{@cohorts} + 10^{-9} \rfloor\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def tanks_for_batch(tanks: Count, cohorts: Count) -> Count:
    """Tanks that one batch fills.

    Floats or arrays that broadcast.

    >>> tanks_for_batch(8.0, 4.0)
    2.0
    """
    return most(1.0, floor(tanks / cohorts + 1e-9))


@equation(
    latex=r"F_i = \max\left(\frac{@batch_feed}{@tanks_each}, \frac{@feed}{@tanks}\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def fullest_tank_feed(
    feed: FeedRate, batch_feed: FeedRate, tanks: Count, tanks_each: Count
) -> FeedRate:
    """Feed on the biggest day in the tank that gets most.

    Floats or arrays that broadcast.

    >>> fullest_tank_feed(4.0, 1.5, 4.0, 1.0)
    1.5
    """
    return most(batch_feed / tanks_each, feed / tanks)


@equation(
    latex=r"B_i = \max\left(\frac{@batch_biomass}{@tanks_each}, \frac{@biomass}{@tanks}\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def fullest_tank_biomass(
    biomass: Mass, batch_biomass: Mass, tanks: Count, tanks_each: Count
) -> Mass:
    """Most fish in one tank.

    Floats or arrays that broadcast.

    >>> fullest_tank_biomass(400.0, 150.0, 4.0, 1.0)
    150.0
    """
    return most(batch_biomass / tanks_each, biomass / tanks)


@equation(
    latex=r"G = \frac{@feed}{@feed_conversion}",
    source="definition",
    valid="any",
    basis="derived",
)
def growth_from_feed(feed: FeedRate, feed_conversion: Ratio) -> FeedRate:
    """Weight gained in a time on a feed.

    Floats or arrays that broadcast.

    >>> growth_from_feed(3.2, 1.6)
    2.0
    """
    return feed / feed_conversion


@equation(
    latex=r"G = @fish \cdot \left(@weight - @stocking_weight\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def batch_gain(fish: Count, weight: FishWeight, stocking_weight: FishWeight) -> Mass:
    """Weight that a batch gains.

    Floats or arrays that broadcast.

    >>> round(batch_gain(100.0, 0.6, 0.1), 9)
    50.0
    """
    return fish * (weight - stocking_weight)


@equation(
    latex=r"F = @gain \cdot @feed_conversion",
    source="definition",
    valid="any",
    basis="derived",
)
def feed_for_batch(gain: Mass, feed_conversion: Ratio) -> Mass:
    """Feed that a batch eats.

    Floats or arrays that broadcast.

    >>> feed_for_batch(50.0, 1.6)
    80.0
    """
    return gain * feed_conversion


@equation(
    latex=r"H = \frac{@fish \cdot @weight}{86400 \cdot @interval}",
    source="definition",
    valid="any",
    basis="derived",
)
def harvest_per_year(fish: Count, weight: FishWeight, interval: Days) -> HarvestRate:
    """Fish harvested over time.

    Floats or arrays that broadcast.

    >>> round(harvest_per_year(100.0, 0.5, 50.0) * 86400, 6)
    1.0
    """
    return fish * weight / (DAY * interval)


@equation(
    latex=r"V_t = @volume \cdot @tanks",
    source="definition",
    valid="any",
    basis="derived",
)
def volume_of_all(volume: Volume, tanks: Count) -> Volume:
    """Water in all tanks.

    Floats or arrays that broadcast.

    >>> volume_of_all(8.5, 2.0)
    17.0
    """
    return volume * tanks


@equation(
    latex=r"V_c = \min\left(@required_volume, @volume\right)",
    source="room beyond what the fish need is not counted on",
    valid="any",
    basis="derived",
)
def counted_volume(required_volume: Volume, volume: Volume) -> Volume:
    """Water that the flow needed counts on.

    Floats or arrays that broadcast.

    >>> counted_volume(3.0, 4.0)
    3.0
    """
    return least(required_volume, volume)


@equation(
    latex=r"F_r = @feed \cdot \frac{@batch_feed}{@by_growth}",
    source="younger batches eat more of their weight, in the proportion that growth gives",
    valid="any",
    basis="derived",
)
def feed_in_proportion(feed: FeedRate, batch_feed: FeedRate, by_growth: FeedRate) -> FeedRate:
    """Feed on the biggest day where a batch before harvest eats another share of its weight.

    Floats or arrays that broadcast.

    >>> feed_in_proportion(3.0, 1.0, 2.0)
    1.5
    """
    return feed * ratio(batch_feed, by_growth, 1.0)
