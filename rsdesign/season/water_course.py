"""How warm the water is on each day of a season, of one design or of many at once.

The months come from the heat balance, as the year of a design does: the weather decides where the
water is not heated, a heater where there is one.  Where no weather is given the water stays as the
design says.
"""

from dataclasses import dataclass, fields, is_dataclass, replace
from functools import lru_cache

import numpy as np

from ..design.model import Design, arrays_of, with_values
from ..design.weather import weather_of
from ..equations.heat import heaters
from ..sizing.system import Sizing, size
from ..studies.heat.day import repeated_day
from ..studies.heat.rows import WATER, Row, gather, skies
from ..studies.heat.season import YEAR, longest_run, through_the_year
from ..studies.heat.study import held_between

HOT, COLD = 12, 14
"""The places of the hot and the cold day among the twelve months and three days."""
STAGES = ("stock", "loads", "tank", "air", "filter", "bed", "pump", "water")
"""Stages of a sizing that the heat balance reads."""
MONTHS_TO_DAYS = np.array([through_the_year(month) for month in np.eye(12)]).T
"""Days of the year x months: every day lies on a straight line between two mid-months."""


@dataclass(frozen=True, slots=True, eq=False)
class WaterCourse:
    """Water of each day of the year, January 1 first: days x designs, in plain units."""

    mean: np.ndarray
    hottest: np.ndarray
    """Hottest hour [°C]."""
    coldest: np.ndarray
    evaporation: np.ndarray
    """Water that leaves as vapor [m³/s]."""
    heating: np.ndarray
    """Power bought for heat [W]."""
    hot_spell: np.ndarray
    """Degrees by which a hot spell warms the water, for each design."""
    cold_spell: np.ndarray
    basis: str
    """"weather", "heated" or "told"."""

    def lethal(self, species) -> np.ndarray:
        """Days whose hottest or coldest hour kills a species."""
        return (self.hottest >= species.lethal_high) | (self.coldest <= species.lethal_low)

    def days(self, first: int, count: int) -> "WaterCourse":
        """The same from a day of the year on, for so many days."""
        places = (first + np.arange(count)) % YEAR
        by_day = ("mean", "hottest", "coldest", "evaporation", "heating")
        return replace(self, **{name: getattr(self, name)[places] for name in by_day})


BLOCK = 40
"""Designs whose heat is balanced at a time: arrays of this length stay in a processor's cache."""

NO_WEATHER_SPELL = 4.0
"""Degrees of a hot or a cold spell in the water where no weather is told; common practice."""


def water_course(sizing: Sizing) -> WaterCourse:
    """The water of a year of the designs of a sizing.

    Parameters:
        sizing: what ``size`` gives, of one design or of many.
    Returns: ``WaterCourse``, 365 days x designs.
    Raises: ``DesignError`` when the water settles in no day.

    >>> from rsdesign import load, size
    >>> water_course(size(load("family"))).mean.shape
    (365, 1)
    """
    design = sizing.design
    count = count_of(design)
    c = design.climate
    if c.weather is None or c.heated == "warm by itself":
        return _as_told(design, count)
    if any(path.startswith("climate.") for path in arrays_of(design)):
        return _joined([water_course(size(one)) for one in each_design(design, count)])
    blocks = [slice(at, min(at + BLOCK, count)) for at in range(0, count, BLOCK)]
    return _joined([_by_months(sizing, range(count)[block], block) for block in blocks])


def count_of(design: Design) -> int:
    """How many designs the arrays of a design hold; 1 for one."""
    return max((value.size for value in arrays_of(design).values()), default=1)


def each_design(design: Design, count: int):
    """The designs of arrays, one by one."""
    for place in range(count):
        yield with_values(design, {p: float(v[place]) for p, v in arrays_of(design).items()})


def growing_start(course: WaterCourse, species) -> int:
    """The day of the year, from 0, on which the growing season of the first design starts."""
    daily = course.mean[:, 0]
    warm = (daily > species.base_temperature) & (daily >= species.feeding_low)
    run = longest_run(warm & (daily <= species.feeding_high))
    return run.first if run.days else 0


