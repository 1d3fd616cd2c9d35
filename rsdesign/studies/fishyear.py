"""The fish of a year: harvest, batches and feed, in water kept as warm or as the weather allows."""

import functools
from dataclasses import dataclass

from .. import equations as eq
from ..core.equation import with_labels
from ..core.kinds import KINDS, Number
from ..core.unit_table import DAY
from ..equations.costs import year
from ..equations.fish import stocking
from ..sizing.system import Sizing

DAYS = 365.25
YEAR = DAYS * DAY


MASS, COUNT = KINDS["mass"], KINDS["count"]
_A_YEAR = (KINDS["long time"], "a year")


@functools.cache
def in_a_year(words: str, pace: str, amount: str):
    """What a steady pace comes to in a year, with the kinds of both by name."""
    return with_labels(year.over_time, f"{words} in a year", KINDS[amount],
                   pace=(KINDS[pace], words.lower()), time=_A_YEAR)  # fmt: skip


_BATCHES = with_labels(year.batches_of, "Batches in a year", COUNT, harvest=(MASS, "harvest in a year"),
                   weight=(KINDS["fish weight"], "weight at harvest", "W_h"))  # fmt: skip
_ALL_BATCHES = with_labels(year.repeated, "Harvest in a year", MASS,
                       each=(MASS, "weight of a batch at harvest"),
                       times=(COUNT, "batches that the season allows", "n_b"))  # fmt: skip
_ALL_FEED = with_labels(year.repeated, "Feed in a year", MASS, each=(MASS, "feed of a batch"),
                    times=(COUNT, "batches that the season allows", "n_b"))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Allowed:
    """What the weather allows in a year where the water is not heated; rows for a row of designs."""

    batches: Number
    weight: Number
    """Of a fish at harvest [kg]."""
    cycle: Number
    """Days from stocking to harvest."""
    temperature: Number
    """Mean of the growing days of a batch [°C], as growth sees it."""
    running: Number
    """Days of the year in which the system is in use."""
    starts: tuple[float, ...] = ()
    """Days of the stockings, counted from the first; none where batches follow each other all year."""


def year_of_fish(sizing: Sizing, allowed: Allowed | None):
    """Harvest, batches and feed of a year: as sized all year round, or as the weather allows."""
    s, d = sizing.stock, sizing.design
    if allowed is None:
        harvest = in_a_year("Harvest", "harvest rate", "mass")(s.harvest, YEAR)
        batches = _BATCHES(harvest, s.fish, d.goal.weight)
        return harvest, batches, in_a_year("Feed", "feed rate", "mass")(s.mean_feed, YEAR)
    plan, kind = d.stock, sizing.tables.species
    rate = kind.growth_coefficient if plan.growth_coefficient is None else plan.growth_coefficient
    if plan.ration is None:
        eaten = stocking.feed_per_batch(
            s.to_stock, plan.stocking_weight, allowed.temperature, rate, kind.base_temperature,
            allowed.cycle, plan.survival, plan.feed_conversion,
        )  # fmt: skip
    else:
        gain = eq.fish.batch_gain(s.fish, allowed.weight, plan.stocking_weight)
        eaten = eq.fish.feed_for_batch(gain, plan.feed_conversion)
    harvest = _ALL_BATCHES(stocking.biomass(s.fish, allowed.weight), allowed.batches)
    batches = _BATCHES(harvest, s.fish, allowed.weight)  # the same number, as a step of the working
    return harvest, batches, _ALL_FEED(eaten, allowed.batches)
