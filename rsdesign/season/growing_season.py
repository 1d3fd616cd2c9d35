"""A growing season day by day, as a table: fish, water and money, with a band for growth."""

import datetime
from collections.abc import Iterable

import numpy as np

from ..core.choices import DesignError
from ..core.days import read_day
from ..core.kinds import KINDS, UnitError
from ..core.notebook import shown_in
from ..core.unit_table import DAY
from ..core.units import clipped, parse
from ..design.model import Design, arrays_of
from ..equations.fish import season_growth
from ..equations.fish.growth_bands import BANDS
from ..sizing.system import Sizing, size
from .crop import MIDDLE, degrees
from .season_numbers import lines_of_growth, plan_of
from .season_run import Season, run
from .season_words import events_of, notes_of, warnings_of
from .water_course import growing_start, water_course
from .what_ifs import as_what_ifs, changes

YEAR = 365
COLUMNS = {
    "water_temperature": "temperature", "hottest_hour": "temperature", "coldest_hour": "temperature",
    "fish": "count", "weight": "fish weight", "weight_slow": "fish weight", "weight_fast": "fish weight",
    "largest_weight": "fish weight", "biomass": "mass", "feed": "feed rate", "feed_eaten": "feed rate",
    "ammonia": "concentration", "unionized_ammonia": "concentration", "nitrite": "concentration",
    "nitrate": "concentration", "alkalinity": "concentration", "ph": "pH", "oxygen": "concentration",
    "carbon_dioxide": "concentration", "chloride": "concentration", "new_water": "daily flow",
    "evaporation": "daily flow", "drained": "daily flow", "base": "chemical dose", "died": "count",
    "stocked": "count", "harvested": "mass", "heating": "energy", "cash_flow": "money", "cash": "money",
}  # fmt: skip
"""Columns of the table and the kind of each."""


def growout(
    design: Design | Sizing,
    days: int = YEAR,
    start=None,
    growth: str = "middle",
    weights: Iterable | None = None,
    what_ifs: Iterable = (),
    ammonia_share: float | None = None,
    system: str = "us",
):
    """A growing season of one design, day by day, as a pandas frame.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        days: length of the season [days], 1 to 730.
        start: the day of stocking: a day of the year from 1 to 365, a date, or text such as
            ``"2027-04-15"``; None takes the first day on which the fish grow.
        growth: "slow", "middle" or "fast": which line of growth decides.
        weights: own weighings as pairs of day and mean weight (kg, or text such as ``"120 g"``);
            they fit the growth coefficient of the middle line.
        what_ifs: ``WhatIf``, text such as ``"chlorine slip:60"``, or (name, day, days, amount).
        ammonia_share: share of the feed's nitrogen that leaves the fish as ammonia [-], 0.2
            to 0.8; None for that of the sizing, 0.575.  Red tilapia were found at 0.394.
        system: "us", "metric" or "si".
    Returns: the frame, a row for each day; ``attrs``: units by column, events, warnings, notes,
        growth, money by line, balances (what each day leaves open), and dead, the day on which the
        fish would be dead, where the table ends.
    Raises: ``DesignError`` with one sentence.
    Source: ``data/growth_bands.csv``, ``data/ripening.csv``; ``equations.fish``,
        ``equations.biofilter``, ``equations.makeup`` and ``equations.costs``.

    >>> from rsdesign import load
    >>> found = growout(load("family"), days=30)
    >>> len(found), found.attrs["units"]["nitrate"]
    (30, 'mg/L')
    """
    season, first, about = computed(design, days, start, growth, weights, what_ifs, ammonia_share)
    return table(season, first, about, system)


