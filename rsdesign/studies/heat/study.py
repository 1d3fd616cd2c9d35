"""The heat of a design through the year: unheated water first, then what it costs to hold.

``study`` gives the water month by month without a heater, the growing season and three answers to
it, hot, mild and cold days hour by hour with lids on and off, what depth does to the swing, the
heater and chiller and their energy in a year, and the band of evaporation among the published
relations.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ...core.arrays import most
from ...core.kinds import Number
from ...core.tables import first_column
from ...core.unit_table import DAY
from ...design.weather import LENGTH, MONTHS, Weather, weather_of
from ...equations.fish.species import Species, species
from ...equations.heat import balance as heating
from ...equations.heat import evaporation, heaters
from ...sizing.system import Sizing
from .day import Day, at_rest, repeated_day
from .figures import Course, Depth, Heating, Month
from .rows import DESIGN_DAYS, INDOOR_WIND, WATER, Row, Rows, gather, relation_used, skies
from .season import Season, season

DEPTHS = (0.3048, 0.4572, 0.6096, 0.762, 0.9144, 1.2192, 1.524)
"""1 to 5 ft of water, tried beside the depth of the design."""

RULE_DEPTH = 0.762
"""The trade's rule where summers are hot: more than 2.5 ft of water; common practice."""

HALF_SHADE = 0.5

UNDER_ROOF = ("pool", "quiet pool", "natatorium", "humidity")
"""Relations that were made for air under a roof."""

OUTDOORS = tuple(name for name in evaporation.RELATIONS if name != "natatorium")
"""Relations that know the wind."""


@dataclass(frozen=True, slots=True, eq=False)
class HeatStudy:
    """Everything about the heat of one design in one weather."""

    sizing: Sizing
    weather: Weather
    months: tuple[Month, ...]
    courses: tuple[Course, ...]
    depths: tuple[Depth, ...]
    season: Season
    cooler: tuple[Season, ...]
    heating: Heating
    relations: dict[str, Any]
    relation: str

    @property
    def yearly_heating_energy(self) -> Number:
        """Energy to buy in a year to hold the temperature of the design [J]."""
        return self.heating.yearly_heating_energy

    @property
    def yearly_evaporation(self) -> float:
        """Water evaporated in a year, not heated [m³]."""
        each = np.array([m.evaporation for m in self.months])
        return float(np.dot(each, LENGTH)) * DAY

    def course(self, day: str, arrangement: str = "as designed") -> Course:
        """The course of a day under an arrangement."""
        return next(c for c in self.courses if (c.day, c.arrangement) == (day, arrangement))


def study(sizing: Sizing, weather: Weather | None = None) -> HeatStudy:
    """The heat of a sizing of one design.

    Parameters:
        sizing: what ``size`` gives, of one design.
        weather: twelve months, such as ``design.place("low desert")``; None for the design's own.
    Returns: ``HeatStudy``: months, days, season, heating and cooling, in plain (SI) numbers.
    Raises: ``DesignError`` when the water settles in no day.
    Source: ``equations.heat``; the weather's own file or the rows of ``data/climate``.

    >>> from rsdesign import load, size
    >>> len(study(size(load("family"))).months)
    12
    """
    c = sizing.design.climate
    weather = weather_of(c) if weather is None else weather
    fish = sizing.tables.species
    found = skies(weather, c.hot_spell, c.cold_spell)
    band = band_of(sizing, weather)
    low, high = held_between(sizing)
    factors = (min(band.values()), max(band.values()))
    rows = _rows(c, low, high, factors, sizing.tank.depth)
    gathered = gather(list(rows.values()), sizing, weather, found)
    day = repeated_day(gathered.net, gathered.capacity, gathered.guess, gathered.low, gathered.high)
    flows = gathered.flows(day.middle)
    rest = at_rest(gathered.net, day.middle.mean(axis=1, keepdims=True))
    made = Solved({key: k for k, key in enumerate(rows)}, gathered, day, flows, rest)
    months = _months(made, weather, factors)
    kept = _season_of(sizing, fish, months)
    return HeatStudy(
        sizing=sizing,
        weather=weather,
        months=months,
        courses=tuple(course_of(made, *key[1:]) for key in rows if key[0] == "day"),
        depths=tuple(_depth(made, key[1]) for key in rows if key[0] == "depth"),
        season=kept[0],
        cooler=_cooler(sizing, fish, months, kept[1]),
        heating=_heating(sizing, made, months, low, high),
        relations={name: share * _mean(made, "hot") for name, share in band.items()},
        relation=gathered.given["relation"],
    )


