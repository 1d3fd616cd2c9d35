"""A day of feeding of one design: what its meals do to the water hour by hour."""

from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS, Number
from ..core.notebook import shown_in
from ..design.model import Design, arrays_of
from ..equations.power import minutes as minutes_to_act
from ..sizing.system import Sizing, size
from ..studies.outage.tank import HEADLINE, demand
from . import daily_cycle as cycle
from .fed_day import LIGHT, FedDay, column, fed_day
from .meal_times import clock, meal_hours, meal_shares

MEALS = (8.0, 12.0, 16.0)
"""Hours of the meals where none are told: by hand, morning, noon and afternoon (common practice)."""

COLUMNS = {
    "feed": "fraction", "water_temperature": "temperature", "fish_oxygen_use": "oxygen rate",
    "oxygen": "concentration", "ammonia": "concentration", "carbon_dioxide": "concentration",
    "ph": "pH", "unionized_ammonia": "concentration", "minutes_to_act": "minutes",
    "minutes_short": "minutes", "minutes_long": "minutes",
}  # fmt: skip
"""Columns of the table and their kinds."""

LOW_IS_BAD = ("oxygen", "ph", "minutes_to_act", "minutes_short", "minutes_long")
"""Columns whose worst hour is their lowest."""


@dataclass(frozen=True, slots=True, eq=False)
class Outages:
    """Time to act by the step in which the air stops [s]: designs of one row."""

    short: Number
    likely: Number
    long: Number


