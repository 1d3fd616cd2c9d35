"""The year of a design: who decides how warm the water is, and what follows for fish and money.

The weather decides where the water is not heated, a heater where there is one, the user where they
say that it stays warm by itself.  Where no weather is given, nothing is known of the season, and
the figures are those of water kept warm all year.
"""

import functools
from dataclasses import dataclass

import numpy as np

from ...core.choices import DesignError
from ...core.figures import figure, stage
from ...core.kinds import Count, Days, Energy, FishWeight, Mass, Number, Temperature
from ...core.unit_table import DAY
from ...design.model import FIELDS, CacheKey, Design, value_of
from ...sizing.system import Sizing
from ..enterprise import Enterprise, enterprise
from ..fishyear import DAYS, Allowed
from ..growing import START_UP, all_year, one_season
from .brief import Brief, year_brief
from .season import YEAR as CALENDAR_DAYS
from .season import Run, Season

NEAR = 0.5
"""Degrees by which the weather may pass what the design counts on before a word is said."""
WEATHER, HEATED, WARM_BY_ITSELF, NOT_KNOWN, NONE = "weather", "heated", "told", "not known", "none"
UNSETTLED = "unsettled"
"""The heat balance has no answer, as with motors of megawatts on a small tank."""
"""What a year rests on; ``NONE``: the weather lets nothing grow, so the figures are those with heat."""

_APART = frozenset({"prices", "terms", "safety", "makeup"})
"""Sections on which the heat of the water does not hang."""

_PATHS = tuple(p for p, f in FIELDS.items() if f.section and f.section not in _APART)


@dataclass(frozen=True, slots=True, eq=False)
class Weathered:
    """What the weather and the heater make of a year."""

    basis: str
    heating_energy: float = 0.0
    evaporation: float = 0.0
    allowed: Allowed | None = None
    hottest: Number | None = None
    season: Season | None = None
    winter: bool = True
    """Whether the fish live through the coldest day."""
    summer: bool = True
    """Whether they live through the hottest."""
    warmth: np.ndarray | None = None
    """Degrees of growth of each day of the calendar, where the weather decides."""
    run: Run | None = None
    """The days in a row on which the fish grow, where the cold or the heat ends the season."""


@stage()
class Year:
    """The figures of a year that follow from place and heat."""

    basis: str = figure("What the year rests on")
    harvest: Mass = figure("Fish harvested in a year")
    batches: Count = figure("Batches in a year")
    weight: FishWeight = figure("Weight of a fish at harvest")
    feed: Mass = figure("Feed in a year")
    running: Days = figure("Days of the year in use")
    heating: Energy = figure("Energy bought for heat in a year")
    counted: Temperature = figure("Water in the hottest week, as the design counts on it")
    hottest: Temperature | None = figure("Hottest water that the weather brings")


def weathered(sizing: Sizing) -> Weathered:
    """What the weather and the heater make of the year of one design (no arrays); kept for a while."""
    return _found(CacheKey(sizing, tuple(_plain(sizing.design, path) for path in _PATHS)))


def extras(sizing: Sizing) -> dict:
    """What ``enterprise`` needs of the year: energy for heat [J], evaporation [m³], the season."""
    found = weathered(sizing)
    return {
        "heating_energy": found.heating_energy,
        "evaporation": found.evaporation,
        "allowed": found.allowed,
    }


def full_year(sizing: Sizing) -> Enterprise:
    """The budget of a full year with its season, its heat and its evaporation."""
    return enterprise(sizing, **extras(sizing))


def year_of(sizing: Sizing) -> Year:
    """The year of one design in figures."""
    found, money = weathered(sizing), full_year(sizing)
    allowed = found.allowed
    return Year(
        basis=found.basis,
        harvest=money.harvest,
        batches=money.batches,
        weight=sizing.design.goal.weight if allowed is None else allowed.weight,
        feed=money.feed,
        running=DAYS if allowed is None else allowed.running,
        heating=found.heating_energy,
        counted=sizing.air.temperature,
        hottest=found.hottest,
    )


def hotter_than_counted(sizing: Sizing) -> Number | None:
    """The hottest water that the weather brings, where the design counts on less; else None."""
    hottest = weathered(sizing).hottest
    return hottest if hottest is not None and hottest > sizing.air.temperature + NEAR else None


def _plain(design: Design, path: str):
    value = value_of(design, path)
    return float(value) if isinstance(value, (int, float)) else value


@functools.lru_cache(maxsize=64)
def _found(key: CacheKey) -> Weathered:
    """A money slider moves often and changes no heat: the last answers are kept."""
    sizing = key.value
    c = sizing.design.climate
    if c.weather is None:
        return Weathered(WARM_BY_ITSELF if c.heated == "warm by itself" else NOT_KNOWN)
    try:
        brief = year_brief(sizing, c.heated == "yes")
    except DesignError:  # said in words; the sizing itself stands
        return Weathered(UNSETTLED)
    if c.heated == "warm by itself":
        return Weathered(WARM_BY_ITSELF, evaporation=_over(brief, 0, CALENDAR_DAYS))
    fish = sizing.tables.species
    lives = {"winter": brief.coldest > fish.lethal_low, "summer": brief.hottest < fish.lethal_high}
    if c.heated == "yes":
        return _held(HEATED, brief, lives | {"winter": True})
    if not brief.run.days:
        return _held(NONE, year_brief(sizing, True), lives)
    warmth = np.clip(brief.water, None, fish.top_temperature) - fish.base_temperature
    warmth = np.where(brief.good, np.maximum(warmth, 0.0), 0.0)
    if all(lives.values()):
        run, allowed, first, days = None, all_year(sizing, warmth), 0, CALENDAR_DAYS
    else:
        run, allowed = brief.run, one_season(sizing, brief.run, warmth)
        days = min(round(float(allowed.running)), CALENDAR_DAYS)
        first = brief.run.first - int(START_UP)
    return Weathered(
        WEATHER,
        evaporation=_over(brief, first, days),
        allowed=allowed,
        hottest=brief.hottest,
        season=brief.season,
        warmth=warmth,
        run=run,
        **lives,
    )


def _held(basis: str, brief: Brief, lives: dict) -> Weathered:
    evaporation = _over(brief, 0, CALENDAR_DAYS)
    return Weathered(basis, brief.heat, evaporation, None, brief.hottest, brief.season, **lives)


def _over(brief: Brief, first: int, days: int) -> float:
    """Water that goes into the air on so many days from the first [m³]."""
    places = (first + np.arange(days)) % CALENDAR_DAYS
    return float(brief.evaporation[places].sum()) * DAY
