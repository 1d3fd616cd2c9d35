"""What a full year takes and brings, from what a day does: the small products of a budget."""

from ...core.equation import definition
from ...core.kinds import Count, FeedRate, Fraction, Mass, Money, Ratio, Time, Volume


@definition("Q", example="over_time(2.0, 365.25) == 730.5")
def over_time(pace: Ratio, time: Time) -> Ratio:
    """What runs at a steady pace comes to in a time."""
    return pace * time


@definition(
    "Q",
    "water and base follow the feed",
    valid="a design reckoned on its biggest day",
    example="over_feed(2.0, 300.0, 4.0) == 150.0",
)
def over_feed(pace: Ratio, feed: Mass, peak_feed: FeedRate) -> Ratio:
    """What runs at a pace on the biggest day comes to, as it follows a weight of feed."""
    return pace * (feed / peak_feed)


@definition("Q", example="repeated(150.0, 2.0) == 300.0")
def repeated(each: Ratio, times: Count) -> Ratio:
    """What comes to so much each time, so many times."""
    return each * times


@definition("n", example="times_in(100.0, 20.0) == 5.0")
def times_in(time: Time, interval: Time) -> Count:
    """How often a thing comes round in a time."""
    return time / interval


@definition("n_b", example="batches_of(300.0, 100.0, 1.5) == 2.0")
def batches_of(harvest: Mass, fish: Count, weight: Mass) -> Count:
    """How many batches a harvest is."""
    return harvest / (fish * weight)


@definition(
    "V_f",
    "each batch empties its own tanks",
    valid="tanks emptied at each harvest",
    example="fillings(30.0, 3.0, 2.0) == 20.0",
)
def fillings(volume: Volume, cohorts: Count, batches: Count) -> Volume:
    """Water that fills the tanks again after each batch."""
    return volume / cohorts * batches


@definition("x_1", example="portion(200.0, 0.25) == 50.0")
def portion(whole: Ratio, share: Fraction) -> Ratio:
    """A share of a whole."""
    return whole * share


@definition("x", example="rest(200.0, 50.0) == 150.0")
def rest(whole: Ratio, less: Ratio) -> Ratio:
    """What is left of a whole."""
    return whole - less


@definition("k", valid="fish to sell or eat", example="for_each(1000.0, 150.0, 50.0) == 5.0")
def for_each(costs: Money, sold: Mass, home: Mass) -> Ratio:
    """What falls on each weight of fish that is sold or eaten."""
    return costs / (sold + home)
