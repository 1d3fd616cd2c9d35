"""What a full year takes and brings, from what a day does: the small products of a budget."""

from ...core.equation import equation
from ...core.kinds import Count, FeedRate, Fraction, Mass, Money, Ratio, Time, Volume


@equation(latex=r"Q = @pace \cdot @time", source="definition", valid="any", basis="derived")
def over_time(pace: Ratio, time: Time) -> Ratio:
    """What runs at a steady pace comes to in a time.

    Floats or arrays that broadcast.

    >>> over_time(2.0, 365.25)
    730.5
    """
    return pace * time


@equation(
    latex=r"Q = @pace \cdot \frac{@feed}{@peak_feed}",
    source="water and base follow the feed",
    valid="a design reckoned on its biggest day",
    basis="derived",
)
def over_feed(pace: Ratio, feed: Mass, peak_feed: FeedRate) -> Ratio:
    """What runs at a pace on the biggest day comes to, as it follows a weight of feed.

    >>> over_feed(2.0, 300.0, 4.0)
    150.0
    """
    return pace * (feed / peak_feed)


@equation(latex=r"Q = @each \cdot @times", source="definition", valid="any", basis="derived")
def repeated(each: Ratio, times: Count) -> Ratio:
    """What comes to so much each time, so many times.

    >>> repeated(150.0, 2.0)
    300.0
    """
    return each * times


@equation(latex=r"n = \frac{@time}{@interval}", source="definition", valid="any", basis="derived")
def times_in(time: Time, interval: Time) -> Count:
    """How often a thing comes round in a time.

    >>> times_in(100.0, 20.0)
    5.0
    """
    return time / interval


@equation(
    latex=r"n_b = \frac{@harvest}{@fish \cdot @weight}",
    source="definition",
    valid="any",
    basis="derived",
)
def batches_of(harvest: Mass, fish: Count, weight: Mass) -> Count:
    """How many batches a harvest is.

    >>> batches_of(300.0, 100.0, 1.5)
    2.0
    """
    return harvest / (fish * weight)


@equation(
    latex=r"V_f = \frac{@volume}{@cohorts} @batches",
    source="each batch empties its own tanks",
    valid="tanks emptied at each harvest",
    basis="derived",
)
def fillings(volume: Volume, cohorts: Count, batches: Count) -> Volume:
    """Water that fills the tanks again after each batch.

    >>> fillings(30.0, 3.0, 2.0)
    20.0
    """
    return volume / cohorts * batches


@equation(latex=r"x_1 = @whole \cdot @share", source="definition", valid="any", basis="derived")
def portion(whole: Ratio, share: Fraction) -> Ratio:
    """A share of a whole.

    >>> portion(200.0, 0.25)
    50.0
    """
    return whole * share


@equation(latex=r"x = @whole - @less", source="definition", valid="any", basis="derived")
def rest(whole: Ratio, less: Ratio) -> Ratio:
    """What is left of a whole.

    >>> rest(200.0, 50.0)
    150.0
    """
    return whole - less


@equation(
    latex=r"k = \frac{@costs}{@sold + @home}", source="definition", valid="fish to sell or eat",
    basis="derived",
)  # fmt: skip
def for_each(costs: Money, sold: Mass, home: Mass) -> Ratio:
    """What falls on each weight of fish that is sold or eaten.

    >>> for_each(1000.0, 150.0, 50.0)
    5.0
    """
    return costs / (sold + home)
