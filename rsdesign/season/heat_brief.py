"""The hot day alone, for a drawing that follows a slider; the whole study takes ten times longer."""

import numpy as np

from ..climate import place
from ..sizing import Sizing
from .heat import Course, Solved, band_of, course_of
from .heat_day import repeated_day
from .heat_rows import Row, gather, skies

HOT = 12
"""The place of the hot day among the twelve months and three days."""


def hot_day(sizing: Sizing) -> dict[str, Course]:
    """The hot day as designed, and with the least and the most evaporation of the relations."""
    design, c = sizing.design, sizing.design.climate
    weather = place(c.weather)
    band = band_of(sizing, weather)
    ways = {
        "as designed": Row(HOT),
        "least evaporation": Row(HOT, factor=min(band.values())),
        "most evaporation": Row(HOT, factor=max(band.values())),
    }
    found = skies(weather, c.hot_spell, c.cold_spell)
    gathered = gather(list(ways.values()), sizing, weather, found)
    day = repeated_day(gathered.net, gathered.capacity, gathered.guess)
    rows = {("day", "hot", way): k for k, way in enumerate(ways)}
    rest = np.full((len(ways), 1), design.site.water_temperature)
    made = Solved(rows, gathered, day, gathered.flows(day.middle), rest)
    return {way: course_of(made, "hot", way) for way in ways}
