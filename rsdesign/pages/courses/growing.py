"""A season as a course: weight of the fish with its band, the water, and money, day by day."""

import numpy as np

from ...core.choices import DesignError
from ...core.kinds import KINDS
from ...core.unit_table import DAY
from ...core.units import show
from ...report.cost import money
from ...report.drawings.course_chart import Event, Threshold
from ...report.drawings.moment import Tank
from ...report.order import order_words
from ...season.growing_season import (
    COLUMNS,
    computed,
    dates,
    plain_columns,
    read_start,
    read_weighing,
)
from ...season.season_words import events_of, notes_of, warnings_of
from ...season.what_ifs import KINDS as WHAT_IFS
from ...season.what_ifs import WhatIf, read_what_if
from ...sizing.judging import ENOUGH, SHORT, TIGHT
from ...sizing.system import Sizing
from .course import Course, Series, bar, headed, headed_figure
from .options import Option

DAYS = 365
USUAL_DAY = 60
"""Day on which a what-if happens where the moment stands on the first day."""
OPTIONS = (
    Option("start", "Day of stocking", "", hint="2027-04-15, or empty"),
    Option("growth", "Growth", "middle",
           (("slow", "slow, of the published band"), ("middle", "middle of the published band"),
            ("fast", "fast, of the published band"))),
    Option("weights", "My own weighings", "", hint="day: weight, such as 60: 120 g; 90: 200 g"),
    Option("below", "Show beneath", "water_temperature",
           (("water_temperature", "water temperature"), ("feed", "feed"), ("ammonia", "ammonia, nitrite"),
            ("nitrate", "nitrate"), ("unionized_ammonia", "un-ionised ammonia"), ("oxygen", "oxygen"),
            ("fish", "fish alive"), ("new_water", "new water"), ("cash", "money"))),
    Option("what_ifs", "What if", "", hint="such as chlorine slip: 60; heat wave: 90: 7"),
)  # fmt: skip
LABELS = {
    "weight": "weight of a fish", "water_temperature": "water, mean of the day",
    "feed": "feed", "ammonia": "ammonia", "nitrite": "nitrite",
    "nitrate": "nitrate", "unionized_ammonia": "un-ionised ammonia", "oxygen": "oxygen, busiest hour",
    "fish": "fish", "new_water": "new water", "cash": "money in hand",
}  # fmt: skip
TOLD = (
    "weight",
    "fish",
    "feed",
    "water_temperature",
    "ammonia",
    "nitrite",
    "nitrate",
    "oxygen",
    "cash",
)
BELOW = {
    "ammonia": ("ammonia", "nitrite"),
}  # fmt: skip


def course(sizing: Sizing, answers: dict[str, str], system: str, quick: bool) -> Course:
    """A year of a sizing from the day of stocking on; its filter about right while a slider moves (``quick``)."""
    season, first, about = computed(
        sizing, DAYS, read_start(answers["start"]), answers["growth"],
        [read_weighing(part) for part in _parts(answers["weights"])] or None, what_ifs_of(answers["what_ifs"]),
        quick=quick,
    )  # fmt: skip
    change = about.pop("change")
    end = int(season.death.day[0])
    found = {name: np.array(values[:, 0], float) for name, values in plain_columns(season).items()}
    for values in found.values():
        values[end + 1 :] = np.nan
    days = np.arange(1.0, DAYS + 1)
    series = {name: Series(label, COLUMNS[name], found[name]) for name, label in LABELS.items()}
    series["weight"] = Series(
        LABELS["weight"], "fish weight", found["weight"], found["weight_slow"], found["weight_fast"]
    )
    series["water_temperature"] = Series(
        LABELS["water_temperature"], "temperature", found["water_temperature"], found["coldest_hour"],
        found["hottest_hour"],
    )  # fmt: skip
    told = dates(first, DAYS)
    events = events_of(season, change)
    return Course(
        title="A season",
        axis="day from stocking",
        times=days,
        moment=lambda time: f"day {time:.0f}, {told[min(int(time), DAYS) - 1]}",
        series=series,
        above=("weight",),
        below=BELOW.get(answers["below"], (answers["below"],)),
        headline=_headline(found, sizing, system, told),
        tank=lambda place, units: _tank(sizing, found, place, end, units),
        told=TOLD,
        limits=_limits(sizing),
        events=[Event(float(e["day"]), _short(e["event"])) for e in events],
        warnings=[*(e["event"][0].upper() + e["event"][1:] + f" (day {e['day']})." for e in events if "dead" in e["event"]),
                  *order_words(sizing, system, read_start(answers["start"]))[-1:],
                  *(f"Day {w['day']}, {w['days']} days: {w['warning']}." for w in warnings_of(season))],
        notes=notes_of(season, about, system),
        last=min(end, DAYS - 1),
        mark=sizing.design.prices.currency,
        start=0.5,
    )  # fmt: skip


