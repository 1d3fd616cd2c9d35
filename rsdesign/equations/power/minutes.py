"""Minutes to act: how long the fish have from the moment the air stops, and the range of it.

One relation serves the sizing, the outage study, the pages and the hand-out.  The use is held as it
is at the start; what the surface brings counts at the long end alone, so that the likely time lies
on the safe side.
"""

from ...core import kinds
from ...core.arrays import least, most
from ...core.equation import definition
from . import backup

BREATHS = (0.65, 0.30)
"""Oxygen that fish use for each unit of feed: most and least that is likely; derived."""

ENDS = ("short", "likely", "long")


@definition(
    "C",
    "spare air is let out, so no more than the oxygen to keep is held; short air holds less",
    example="oxygen_at_stop(0.005, 0.006) == 0.005; oxygen_at_stop(0.005, 0.003) == 0.003",
)
def oxygen_at_stop(keep: kinds.Concentration, held: kinds.Concentration) -> kinds.Concentration:
    """Oxygen in the water in the moment the air stops."""
    return least(keep, held)


@definition(
    "x",
    "0.30 to 0.65 kg of oxygen for each kg of feed, from the carbon of the feed",
    valid="fish alone",
    example="breathing_most(0.5) == 1.3; breathing_most(0.8) == 1.0",
)
def breathing_most(per_feed: kinds.Ratio, per_feed_most: kinds.Ratio = BREATHS[0]) -> kinds.Ratio:
    """Most oxygen that fish may use, over what the design counts on."""
    return most(per_feed_most / per_feed, 1.0)


@definition(
    "x",
    "0.30 to 0.65 kg of oxygen for each kg of feed, from the carbon of the feed",
    valid="fish alone",
    example="breathing_least(0.5) == 0.6; breathing_least(0.2) == 1.0",
)
def breathing_least(per_feed: kinds.Ratio, per_feed_least: kinds.Ratio = BREATHS[1]) -> kinds.Ratio:
    """Least oxygen that fish may use, over what the design counts on."""
    return least(per_feed_least / per_feed, 1.0)


@definition("R", "definition of the factor", example="warm_oxygen(2.0, 1.5) == 3.0")
def warm_oxygen(fish_oxygen: kinds.OxygenRate, warmth: kinds.Ratio) -> kinds.OxygenRate:
    """Oxygen that the fish use in the hottest week, on the mean of the day."""
    return fish_oxygen * warmth


@definition(
    "R",
    "the filter takes its share of the tank's oxygen while the pump runs; all of it where "
    "its own air has stopped",
    valid="the air stops and the pump runs; a pump that stops leaves a little longer",
    example="bacteria_oxygen(2.0, 0.5, 0.25) == 1.25",
)
def bacteria_oxygen(
    nitrifiers: kinds.OxygenRate, tank_share: kinds.Fraction, heterotrophs: kinds.OxygenRate
) -> kinds.OxygenRate:
    """Oxygen that bacteria take out of the tank when the air stops."""
    return nitrifiers * tank_share + heterotrophs


@definition(
    "k",
    "definition of the transfer velocity",
    valid="still water",
    example="surface_transfer_of(0.25, 4.0) == 1.0",
)
def surface_transfer_of(velocity: kinds.RateConstant, area: kinds.Area) -> kinds.Flow:
    """What still water takes up through its surface, for each unit below saturation."""
    return velocity * area


def breath_at(end: str, per_feed):
    """What fish breathe at an end of the range, over what the design counts on."""
    if end == "short":
        return breathing_most(per_feed)
    return breathing_least(per_feed) if end == "long" else 1.0


def minutes_to(
    end: str, level: kinds.Concentration, start: kinds.Concentration, critical: kinds.Concentration,
    saturation: kinds.Concentration, volume: kinds.Volume, fish: kinds.OxygenRate, others: kinds.OxygenRate,
    per_feed: kinds.Ratio, surface: kinds.Flow,
) -> kinds.Minutes:  # fmt: skip
    """Time from the stop of the air to a level of oxygen, at an end of the range.

    Zero where oxygen is down already.  ``fish`` breathe by ``per_feed``; ``others`` are the
    bacteria; ``surface`` is what still water takes up, for each unit below saturation.
    """
    use = backup.demand_after(fish, breath_at(end, per_feed), 1.0, 1.0, others)
    return backup.time_until(
        level, start, critical, saturation, volume, use, surface if end == "long" else 0.0
    )