def computed(design, days=YEAR, start=None, growth="middle", weights=None, what_ifs=(),
             ammonia_share=None, quick=False) -> tuple[Season, int | datetime.date, dict]:  # fmt: skip
    """The season of ``growout`` as arrays, its first day, and what its growth rests on.

    ``quick``: with fewer steps of the filter, about right.
    """
    sizing = size(design) if isinstance(design, Design) else design
    if arrays_of(sizing.design):
        raise DesignError("A season is shown of one design; take one of the swept designs.")
    days = _whole("days", days, 1, 730)
    if growth not in BANDS:
        raise DesignError(f"growth is {clipped(str(growth))}; choose from: {', '.join(BANDS)}.")
    whole = water_course(sizing)
    first = first_day(start, whole, sizing)
    place = (first.timetuple().tm_yday if isinstance(first, datetime.date) else first) - 1
    water = whole.days(min(place, YEAR - 1), days)
    change = changes(
        as_what_ifs(what_ifs), days, float(water.hot_spell[0]), float(water.cold_spell[0])
    )
    coefficient, base = lines_of_growth(sizing.design, sizing)
    if growth != "middle":
        line = BANDS.index(growth)
        coefficient[MIDDLE], base[MIDDLE] = coefficient[line], base[line]
    about = {"line": growth, "weighings": 0}
    if weights is not None:
        pairs = weighings(weights, days)
        coefficient[MIDDLE] = fitted(sizing, pairs, water.mean + change.warmer, (coefficient, base))
        about = {"line": "own weighings", "weighings": len(pairs)}
    about |= {"coefficient": coefficient[:, 0].tolist(), "base": base[:, 0].tolist()}
    share = None if ammonia_share is None else _share(ammonia_share)
    found = run(sizing, water, change, (coefficient, base), share, quick=quick)
    return found, first, about | {"change": change}


def _share(value) -> float:
    if not isinstance(value, (int, float)) or not 0.2 <= value <= 0.8:
        raise DesignError(
            f"ammonia_share (ammonia over the nitrogen of the feed) is {clipped(str(value))}; choose"
            " from 0.2 to 0.8."
        )
    return float(value)


def _whole(name: str, value, low: int, high: int) -> int:
    if (
        isinstance(value, bool)
        or not isinstance(value, (int, np.integer))
        or not low <= value <= high
    ):
        raise DesignError(
            f"{name} is {clipped(str(value))}; write a whole number from {low} to {high}."
        )
    return int(value)


def first_day(start, whole, sizing: Sizing):
    """The day of stocking as it may be given: a day of the year, or a date."""
    if start is None:
        return growing_start(whole, sizing.tables.species) + 1
    if isinstance(start, str | datetime.date):
        try:
            return read_day(start)
        except DesignError as wrong:
            raise DesignError(
                f"start (day of stocking): {wrong} A day of the year from 1 to 365 will do as well."
            ) from None
    return _whole("start (day of the year)", start, 1, YEAR)


def read_start(text: str) -> int | str | None:
    """A day of stocking as it is typed: a date, or a day of the year; None for nothing.

    >>> read_start("105"), read_start("2027-04-15"), read_start("")
    (105, '2027-04-15', None)
    """
    text = text.strip()
    return int(text) if text.isdecimal() else text or None


def read_weighing(text: str) -> tuple[int, str]:
    """A weighing as it is typed: day and weight, between a colon.

    >>> read_weighing("60: 120 g")
    (60, '120 g')
    """
    day, mark, weight = text.partition(":")
    if not mark or not day.strip().isdecimal():
        raise DesignError(
            f"The weighing {clipped(text.strip())} cannot be read; write day and weight, such as '60:120 g'."
        )
    return int(day), weight.strip()


def weighings(given: Iterable, days: int) -> list[tuple[int, float]]:
    """Own weighings as pairs of the day of the season and the weight [kg]."""
    found = []
    for pair in given:
        try:
            day, weight = pair
        except (TypeError, ValueError):
            raise DesignError(
                f"The weighing {clipped(str(pair))} cannot be read; give a day and a mean weight, such"
                " as (60, '120 g')."
            ) from None
        day = _whole("The day of a weighing", day, 2, days)
        try:
            value = (
                parse(weight, KINDS["fish weight"]) if isinstance(weight, str) else float(weight)
            )
        except (UnitError, TypeError, ValueError) as wrong:
            raise DesignError(
                f"The weight on day {day}: {wrong} Write it such as '120 g', from 0.01 g to 50 kg."
            ) from None
        if not 1e-5 <= value <= 50.0:
            raise DesignError(
                f"The weight on day {day} is {clipped(str(weight))}; choose from 0.01 g to 50 kg (a"
                " number without a unit is in kg)."
            )
        found.append((day, value))
    if not found:
        raise DesignError("weights is empty; give at least one day and weight, or leave it out.")
    return found


