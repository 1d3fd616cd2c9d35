"""The water of a log by the boxes of the season: what its feed, new water, salt and base make of it.

All columns of a run are computed together, a column for each set of numbers: so the slopes of every number
are one run, and so is a band.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..equations.fish import loads as formulas
from ..equations.fish import season_growth
from ..season import season_water
from ..season.crop import degrees
from ..season.season_numbers import plan_of
from .drive import Drive
from .film_surface import Surface, expected_flows

COURSES = {"tan": "concentration", "nitrite": "concentration", "nitrate": "concentration",
           "alkalinity": "concentration", "chloride": "concentration", "fish_weight": "fish weight"}  # fmt: skip
"""What the model gives, and the kind of each."""

LEAST_ALKALINITY = 1e-3
"""Level [kg/m³] below which no base is left to take; 1 mg/L."""


@dataclass(frozen=True, eq=False)
class BoxModel:
    """The boxes of a log."""

    drive: Drive
    surface: Surface

    @cached_property
    def warmth(self) -> np.ndarray:
        """Degrees of growth of each day, over the base temperature of the species; none on a day without feed."""
        species = self.drive.sizing.tables.species
        base = np.full((3, 1), species.base_temperature)
        plan = plan_of(self.drive.sizing, (np.ones((3, 1)), base))
        return np.where(self.drive.feed > 0.0, degrees(plan, self.drive.temperature)[:, 1], 0.0)

    def courses(self, numbers: Mapping[str, np.ndarray]) -> dict[str, np.ndarray]:
        """Every level in the evening before the first day and in the evening of each day.

        Parameters:
            numbers: arrays of one length, a place for each column: ``filter_factor``, ``ammonia_share``,
                ``evaporated`` or ``drained`` (see ``expected_flows``), ``growth``, and the levels
                ``nitrate``, ``alkalinity``, ``chloride`` [kg/m³] and ``fish_weight`` [kg] at the start.
        Returns: days + 1 x columns, [kg/m³] and [kg].
        """
        drive, works = self.drive, self.drive.works
        made = self.surface.at(numbers["ammonia_share"], numbers["filter_factor"])
        moved = expected_flows(drive, numbers["evaporated"], numbers["drained"])
        moved = {name: value + 0.0 * numbers["growth"] for name, value in moved.items()}
        volume = works.volume
        base = 0.0 if drive.base is None else drive.base
        use = formulas.alkalinity_net.__wrapped__(made["nitrified"] * volume)
        uptake = works.plants_uptake * 86400.0
        boxes = {
            "nitrate": (works.nitrate_source, made["passed"] * volume - uptake, 0.0),
            "alkalinity": (works.alkalinity_source, base - use, LEAST_ALKALINITY),
            "chloride": (works.chloride_source, drive.salt + 0.0 * use, 0.0),
        }
        found = {"tan": made["ammonia"], "nitrite": made["nitrite"]}
        for name, (source, gain, least) in boxes.items():
            low = np.full_like(numbers[name], least)
            levels, _ = season_water.box(numbers[name], source, gain, moved, volume, low)
            found[name] = np.concatenate([numbers[name][None], levels])
        found["fish_weight"] = self._weights(numbers)
        return found

    def _weights(self, numbers: Mapping[str, np.ndarray]) -> np.ndarray:
        """Mean weight of a fish [kg]."""
        rise = season_growth.growth_of_root.__wrapped__(numbers["growth"], self.warmth)
        start = np.cbrt(1000.0 * numbers["fish_weight"])  # units of the source
        roots = start + np.concatenate([np.zeros_like(rise[:1]), np.cumsum(rise, axis=0)])
        return roots**3 / 1000.0  # units of the source

    def drained(self, numbers: Mapping[str, np.ndarray]) -> np.ndarray:
        """Mean of what left as a liquid [m³/s], one for each column."""
        moved = expected_flows(self.drive, numbers["evaporated"], numbers["drained"])
        return (moved["out"] + 0.0 * numbers["growth"]).mean(axis=0)

    def evaporated(self, numbers: Mapping[str, np.ndarray]) -> np.ndarray:
        """Mean of what left as vapour [m³/s], the level being kept."""
        moved = expected_flows(self.drive, numbers["evaporated"], numbers["drained"])
        return (moved["new"] - moved["out"] + 0.0 * numbers["growth"]).mean(axis=0)


def at_times(course: np.ndarray, days: np.ndarray) -> np.ndarray:
    """A course at times of day, along straight lines between its evenings: times x columns.

    >>> at_times(np.array([[0.0], [2.0], [4.0]]), np.array([0.5, 1.25]))[:, 0].tolist()
    [1.0, 2.5]
    """
    place = np.minimum(np.floor(days).astype(int), course.shape[0] - 2)
    part = (days - place)[:, None]
    return course[place] * (1.0 - part) + course[place + 1] * part
