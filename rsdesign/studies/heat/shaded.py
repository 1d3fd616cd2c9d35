"""What shade does: the hottest hour of the hot day and the days in which the fish grow."""

from dataclasses import dataclass
from math import inf

import numpy as np

from ...core.choices import DesignError
from ...sizing.system import Sizing
from .brief import HOT, solved
from .rows import Row
from .season import grows
from .study import held_between

TWELVE = range(12)


@dataclass(frozen=True, slots=True, eq=False)
class Shaded:
    """For each shade: the hottest hour of the hot day [°C] and the days of the year in which they grow."""

    hottest: np.ndarray
    growing_days: np.ndarray


def shaded(sizing: Sizing, shades) -> Shaded:
    """The year of one design under each of several shades, all of them in one call.

    ``shades``: shares of the sun kept off.  A heater, where the design has one, holds the months; the
    hot day is not cooled.  Raises ``DesignError`` where no weather is told or the water settles in no day.
    """
    c = sizing.design.climate
    if c.weather is None:
        raise DesignError("climate.weather is not told: choose the weather of the place first.")
    heated = c.heated == "yes"
    low, high = held_between(sizing) if heated else (-inf, inf)
    rows: dict[tuple, Row] = {}
    for k, shade in enumerate(np.asarray(shades, float)):
        rows |= {(k, m): Row(m, shade=float(shade), low=low, high=high) for m in TWELVE}
        rows[k, HOT] = Row(HOT, shade=float(shade))
    made = solved(sizing, rows)
    count, fish = len(shades), sizing.tables.species
    hottest = np.array([made.day.start[made.place[k, HOT]].max() for k in range(count)])
    if heated:
        hottest = np.maximum(hottest, sizing.design.site.water_temperature)
    days = [
        grows(fish, made.day.middle[[made.place[k, m] for m in TWELVE]].mean(axis=1)).sum()
        for k in range(count)
    ]
    return Shaded(hottest, np.array(days, float))