def what_ifs_of(text: str) -> list[WhatIf]:
    """The what-ifs of an answer, each as ``season --what-if`` takes it, between semicolons."""
    return [read_what_if(part) for part in _parts(text)]


def _parts(text: str) -> list[str]:
    """What stands between semicolons."""
    return [part for part in text.split(";") if part.strip()]


def buttons(text: str, day: int) -> list[dict]:
    """A button for each kind of what-if that is not there yet, and what it makes of the answer."""
    try:
        there = {what.name for what in what_ifs_of(text)}
    except DesignError:
        there = set()
    return [
        {"title": f"{name[0].upper()}{name[1:]}", "text": "; ".join(part for part in (text, f"{name}: {day}") if part)}
        for name in WHAT_IFS
        if name not in there
    ]  # fmt: skip


def _short(event: str) -> str:
    """An event in the words that fit a chart: numbers and reasons stand in the list."""
    for word in ("stock", "harvest"):
        if event.startswith(word):
            return word
    return event.partition(":")[0]


def _limits(sizing: Sizing) -> dict[str, list[Threshold]]:
    keep, fish = sizing.design.keep, sizing.tables.species
    return {
        "weight": [
            Threshold(float(sizing.design.goal.weight), "weight to harvest", False, "enough")
        ],
        "water_temperature": [
            Threshold(float(fish.feeding_low), "they eat above", bad_above=False),
            Threshold(float(fish.feeding_high), "they eat below"),
        ],
        "ammonia": [Threshold(float(keep.total_ammonia), "most ammonia to keep")],
        "unionized_ammonia": [Threshold(float(keep.unionized_ammonia), "most for these fish")],
        "nitrate": [Threshold(float(keep.nitrate), "most to keep", True, "tight")],
        "oxygen": [Threshold(float(keep.oxygen), "to keep", False, "tight")],
    }


def _headline(found: dict, sizing: Sizing, system: str, told: list[str]) -> list[dict]:
    harvested = np.nansum(found["harvested"])
    big = np.flatnonzero(found["weight"] >= float(sizing.design.goal.weight) * (1 - 1e-9))
    sold = np.flatnonzero(found["harvested"] > 0)
    heads = [
        headed("Stocked", told[0], "", "the first day"),
        headed("First harvest", told[int(sold[0])], "", f"day {int(sold[0]) + 1}") if sold.size else
        headed("First harvest", "none", "", "too small this year" if not big.size else "within this year"),
        headed_figure("Harvest", float(harvested), "mass", system, "in this year"),
        headed_figure("Feed", float(np.nansum(found["feed"]) * DAY), "mass", system, "in this year"),
        _money(sizing, found),
    ]  # fmt: skip
    return heads


def _money(sizing: Sizing, found: dict) -> dict:
    cash = found["cash"][np.isfinite(found["cash"])]
    words = money(float(cash[-1]), sizing.design.prices.currency)
    return headed("Money in hand", words, "", "invented prices")


def _tank(sizing: Sizing, found: dict, place: int, end: int, system: str) -> Tank:
    """The tanks on a day: how many fish of what weight, and whether the water will do."""
    keep = sizing.design.keep
    number, weight = float(found["fish"][place]), float(found["weight"][place])
    if place >= end and end < DAYS:
        return Tank(0.0, weight, SHORT, "the fish would be dead")
    bad = {
        "ammonia": float(found["ammonia"][place]) / float(keep.total_ammonia),
        "nitrate": float(found["nitrate"][place]) / float(keep.nitrate),
        "un-ionised ammonia": float(found["unionized_ammonia"][place])
        / float(keep.unionized_ammonia),
    }
    worst = max(bad, key=lambda name: bad[name])
    short_air = float(found["oxygen"][place]) < float(keep.oxygen) * 0.999 and number > 0
    state = SHORT if bad[worst] > 1.02 or short_air else TIGHT if bad[worst] > 0.9 else ENOUGH
    words = (
        "less oxygen than to keep" if short_air else f"{worst} too high" if state == SHORT
        else f"{number:.0f} fish of {show(weight, KINDS['fish weight'], system, 2)}" if number else "no fish"
    )  # fmt: skip
    goal = float(sizing.design.goal.weight)
    return Tank(number, weight, state, words, (
        bar("Weight, of harvest", weight / goal),
        bar("Feed, of the most", float(found["feed"][place]) / float(sizing.stock.peak_feed)),
    ))  # fmt: skip
