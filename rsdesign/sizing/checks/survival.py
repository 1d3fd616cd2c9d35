"""The checks that ask whether the fish live: water that kills, empty plant beds, minutes without air."""

import numpy as np

from ...core.kinds import KINDS
from ..judging import DEADLY

LEVEL, WARMTH, MINUTES = KINDS["concentration"], KINDS["temperature"], KINDS["minutes"]


def alive(s, found) -> None:
    """Whether the water stays between the temperatures that kill."""
    species, site = s.tables.species, s.design.site
    hottest = np.maximum(s.air.temperature, site.water_temperature)
    coldest = np.minimum(s.filter.temperature, site.water_temperature)
    for label, actual, limit, ok, mend in (
        ("hottest week", np.max(hottest), species.lethal_high, hottest < species.lethal_high,
         "Cool the water in time, harvest before that week, or choose a fish of warmer water."),
        ("coldest week", np.min(coldest), species.lethal_low, coldest > species.lethal_low,
         "Heat the water, harvest before that week, or choose a fish of cooler water."),
    ):  # fmt: skip
        edge = found.shown(limit, WARMTH)
        good = bool(np.all(ok))
        words = (
            f"The {label} stays clear of the {edge} at which {species.label} die."
            if good
            else f"The fish die: the {label} is {found.shown(float(actual), WARMTH)}, and"
            f" {species.label} die at {edge}. {mend}"
        )
        found.yes("fish", words, ok, "species table", no=DEADLY)


def beds(s, found) -> None:
    """What the filter bears when plant beds are empty or new."""
    if not np.any(s.design.filter.plants > 0):
        return
    climb = s.water.beds_climb
    found.most(
        "filter",
        "Total ammonia one day after the plant beds stop",
        s.filter.ammonia + climb,
        s.gas.ammonia_limit,
        LEVEL,
        "mass balance; beds are empty after a harvest and do little while new",
        f" With empty or new beds ammonia climbs by {found.shown(climb, LEVEL)} a day. Size the filter"
        " for all of it: set the least share of the filter to 100 %.",
    )


def minutes(s, found) -> None:
    """The one number of minutes to act, with its range."""
    low, high = (found.shown(t, MINUTES) for t in (s.standby.minutes_low, s.standby.minutes_high))
    found.least(
        "power",
        f"Minutes to act in the busiest hour (range {low} to {high})",
        s.standby.minutes_peak,
        900.0,
        MINUTES,
        "a quarter of an hour to reach the tank, common practice",
        " The fish are in distress before anything stops: mend the air first."
        if np.any(s.standby.start <= s.design.keep.stress_oxygen)
        else " Have air that starts by itself.",
    )