def fitted(sizing: Sizing, pairs, water, lines) -> float:
    """The growth coefficient that own weighings show over the base of the middle line."""
    warm = np.cumsum(degrees(plan_of(sizing, lines), water)[:, MIDDLE, 0])
    warmth = np.array([warm[day - 2] for day, _ in pairs])
    if not warmth.max() > 0.0:
        raise DesignError(
            "The weighings all lie on days before the fish could grow in this water; weigh later, or"
            " look at the start."
        )
    start = sizing.design.stock.stocking_weight
    found = season_growth.coefficient_of_weighings.__wrapped__(
        np.array([w for _, w in pairs]), start, warmth
    )
    if not found > 0.0:
        raise DesignError(
            "The weighings are below the weight at stocking, so no growth can be read from them; look"
            " at the unit, a number without one is in kg."
        )
    return found


def table(season: Season, first, about: dict, system: str):
    """A season as the frame that ``growout`` gives."""
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    days = season.fish.number.shape[0]
    end = int(season.death.day[0])
    shown = slice(0, min(end + 1, days))
    columns: dict = {"day": np.arange(1, days + 1)[shown], "date": dates(first, days)[shown]}
    units = {"day": "day", "date": ""}
    for name, value in plain_columns(season).items():
        columns[name], units[name] = shown_in(value[shown, 0], KINDS[COLUMNS[name]], system)
    frame = pd.DataFrame(columns)
    if end < days:
        frame.loc[frame.index[-1], ["fish", "biomass", "feed", "feed_eaten"]] = 0.0
    currency = season.sizing.design.prices.currency
    units |= dict.fromkeys(("cash_flow", "cash"), currency)
    change = about.pop("change")
    frame.attrs.update(
        units=units,
        system=system,
        events=events_of(season, change),
        warnings=warnings_of(season),
        notes=notes_of(season, about, system),
        growth=about,
        money={name: float(value[shown, 0].sum()) for name, value in season.money.lines.items()},
        balances={n: float(np.abs(v[shown]).max()) for n, v in season.balances().items()},
        dead=end + 1 if end < days else None,
    )
    return frame


def dates(first, days: int) -> list[str]:
    """The dates of a season, with the year where the first day has one."""
    if isinstance(first, datetime.date):
        return [(first + datetime.timedelta(d)).isoformat() for d in range(days)]
    return [DATES[(first - 1 + d) % YEAR] for d in range(days)]


DATES = [
    f"{day:%b} {day.day}"
    for day in (datetime.date(2027, 1, 1) + datetime.timedelta(d) for d in range(YEAR))
]
"""The days of a year that is no leap year."""


def plain_columns(season: Season) -> dict[str, np.ndarray]:
    """The columns of the table as plain numbers, days x designs."""
    s, f = season, season.fish
    return {
        "water_temperature": s.water.mean,
        "hottest_hour": s.water.hottest,
        "coldest_hour": s.water.coldest,
        "fish": f.number,
        "weight": f.weight[:, MIDDLE],
        "weight_slow": f.weight[:, 0],
        "weight_fast": f.weight[:, 2],
        "largest_weight": f.largest,
        "biomass": f.biomass,
        "feed": f.feed / DAY,
        "feed_eaten": f.eaten / DAY,
        "ammonia": s.levels.ammonia,
        "unionized_ammonia": s.gases["unionized"],
        "nitrite": s.levels.nitrite,
        "nitrate": s.levels.nitrate,
        "alkalinity": s.base["alkalinity"],
        "ph": s.gases["ph"],
        "oxygen": s.gases["oxygen"],
        "carbon_dioxide": s.gases["carbon_dioxide"],
        "chloride": s.chloride,
        "new_water": s.moved["new"],
        "evaporation": s.water.evaporation,
        "drained": s.moved["out"],
        "base": s.base["base"] / DAY,
        "died": f.died,
        "stocked": f.fingerlings,
        "harvested": f.harvested,
        "heating": s.water.heating * DAY,
        "cash_flow": s.money.flow,
        "cash": s.money.balance,
    }