def held_between(sizing: Sizing) -> tuple[Number, Number]:
    """What a heater holds the water at, and what a chiller holds it below [°C]."""
    low, high = sizing.design.site.water_temperature, sizing.design.climate.chill_above
    high = sizing.tables.species.feeding_high if high is None else high
    return low, most(high, low)


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """All rows with their answers; ``place`` finds a row."""

    place: dict
    rows: Rows
    day: Day
    flows: heating.Flows
    rest: np.ndarray


def _rows(c, low: Number, high: Number, factors, depth: Number) -> dict:
    """Every row of the study by what it is for."""
    lids = [c.cover, "bubble sheet", "foam lid"]
    ways = {
        "as designed": Row(0),
        "open water": Row(0, lid="none"),
        **{f"{x} by day": Row(0, lid=x, lid_hours="day") for x in lids if x != "none"},
        **{f"{x} by night": Row(0, lid=x, lid_hours="night") for x in lids if x != "none"},
        "half shade, open": Row(0, lid="none", shade=HALF_SHADE),
        "least evaporation": Row(0, factor=factors[0]),
        "most evaporation": Row(0, factor=factors[1]),
        "held": Row(0, low=low, high=high),
    }
    rows: dict[tuple, Row] = {("month", m): Row(m) for m in range(12)}
    rows |= {("held", m): Row(m, low=low, high=high) for m in range(12)}
    for place_, name in enumerate(DESIGN_DAYS):
        rows |= {("day", name, way): replace(row, day=12 + place_) for way, row in ways.items()}
    deep = sorted({*DEPTHS, float(depth)})
    return rows | {("depth", d): Row(12, depth=d) for d in deep}


def band_of(sizing: Sizing, weather: Weather) -> dict[str, Any]:
    """Each published relation over the one that is used, in the wind of the hottest month."""
    c, t = sizing.design.climate, sizing.design.site.water_temperature
    under = c.shelter != "outdoors"
    wind = weather.wind[int(np.argmax(weather.air_mean))] * c.wind_share
    found = heating.evaporation_band(
        t, t, 0.5, INDOOR_WIND if under else float(wind), 1.0, activity=c.activity
    )
    used = relation_used(c)
    shown = UNDER_ROOF if under else OUTDOORS
    return {n: value / found[used] for n, value in found.items() if n in shown or n == used}


def _mean(made: Solved, day: str) -> float:
    """Depth that evaporates from the surface on a design day as designed [m/s]."""
    row = made.place["day", day, "as designed"]
    surface = np.broadcast_to(made.flows.vapour - made.flows.stream_vapour, made.day.middle.shape)
    area = made.rows.given["area"]
    return float(evaporation.evaporation_depth.__wrapped__(surface[row].mean(), area, WATER))


def water_out(made: Solved, row: int, factor: float = 1.0) -> float:
    """Water that leaves as vapour on the mean of a row's day [m³/s]."""
    shape = made.day.middle.shape
    whole = np.broadcast_to(made.flows.vapour, shape)[row].mean()
    stream = np.broadcast_to(made.flows.stream_vapour, shape)[row].mean()
    return float(stream + (whole - stream) * factor) / WATER


def _months(made: Solved, weather: Weather, factors) -> tuple[Month, ...]:
    found = []
    for m in range(12):
        row, held = made.place["month", m], made.place["held", m]
        heat = made.day.heat[held]
        found.append(
            Month(
                month=MONTHS[m],
                air=float(weather.air_mean[m]),
                water=float(made.day.middle[row].mean()),
                hottest=float(made.day.start[row].max()),
                coldest=float(made.day.start[row].min()),
                evaporation=water_out(made, row),
                evaporation_low=water_out(made, row, factors[0]),
                evaporation_high=water_out(made, row, factors[1]),
                heating=float(np.maximum(heat, 0.0).mean()),
                chilling=float(np.maximum(-heat, 0.0).mean()),
            )
        )
    return tuple(found)


