"""A season of one design or of many: fish, water and money of each day, as plain arrays.

``run`` puts the parts together in the order of a day; ``growing_season.growout`` shows it.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..core.unit_table import DAY
from ..sizing.system import Sizing
from . import season_water
from .colonies import colonies_of
from .crop import Fish, grow
from .deadly import Death, first_deaths
from .filter_course import Levels
from .season_money import Money, money_of
from .season_numbers import Waterworks, plan_of, waterworks_of
from .water_course import WaterCourse
from .what_ifs import Changes

Numbers = Any  # a float or an array, one number for each design

RIPE_FOR = 1e-3 / DAY
"""Ammonia nitrogen over the water [kg/(m³ s)] that a filter takes on the day of stocking: 1 mg/L in
a day, as after a start without fish on doses of a few mg/L; common practice."""


@dataclass(frozen=True, slots=True, eq=False)
class Season:
    """Everything of a season: arrays of days x designs."""

    sizing: Sizing
    works: Waterworks
    water: WaterCourse
    fish: Fish
    waste: season_water.Waste
    levels: Levels
    made: np.ndarray
    """Ammonia nitrogen of each day [kg]."""
    beside: np.ndarray
    """Of that, what walls and plant beds turned to nitrate [kg]."""
    moved: dict[str, np.ndarray]
    base: dict[str, np.ndarray]
    chloride: np.ndarray
    gases: dict[str, np.ndarray]
    money: Money
    death: Death

    def nitrogen(self) -> dict[str, np.ndarray]:
        """Every pool and flow of nitrogen [kg]: pools in the evening, flows of the day."""
        volume, w = self.works.volume, self.waste
        f = season_water.FISH_NITROGEN
        new = self.moved["new"] * self.works.nitrate_source * DAY
        return {
            "fed": w.fed,
            "stocked": f * self.fish.stocked,
            "brought with water": new,
            "dead": f * self.fish.dead,
            "harvested": f * self.fish.harvested,
            "drained": self.levels.drained * volume,
            "fine waste drained": w.exported,
            "sludge": w.sludge,
            "bound": w.bound,
            "plants": self.levels.plants * volume,
            "in fish": f * self.fish.biomass,
            "in water": (self.levels.ammonia + self.levels.nitrite + self.levels.nitrate) * volume,
            "in fine waste": w.pool,
        }

    def balances(self) -> dict[str, np.ndarray]:
        """What each day leaves open of nitrogen, water, salt and money; rounding, where all is well."""
        n = self.nitrogen()
        pools = n["in fish"] + n["in water"] + n["in fine waste"]
        start = (self.works.nitrate_source + self.levels.start) * self.works.volume
        grown = np.diff(pools, axis=0, prepend=start[None])
        came = n["fed"] + n["stocked"] + n["brought with water"]
        went = sum(n[x] for x in ("dead", "harvested", "drained", "fine waste drained", "sludge",
                                  "bound", "plants"))  # fmt: skip
        volume, moved, chloride = self.works.volume, self.moved, self.chloride
        salt = chloride * volume
        before = np.concatenate([self.works.chloride_source * volume + 0.0 * salt[:1], salt[:-1]])
        held = season_water.mean_level(self.works.chloride_source, chloride, moved, volume)
        carried = (moved["new"] * self.works.chloride_source - moved["out"] * held) * DAY
        return {
            "nitrogen": grown - came + went,
            "water": (moved["new"] - moved["out"] - self.water.evaporation + moved["lost"]) * DAY,
            "salt": salt - before - carried,
            "money": self.money.left_open(),
        }


def run(sizing: Sizing, water: WaterCourse, change: Changes, growth=None,
        ammonia_share: float | None = None, ripe_for: float = RIPE_FOR, quick: bool = False) -> Season:  # fmt: skip
    """A season, day by day.

    Parameters:
        sizing: what ``size`` gives, of one design or of many.
        water: the water of each day, as the weather and the heater make it.
        change: what the what-ifs change.
        growth: growth coefficients and base temperatures, slow, middle and fast, each 3 x designs;
            None takes the published lines and the design's own.
        ammonia_share: ammonia over the nitrogen eaten; None as in the sizing.
        ripe_for: ammonia nitrogen over the water [kg/(m³ s)] for which the filter is ripe at stocking.
        quick: fewer steps of the filter, about right.
    Returns: ``Season``.
    """
    works = waterworks_of(sizing)
    mean = water.mean + change.warmer
    now = replace(water, mean=mean, hottest=water.hottest + change.warmer,
                  coldest=water.coldest + change.warmer)  # fmt: skip
    fish = grow(plan_of(sizing, growth), mean, change.feed, now.lethal(sizing.tables.species))
    moved = season_water.flows(works, fish, water.evaporation)
    waste = season_water.waste_of(works, fish, moved["out"], ammonia_share)
    made = waste.from_fish + waste.rotten + waste.freed
    guess = season_water.alkalinity_of(works, made, moved)
    air = season_water.gases(
        sizing, works, fish, waste, made, mean, (guess["alkalinity"], 0.0), moved
    )
    colonies = colonies_of(sizing, mean, air["ph"])
    levels, beside = season_water.filter_of(
        sizing, works, made, (mean, air["ph"]), moved, change, colonies, ripe_for, quick
    )
    nitrified = levels.nitrified * works.volume + beside
    base = season_water.alkalinity_of(works, nitrified, moved)
    chloride, _ = season_water.box(
        works.chloride_source, works.chloride_source, 0.0, moved, works.volume
    )
    air = season_water.gases(
        sizing,
        works,
        fish,
        waste,
        nitrified,
        mean,
        (base["alkalinity"], levels.most_ammonia),
        moved,
    )
    return Season(
        sizing, works, now, fish, waste, levels, made, beside, moved, base, chloride, air,
        money_of(sizing, fish, now, moved, base["base"]),
        first_deaths(sizing, now, fish, levels, chloride, air),
    )  # fmt: skip
