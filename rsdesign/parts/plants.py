"""Plants as a sink of nitrogen."""

from ..equation import equation
from ..kinds import AmmoniaLoad, Area, ArealRate, FeedRate


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
    source="definition",
    valid="any",
    basis="derived",
)
def nitrogen_uptake(area: Area, uptake_rate: ArealRate) -> AmmoniaLoad:
    """Nitrogen that a plant bed takes up.

    Floats or arrays that broadcast.

    >>> nitrogen_uptake(2.0, 0.5)
    1.0
    """
    return area * uptake_rate
