"""Parts of the heat that are wanted often: the hot day alone, and the year without its comparisons.

The whole study takes several times longer; each row of it stands alone, so these are its numbers.
"""

from dataclasses import dataclass

import numpy as np

from ...core.kinds import Number
from ...core.unit_table import DAY
from ...design.weather import LENGTH, weather_of
from ...equations.heat import heaters
from ...sizing.system import Sizing
from .day import repeated_day
from .rows import Row, gather, skies
from .season import Run, Season, grows, season, through_the_year
from .study import Course, Solved, band_of, course_of, held_between, water_out

HOT, COLD = 12, 14
"""The places of the hot and the cold day among the twelve months and three days."""


def hot_day(sizing: Sizing) -> dict[str, Course]:
    """The hot day as designed, and with the least and the most evaporation of the relations."""
    band = band_of(sizing, weather_of(sizing.design.climate))
    ways = {
        "as designed": Row(HOT),
        "least evaporation": Row(HOT, factor=min(band.values())),
        "most evaporation": Row(HOT, factor=max(band.values())),
    }
    made = solved(sizing, {("day", "hot", way): row for way, row in ways.items()})
    return {way: course_of(made, "hot", way) for way in ways}


def solved(sizing: Sizing, rows: dict) -> Solved:
    """Rows with their answers; where a deep tank comes to rest is not looked for."""
    design, c = sizing.design, sizing.design.climate
    weather = weather_of(c)
    found = skies(weather, c.hot_spell, c.cold_spell)
    gathered = gather(list(rows.values()), sizing, weather, found)
    day = repeated_day(gathered.net, gathered.capacity, gathered.guess, gathered.low, gathered.high)
    rest = np.full((len(rows), 1), design.site.water_temperature)
    places = {key: k for k, key in enumerate(rows)}
    return Solved(places, gathered, day, gathered.flows(day.middle), rest)


@dataclass(frozen=True, slots=True, eq=False)
class Brief:
    """The year of one design: its water by day, its extremes, its season, and what holding takes."""

    water: np.ndarray
    """Mean water of each day of the year, not heated [°C]."""
    good: np.ndarray
    """Whether the fish grow on that day."""
    hottest: Number
    """Hottest hour of the hot day [°C]."""
    coldest: float
    """Coldest hour of the cold day [°C]."""
    evaporation: np.ndarray
    """Water evaporated on each day of the year, held or not as the design says [m³/s]."""
    heat: float
    """Energy to buy in a year to hold the temperature of the design [J]; 0 where none is."""
    season: Season
    run: Run


def year_brief(sizing: Sizing, heated: bool) -> Brief:
    """The year of a design in its weather; ``heated``: a heater holds the temperature asked for."""
    design, fish = sizing.design, sizing.tables.species
    rows: dict[tuple, Row] = {("month", m): Row(m) for m in range(12)}
    rows |= {("day", "hot"): Row(HOT), ("day", "cold"): Row(COLD)}
    if heated:
        low, high = held_between(sizing)
        rows |= {("held", m): Row(m, low=low, high=high) for m in range(12)}
    made = solved(sizing, rows)
    day, months = made.day, [made.place["month", m] for m in range(12)]
    used = [made.place["held", m] for m in range(12)] if heated else months
    heat = np.maximum(day.heat[used], 0.0).mean(axis=1)
    water, start = day.middle[months].mean(axis=1), day.start[months]
    own = fish.name == design.stock.species
    found, run = season(
        fish, water, start.max(axis=1), start.min(axis=1),
        (design.stock.stocking_weight, design.goal.weight),
        design.stock.growth_coefficient if own else None,
    )  # fmt: skip
    hottest = float(day.start[made.place["day", "hot"]].max())
    energy = float(np.dot(heat, LENGTH)) * DAY if heated else 0.0
    return Brief(
        water=through_the_year(water),
        good=grows(fish, water),
        hottest=max(hottest, design.site.water_temperature) if heated else hottest,
        coldest=float(day.start[made.place["day", "cold"]].min()),
        evaporation=through_the_year([water_out(made, row) for row in used]),
        heat=float(heaters.energy_bought.__wrapped__(energy, design.climate.heater_performance)),
        season=found,
        run=run,
    )