def _as_told(design: Design, count: int) -> WaterCourse:
    water = np.broadcast_to(np.asarray(design.site.water_temperature, float), (YEAR, count))
    none, spell = np.zeros((YEAR, count)), np.full(count, NO_WEATHER_SPELL)
    return WaterCourse(water, water, water, none, none, spell, spell, "told")


def _joined(parts: list[WaterCourse]) -> WaterCourse:
    names = [f.name for f in fields(WaterCourse) if f.name != "basis"]
    both = {n: np.concatenate([getattr(p, n) for p in parts], axis=-1) for n in names}
    return WaterCourse(**both, basis=parts[0].basis)


def _by_months(sizing: Sizing, places: range, block: slice) -> WaterCourse:
    """The water of some of the designs, through the heat balance of their months and two spells."""
    design, count = sizing.design, len(places)
    weather = weather_of(design.climate)
    found = _skies(weather, float(design.climate.hot_spell), float(design.climate.cold_spell))
    heated = design.climate.heated == "yes"
    each = (*range(12), HOT, COLD)
    low, high = held_between(sizing) if heated else (-np.inf, np.inf)
    rows = [
        Row(day, depth=_one(sizing.tank.depth, place), shade=_one(design.climate.shade, place),
            low=_one(low, place), high=_one(high, place))
        for place in places for day in each
    ]  # fmt: skip
    gathered = gather(rows, _in_columns(sizing, len(each), block), weather, found)
    shape = (len(rows), 24)
    day = repeated_day(
        gathered.net, gathered.capacity, np.broadcast_to(gathered.guess, shape),
        gathered.low, gathered.high,
    )  # fmt: skip
    mean, hottest, coldest = (
        found.reshape(count, len(each)).T
        for found in (day.middle.mean(axis=1), day.start.max(axis=1), day.start.min(axis=1))
    )
    vapor = np.broadcast_to(gathered.flows(day.middle).vapour, shape).mean(axis=1) / WATER
    heat = np.maximum(day.heat, 0.0).mean(axis=1).reshape(count, len(each)).T[:12]
    bought = heaters.energy_bought.__wrapped__(heat, design.climate.heater_performance)
    months = slice(12)
    return WaterCourse(
        mean=MONTHS_TO_DAYS @ mean[months],
        hottest=MONTHS_TO_DAYS @ hottest[months],
        coldest=MONTHS_TO_DAYS @ coldest[months],
        evaporation=MONTHS_TO_DAYS @ vapor.reshape(count, len(each)).T[months],
        heating=MONTHS_TO_DAYS @ bought,
        hot_spell=np.maximum(mean[12] - mean[months].max(axis=0), 0.0),
        cold_spell=np.maximum(mean[months].min(axis=0) - mean[13], 0.0),
        basis="heated" if heated else "weather",
    )


_skies = lru_cache(maxsize=8)(skies)  # a slider that moves leaves the weather as it is


def _one(value, place: int) -> float:
    """The value of one of many designs."""
    return float(value[place] if np.ndim(value) else value)


def _in_columns(sizing: Sizing, rows: int, block: slice) -> Sizing:
    """A sizing whose arrays of designs are columns, each design of the block so many rows long."""

    def column(value):
        if isinstance(value, np.ndarray) and value.ndim == 1 and value.dtype.kind == "f":
            return np.repeat(value[block], rows)[:, None]
        return value

    def changed(part):
        arrays = {f.name: column(getattr(part, f.name)) for f in fields(part)}
        return replace(part, **arrays)

    if not arrays_of(sizing.design):
        return sizing
    d = sizing.design
    sections = {
        f.name: changed(getattr(d, f.name)) for f in fields(d) if is_dataclass(getattr(d, f.name))
    }
    stages = {name: changed(getattr(sizing, name)) for name in STAGES}
    return replace(sizing, design=replace(d, **sections), **stages)
