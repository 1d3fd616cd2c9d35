"""Plant beds: nitrogen that the plants take, ammonia that the film in the beds turns to nitrate."""

from ...core.equation import equation
from ...core.kinds import AmmoniaLoad, Area, ArealRate, FeedRate


@equation(
    latex=r"A = \frac{@feed}{@feed_ratio}",
    source="Rakocy 2007: 60 to 100 g of feed for each m² and day on rafts",
    valid="leafy crops on rafts",
)
def area_for_feed(feed: FeedRate, feed_ratio: ArealRate) -> Area:
    """Plant bed that can use the nitrogen of a feed.

    Floats or arrays that broadcast.

    >>> area_for_feed(4.0, 2.0)
    2.0
    """
    return feed / feed_ratio


@equation(
    latex=r"F = @area \cdot @feed_ratio",
    source="Rakocy 2007: 60 to 100 g of feed for each m² and day on rafts",
    valid="leafy crops on rafts",
)
def feed_supported(area: Area, feed_ratio: ArealRate) -> FeedRate:
    """Feed whose nitrogen a plant bed can use.

    Floats or arrays that broadcast.

    >>> feed_supported(2.0, 2.0)
    4.0
    """
    return area * feed_ratio


@equation(
    latex=r"N = @area \cdot @uptake_rate",
    source="definition; 0.43 and 0.52 g for each m² and day in tomato fruit, Graber and Junge 2009",
    valid="a full bed that grows",
    basis="derived",
)
def nitrogen_uptake(area: Area, uptake_rate: ArealRate) -> AmmoniaLoad:
    """Nitrogen that a plant bed takes up.

    Floats or arrays that broadcast.

    >>> nitrogen_uptake(2.0, 0.5)
    1.0
    """
    return area * uptake_rate


@equation(
    latex=r"P = @area \cdot @bed_rate",
    source="definition; the rate by the kind of bed",
    valid="a ripe bed with air in its water",
    basis="derived",
)
def bed_nitrification(area: Area, bed_rate: ArealRate) -> AmmoniaLoad:
    """Ammonia nitrogen that the film in plant beds could turn to nitrate.

    Floats or arrays that broadcast.

    >>> bed_nitrification(2.0, 0.5)
    1.0
    """
    return area * bed_rate