def feeding_day(design, meals=None, *, shares=None, light=LIGHT, water=None, every: int = 60,
                system: str = "us"):  # fmt: skip
    """A day of feeding on the biggest day, as a pandas table by the hour.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        meals: such as ``"8:00, 12:00"`` or hours after midnight; left out, 8, 12 and 16 h.
        shares: share of the day's feed in each meal; left out, all alike.
        light: hours at which light comes and goes.
        water: temperature of the water at each hour [°C], 24 numbers; left out, the warmest week.
        every: time from row to row [min]: 60, 30 or 15.
        system: "us", "metric" or "si".
    Returns: the frame; its index is the hour after midnight.  ``attrs``: units by column, meals,
        worst (value and hour of each column, over every quarter hour), best_start and worst_start of
        an outage, thresholds, mean, peak_over_mean, warnings and notes.
    Raises: ``DesignError`` with one sentence.
    Source: ``data/meal_responses.csv``; ``equations.gas``, ``equations.water`` and
        ``equations.biofilter``.

    >>> from rsdesign import load
    >>> found = feeding_day(load("family"), "8:00, 12:00, 16:00")
    >>> len(found), found.attrs["units"]["oxygen"], found.attrs["worst"]["oxygen"]["hour"]
    (24, 'mg/L', 17.75)
    """
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    if every not in (15, 30, 60):
        raise DesignError(f"Rows every {every} minutes are not there; choose 60, 30 or 15.")
    day, hours, parts = day_of(design, meals, shares, light=light, water=water)
    plain = plain_columns(day, hours, parts)
    columns, units = {}, {}
    for name, kind in COLUMNS.items():
        columns[name], units[name] = shown_in(plain[name], KINDS[kind], system)
    at = cycle.hours_of()
    chosen = slice(None, None, every // 15)
    rows = {name: values[chosen] for name, values in columns.items()}
    rows["feed"] = columns["feed"].reshape(-1, every // 15).sum(axis=1)
    frame = pd.DataFrame(rows, index=pd.Index(at[chosen], name="hour"))
    worst = {name: _worst(name, values, at) for name, values in columns.items() if name != "feed"}
    starts = plain["minutes_to_act"]
    frame.attrs.update(
        units={**units, "hour": "h"},
        system=system,
        meals=[clock(h) for h in hours],
        shares=parts,
        worst=worst,
        worst_start=_start(starts, at, np.argmin(starts)),
        best_start=_start(starts, at, np.argmax(starts)),
        thresholds=_thresholds(day.sizing, system),
        mean={name: float(np.mean(v)) for name, v in columns.items() if name in _MEANS},
        peak_over_mean=float(day.fish.max() / day.fish.mean()),
        warnings=warnings_of(day),
        notes=NOTES,
    )
    return frame


_MEANS = ("oxygen", "ammonia", "carbon_dioxide", "ph", "unionized_ammonia", "fish_oxygen_use")

NOTES = (
    "The biggest feed day in the warmest week; the filter as in the coldest week in which the fish eat.",
    "Oxygen and the minutes are those of the fullest tank; ammonia, carbon dioxide and pH of all water.",
    "The air is the same in every hour, as much as the sizing lets in.",
    "No hourly curve of fed tilapia was found in print: fish use most oxygen 2 to 3 h after a meal and"
    " give off most ammonia 2 to 6 h after it.",
    "The minutes count on the meals being given after the air has stopped too; stop feeding at once.",
)
"""What the table counts on."""


def day_of(
    design, meals=None, shares=None, *, light=LIGHT, water=None
) -> tuple[FedDay, list, list]:
    """The day of one design as arrays, its meals as hours and their shares; as ``feeding_day``."""
    sizing = size(design) if isinstance(design, Design) else design
    if not isinstance(sizing, Sizing) or arrays_of(sizing.design):
        raise DesignError(
            "A day of feeding is that of one design; give one, without lists of values."
        )
    hours = list(MEALS) if meals is None else meal_hours(meals)
    parts = meal_shares(shares, len(hours))
    if len(light) != 2 or not all(0.0 <= h <= 24.0 for h in light):
        raise DesignError("Light is told by two hours from 0 to 24, such as (6, 18).")
    if water is not None:
        water = _hourly_water(water)
    with np.errstate(all="ignore"):
        return fed_day(sizing, [hours], [parts], light=light, water=water), hours, parts


def _hourly_water(water) -> np.ndarray:
    """Water temperature in each step from that at each hour, between hours along a line."""
    water = np.asarray(water, float)
    if water.shape != (24,) or not np.all((water >= 0.0) & (water <= 42.0)):
        raise DesignError("Water is told by 24 temperatures from 0 to 42 °C, one for each hour.")
    around = np.append(water, water[0])
    return np.interp(cycle.hours_of() + 0.125, np.arange(25), around)[None, :]


def plain_columns(day: FedDay, hours, parts) -> dict[str, np.ndarray]:
    """The columns of the table as plain numbers, one for each quarter hour."""
    times = outages(day)
    short, likely, long = (np.asarray(t)[0] for t in (times.short, times.likely, times.long))
    feed = np.zeros(cycle.STEPS)
    for hour, part in zip(hours, parts, strict=True):
        feed[int(hour * cycle.STEPS / 24.0) % cycle.STEPS] += part
    return {
        "feed": feed,
        "water_temperature": day.water[0],
        "fish_oxygen_use": day.fish[0],
        "oxygen": day.oxygen.start[0],
        "ammonia": day.ammonia.start[0],
        "carbon_dioxide": day.carbon_dioxide.start[0],
        "ph": day.ph[0],
        "unionized_ammonia": day.unionized[0],
        "minutes_to_act": likely,
        "minutes_short": short,
        "minutes_long": long,
    }


def outages(day: FedDay, level=None) -> Outages:
    """Time to act by the step in which the air stops, the pump running on: designs × steps [s].

    What the fish use follows the day on from that hour; the ends of the range are those of every
    outage (``minutes_to``), for the use that takes just that long.

    Parameters:
        day: what ``fed_day`` gave.
        level: oxygen at which time is up [kg/m³]; left out, that at which fish are in distress.
    Returns: ``Outages``.
    """
    d, tank = day.sizing.design, day.tank
    level = d.keep.stress_oxygen if level is None else level
    bacteria = column(demand(tank, HEADLINE, 0.0)) + np.zeros(day.fish.shape)
    start = day.oxygen.start
    likely = _time_to_use(
        np.maximum(start - column(level), 0.0) * column(tank.volume), day.fish + bacteria
    )
    spent = np.where(likely > 0.0, (start - column(level)) * column(tank.volume), 0.0)
    with np.errstate(all="ignore"):
        mean_use = np.where(likely > 0.0, spent / likely, day.fish + bacteria)
        ends = [
            minutes_to_act.minutes_to(
                end, column(level), start, column(d.keep.stress_oxygen), column(tank.saturation),
                column(tank.volume), np.maximum(mean_use - bacteria, 0.0), bacteria,
                column(d.wastes.oxygen_per_feed), column(tank.surface_transfer),
            )
            for end in minutes_to_act.ENDS
        ]  # fmt: skip
    return Outages(ends[0], likely, ends[2])


def _time_to_use(store, use) -> np.ndarray:
    """Time until a use that goes round the day has taken a store, from each step on [s]."""
    steps = use.shape[-1]
    step = cycle.DAY / steps
    found = np.empty(use.shape)
    for row, (have, each) in enumerate(zip(store, use, strict=True)):
        whole = float(each.sum()) * step
        if whole <= 0.0:
            found[row] = np.where(have > 0.0, np.inf, 0.0)
            continue
        taken = np.concatenate([[0.0], np.cumsum(np.tile(each, 2)) * step])
        days, rest = np.divmod(have, whole)
        at = np.interp(taken[:steps] + rest, taken, np.arange(2 * steps + 1) * step)
        found[row] = at - np.arange(steps) * step + days * cycle.DAY
    return found


def _worst(name: str, values: np.ndarray, at: np.ndarray) -> dict:
    """The worst value of a column and its hour; none where it is not known."""
    if not np.isfinite(values).any():
        return {"value": None, "hour": None}
    k = int(np.nanargmin(values) if name in LOW_IS_BAD else np.nanargmax(values))
    return {"value": float(values[k]), "hour": float(at[k])}


def _start(seconds: np.ndarray, at: np.ndarray, k) -> dict:
    return {"hour": float(at[int(k)]), "minutes": float(seconds[int(k)]) / 60.0}


def _thresholds(sizing: Sizing, system: str) -> dict:
    """What the fish bear, by column: what should be kept, and where danger begins."""
    keep, safety = sizing.design.keep, sizing.design.safety
    found = {
        "oxygen": {"keep": keep.oxygen, "alarm": safety.alarm_oxygen, "stress": keep.stress_oxygen,
                   "deadly": safety.deadly_oxygen},
        "ammonia": {"most": keep.total_ammonia},
        "unionized_ammonia": {"most": keep.unionized_ammonia},
        "carbon_dioxide": {"most": keep.carbon_dioxide},
    }  # fmt: skip
    return {
        name: {word: float(shown_in(v, KINDS[COLUMNS[name]], system)[0]) for word, v in of.items()}
        for name, of in found.items()
    }


def warnings_of(day: FedDay) -> list[str]:
    """What is wrong in some hour of the day, worst first, in sentences."""
    s, keep, at = day.sizing, day.sizing.design.keep, cycle.hours_of()
    lowest, when = float(day.oxygen.start.min()), clock(at[int(day.oxygen.start.argmin())])
    found = []
    if lowest < float(s.design.safety.deadly_oxygen):
        found.append(f"Fish die: oxygen falls to {1e3 * lowest:.1f} mg/L at {when}.")
    elif lowest < float(keep.stress_oxygen):
        found.append(f"Fish are in distress: oxygen falls to {1e3 * lowest:.1f} mg/L at {when}.")
    if not np.isfinite(day.ammonia.start).all():
        found.append(
            "The filter takes less ammonia than these fish make, so no day repeats itself: it rises day"
            " after day. Feed less or add media."
        )
    else:
        most = float(day.unionized.max())
        if most > float(keep.unionized_ammonia):
            when = clock(at[int(day.unionized.argmax())])
            found.append(
                f"Un-ionised ammonia reaches {1e3 * most:.3f} mg/L as nitrogen at {when}, over the"
                f" {1e3 * float(keep.unionized_ammonia):.3f} that these fish should meet at most."
            )
    peak, counted = float(day.fish.max() / day.fish.mean()), float(s.design.wastes.hour_factor)
    if peak > 1.05 * counted:
        found.append(
            f"These meals make the busiest hour {peak:.2f} times the mean hour; the sizing counts on"
            f" {counted:.2f}. Give more and smaller meals, or tell the design the higher number."
        )
    return found
