"""Definitions for the stocking plan and the tanks that hold it."""

from ...core.arrays import floor, least, most, ratio
from ...core.equation import definition
from ...core.kinds import Count, Days, FeedRate, FishWeight, HarvestRate, Mass, Ratio, Volume
from ...core.unit_table import DAY


@definition("t_i", example="batch_interval(197.0, 14.0) == 211.0")
def batch_interval(cycle: Days, rest: Days) -> Days:
    """Days between batches when one batch at a time is kept."""
    return cycle + rest


@definition("n", example="tanks_for_batch(8.0, 4.0) == 2.0")
def tanks_for_batch(tanks: Count, cohorts: Count) -> Count:
    """Tanks that one batch fills."""
    return most(1.0, floor(tanks / cohorts + 1e-9))


@definition("F_i", example="fullest_tank_feed(4.0, 1.5, 4.0, 1.0) == 1.5")
def fullest_tank_feed(
    feed: FeedRate, batch_feed: FeedRate, tanks: Count, tanks_each: Count
) -> FeedRate:
    """Feed on the biggest day in the tank that gets most."""
    return most(batch_feed / tanks_each, feed / tanks)


@definition("B_i", example="fullest_tank_biomass(400.0, 150.0, 4.0, 1.0) == 150.0")
def fullest_tank_biomass(
    biomass: Mass, batch_biomass: Mass, tanks: Count, tanks_each: Count
) -> Mass:
    """Most fish in one tank."""
    return most(batch_biomass / tanks_each, biomass / tanks)


@definition("G", example="growth_from_feed(3.2, 1.6) == 2.0")
def growth_from_feed(feed: FeedRate, feed_conversion: Ratio) -> FeedRate:
    """Weight gained in a time on a feed."""
    return feed / feed_conversion


@definition("G", example="round(batch_gain(100.0, 0.6, 0.1), 9) == 50.0")
def batch_gain(fish: Count, weight: FishWeight, stocking_weight: FishWeight) -> Mass:
    """Weight that a batch gains."""
    return fish * (weight - stocking_weight)


@definition("F", example="feed_for_batch(50.0, 1.6) == 80.0")
def feed_for_batch(gain: Mass, feed_conversion: Ratio) -> Mass:
    """Feed that a batch eats."""
    return gain * feed_conversion


@definition("H", example="round(harvest_per_year(100.0, 0.5, 50.0) * 86400, 6) == 1.0")
def harvest_per_year(fish: Count, weight: FishWeight, interval: Days) -> HarvestRate:
    """Fish harvested over time."""
    return fish * weight / (DAY * interval)


@definition("V_t", example="volume_of_all(8.5, 2.0) == 17.0")
def volume_of_all(volume: Volume, tanks: Count) -> Volume:
    """Water in all tanks."""
    return volume * tanks


@definition(
    "V_c",
    "volume beyond what the fish need is not counted on",
    example="counted_volume(3.0, 4.0) == 3.0",
)
def counted_volume(required_volume: Volume, volume: Volume) -> Volume:
    """Water that the flow needed counts on."""
    return least(required_volume, volume)


@definition(
    "F_r",
    "younger batches eat more of their weight, in the proportion that growth gives",
    example="feed_in_proportion(3.0, 1.0, 2.0) == 1.5",
)
def feed_in_proportion(feed: FeedRate, batch_feed: FeedRate, by_growth: FeedRate) -> FeedRate:
    """Feed on the biggest day where a batch before harvest eats another share of its weight."""
    return feed * ratio(batch_feed, by_growth, 1.0)
