"""When the fish of a season would be dead: too hot, too cold, no air, ammonia or nitrite."""

from dataclasses import dataclass

import numpy as np

from ..sizing.system import Sizing
from .crop import Fish
from .filter_course import Levels
from .start_course import DEADLY_AMMONIA, deadly_nitrite
from .water_course import WaterCourse

WORDS = {
    "hot": "the water gets hotter than these fish can live in",
    "cold": "the water gets colder than these fish can live in",
    "oxygen": "the oxygen falls below what these fish can live with in the busiest hour",
    "ammonia": "un-ionised ammonia passes what kills them",
    "nitrite": "nitrite passes what kills half of them in four days",
}


@dataclass(frozen=True, slots=True, eq=False)
class Death:
    """The first deadly day of each design, from 0; as many days as the season where none is."""

    day: np.ndarray
    cause: np.ndarray
    """Its place among ``WORDS``."""


def first_deaths(
    sizing: Sizing, water: WaterCourse, fish: Fish, levels: Levels, chloride, gases
) -> Death:
    """The first day on which something kills the fish, and what."""
    row, safety = sizing.tables.species, sizing.design.safety
    there = fish.number + fish.sold > 0.0
    signs = np.stack(np.broadcast_arrays(
        water.hottest >= row.lethal_high,
        water.coldest <= row.lethal_low,
        gases["oxygen"] < safety.deadly_oxygen,
        gases["unionized"] > DEADLY_AMMONIA,
        levels.most_nitrite > deadly_nitrite(chloride),
    )) & there  # fmt: skip
    any_ = signs.any(axis=0)
    days = any_.shape[0]
    day = np.where(any_.any(axis=0), any_.argmax(axis=0), days)
    at = np.minimum(day, days - 1)
    cause = signs[:, at, np.arange(any_.shape[1])].argmax(axis=0)
    return Death(day, cause)
