"""Water through the year, week by week, for a chart: as designed, and with a lid, shade or more depth.

The zones in which the fish eat, are too warm, or die are those of the species table.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...core.choices import DesignError
from ...core.kinds import KINDS
from ...core.units import from_plain
from ...design.weather import weather_of
from ...sizing.system import Sizing
from .brief import solved
from .rows import Row
from .season import CALENDAR, YEAR, grows, through_the_year
from .study import HALF_SHADE, held_between

WEEKS = 52
MIDDLES = (np.arange(WEEKS) + 0.5) * YEAR / WEEKS
"""Day of the year at the middle of each week."""
DEEPER = 0.3048
"""One foot more of water."""
LID = "foam lid"
"""The lid that is tried where the design has none; a row of ``data/tank_covers.csv``."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A band of water temperature [°C]: what it is to the fish, and its ends; None is open."""

    name: str
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One arrangement: mean, hottest and coldest hour of each week [°C]; days in which the fish grow."""

    name: str
    mean: np.ndarray
    hottest: np.ndarray
    coldest: np.ndarray
    growing_days: int


@dataclass(frozen=True, slots=True, eq=False)
class YearChart:
    """Every arrangement over the year, the air, and the zones of the fish."""

    days: np.ndarray
    air: np.ndarray
    lines: tuple[Line, ...]
    zones: tuple[Zone, ...]

    def plain(self, system: str) -> dict:
        """The chart as plain data, in the units shown."""
        unit = KINDS["temperature"].shown(system)

        def shown(values):
            return [round(float(from_plain(v, unit)), 2) for v in values]

        return {
            "unit": unit.label,
            "days": [round(float(d), 1) for d in self.days],
            "air": shown(self.air),
            "lines": [
                {"name": x.name, "mean": shown(x.mean), "hottest": shown(x.hottest),
                 "coldest": shown(x.coldest), "growing_days": x.growing_days}
                for x in self.lines
            ],
            "zones": [
                {"name": z.name, "low": None if z.low is None else shown([z.low])[0],
                 "high": None if z.high is None else shown([z.high])[0]}
                for z in self.zones
            ],
        }  # fmt: skip


def zones(sizing: Sizing) -> tuple[Zone, ...]:
    """The zones of the fish of a design, the coldest first."""
    fish = sizing.tables.species
    edges = (fish.lethal_low, fish.feeding_low, fish.best_low, fish.best_high, fish.feeding_high,
             fish.lethal_high)  # fmt: skip
    names = (
        "they die",
        "too cold to eat",
        "they eat",
        "best",
        "warm",
        "too warm to eat",
        "they die",
    )
    lows, highs = (None, *map(float, edges)), (*map(float, edges), None)
    return tuple(Zone(*row) for row in zip(names, lows, highs, strict=True))


def arrangements(sizing: Sizing) -> dict[str, Row]:
    """What is drawn: the design, and one thing changed at a time."""
    c, depth = sizing.design.climate, float(sizing.tank.depth)
    lid = LID if c.cover == "none" else "none"
    shade = HALF_SHADE if c.shade < HALF_SHADE else 0.0
    return {
        "as designed": Row(0),
        "with a lid at night" if lid == LID else "without the lid": Row(
            0, lid=lid, lid_hours="night"
        ),
        "with half shade" if shade else "without shade": Row(0, shade=shade),
        "a foot deeper": Row(0, depth=depth + DEEPER),
    }


def year_chart(sizing: Sizing) -> YearChart:
    """The year of one design in four arrangements, all months of all of them in one call.

    Where the design has a heater, all four are held by it.
    Raises ``DesignError`` where no weather is told, or the water settles in no day.
    """
    c = sizing.design.climate
    if c.weather is None:
        raise DesignError("climate.weather is not told: choose the weather of the place first.")
    ways = arrangements(sizing)
    if c.heated == "yes":
        low, high = held_between(sizing)
        ways = {name: replace(row, low=low, high=high) for name, row in ways.items()}
    rows = {(name, m): replace(row, day=m) for name, row in ways.items() for m in range(12)}
    made = solved(sizing, rows)
    weather, fish = weather_of(c), sizing.tables.species
    lines = []
    for name in ways:
        places = [made.place[name, m] for m in range(12)]
        mean, start = made.day.middle[places].mean(axis=1), made.day.start[places]
        lines.append(Line(name, weekly(mean), weekly(start.max(axis=1)), weekly(start.min(axis=1)),
                          int(grows(fish, mean).sum())))  # fmt: skip
    return YearChart(MIDDLES, weekly(weather.air_mean), tuple(lines), zones(sizing))


def weekly(months) -> np.ndarray:
    """Twelve monthly values as one for the middle of each week, straight between mid-months.

    >>> bool(abs(weekly(np.full(12, 20.0)) - 20.0).max() < 1e-12)
    True
    """
    return np.interp(MIDDLES, CALENDAR, through_the_year(months), period=YEAR)