def course_of(made: Solved, day: str, way: str) -> Course:
    """One arrangement of a design day as it is shown."""
    row = made.place["day", day, way]
    answer, shape = made.day, made.day.middle.shape
    start = answer.start[row]
    return Course(
        day=day,
        arrangement=way,
        mean=float(answer.middle[row].mean()),
        hottest=float(start.max()),
        coldest=float(start.min()),
        swing=float(start.max() - start.min()),
        at_rest=float(made.rest[row, 0]),
        evaporation=water_out(made, row),
        air=np.broadcast_to(made.flows.air_temperature, shape)[row],
        start=start,
        end=answer.end[row],
        middle=answer.middle[row],
        flows={n: np.broadcast_to(f, shape)[row] for n, f in made.flows.terms().items()},
        heat=answer.heat[row],
        capacity=float(made.rows.capacity[row, 0]),
    )


def _depth(made: Solved, depth: float) -> Depth:
    start = made.day.start[made.place["depth", depth]]
    return Depth(
        depth=depth,
        swing=float(start.max() - start.min()),
        hottest=float(start.max()),
        coldest=float(start.min()),
    )


def _season_of(sizing: Sizing, fish: Species, months, only=None):
    design = sizing.design
    own = fish.name == design.stock.species
    return season(
        fish,
        np.array([m.water for m in months]),
        np.array([m.hottest for m in months]),
        np.array([m.coldest for m in months]),
        (design.stock.stocking_weight, design.goal.weight),
        design.stock.growth_coefficient if own else None,
        only,
    )


def _cooler(sizing: Sizing, fish: Species, months, run) -> tuple[Season, ...]:
    """What the other fish make of the days in which this one does not grow, best first."""
    left = np.ones(365, bool)
    left[run.places] = False
    if not left.any():
        return ()
    others = [species(name) for name in first_column("species") if name != fish.name]
    cool = [s for s in others if s.base_temperature < fish.base_temperature]
    found = [_season_of(sizing, other, months, left)[0] for other in cool]
    return tuple(sorted(found, key=lambda s: -s.end_weight))


def _heating(sizing: Sizing, made: Solved, months, low: Number, high: Number) -> Heating:
    c, day = sizing.design.climate, made.day
    cold, hot = made.place["day", "cold", "held"], made.place["day", "hot", "held"]
    loss = float(np.maximum(day.heat[cold], 0.0).max())
    size = heaters.heater_size.__wrapped__(loss, c.heater_factor)
    capacity = float(made.rows.capacity[cold, 0])
    heat = float(np.dot([m.heating for m in months], LENGTH)) * DAY
    chill = float(np.dot([m.chilling for m in months], LENGTH)) * DAY
    bought = heaters.energy_bought.__wrapped__(heat, c.heater_performance)
    coldest = min(m.water for m in months)
    area = made.rows.given["area"]
    cold_air = float(np.mean(made.rows.given["air_temperature"][cold]))
    return Heating(
        set_point=low,
        chill_above=high,
        loss=loss,
        heater=size,
        heater_each=heaters.heater_each.__wrapped__(size, c.heaters),
        rule_heater=heaters.rule_heater.__wrapped__(area, max(low - cold_air, 0.0)),
        chiller=float(np.maximum(-day.heat[hot], 0.0).max()),
        warm_up=heaters.warm_up_time.__wrapped__(capacity, max(low - coldest, 0.0), size),
        cooling=heaters.cooling_rate.__wrapped__(loss, capacity),
        yearly_heat=heat,
        yearly_heating_energy=bought,
        energy_per_fish=heaters.energy_for_fish.__wrapped__(bought, sizing.stock.harvest),
        yearly_chill=chill,
        yearly_chilling_energy=heaters.energy_bought.__wrapped__(chill, c.chiller_performance),
    )
