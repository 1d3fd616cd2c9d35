"""Plant beds: nitrogen that the plants take, ammonia that the film in the beds turns to nitrate."""

from ...core.equation import definition
from ...core.kinds import AmmoniaLoad, Area, ArealRate, FeedRate


@definition(
    "A",
    "Rakocy 2007: 60 to 100 g of feed for each m² and day on rafts",
    valid="leafy crops on rafts",
    basis="seen",
    example="area_for_feed(4.0, 2.0) == 2.0",
)
def area_for_feed(feed: FeedRate, feed_ratio: ArealRate) -> Area:
    """Plant bed that can use the nitrogen of a feed."""
    return feed / feed_ratio


@definition(
    "F",
    "Rakocy 2007: 60 to 100 g of feed for each m² and day on rafts",
    valid="leafy crops on rafts",
    basis="seen",
    example="feed_supported(2.0, 2.0) == 4.0",
)
def feed_supported(area: Area, feed_ratio: ArealRate) -> FeedRate:
    """Feed whose nitrogen a plant bed can use."""
    return area * feed_ratio


@definition(
    "N",
    "definition; 0.43 and 0.52 g for each m² and day in tomato fruit, Graber and Junge 2009",
    valid="a full bed that grows",
    example="nitrogen_uptake(2.0, 0.5) == 1.0",
)
def nitrogen_uptake(area: Area, uptake_rate: ArealRate) -> AmmoniaLoad:
    """Nitrogen that a plant bed takes up."""
    return area * uptake_rate


@definition(
    "P",
    "definition; the rate by the kind of bed",
    valid="a ripe bed with air in its water",
    example="bed_nitrification(2.0, 0.5) == 1.0",
)
def bed_nitrification(area: Area, bed_rate: ArealRate) -> AmmoniaLoad:
    """Ammonia nitrogen that the film in plant beds could turn to nitrate."""
    return area * bed_rate
