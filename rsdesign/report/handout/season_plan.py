"""The computed season in a hand-out, month by month: water, feed, fish, harvest, money, what to do."""

from dataclasses import dataclass
from itertools import groupby

import numpy as np

from ...core.kinds import KINDS, to_plain
from ...core.unit_table import DAY
from ...core.units import number, show
from ..day_lists import warmth_marks
from ..season import answer, when_words
from .blocks import TICK, Heading, Steps, Table, Text, Writer
from .computed import season_of, when_of

HEADS = {
    "hot": "Hot days: test oxygen at dawn, feed less when fish do not come.",
    "cold": "Cold days: test ammonia twice a week, feed less.",
}
"""What hot and cold days ask, in the first month that has them."""


@dataclass(frozen=True, slots=True)
class Month:
    """One month of a season; numbers in the units of the season's table, feed in grams a day."""

    label: str
    first: int
    last: int
    water: tuple[float, float]
    """Lowest and highest mean of a day."""
    feed: tuple[float, float]
    """On the first and on the last day."""
    weight: tuple[float, float, float]
    """On the last day by slow, middle and fast growth."""
    harvested: float
    cash: float
    """On the last day."""
    work: tuple[str, ...]


def months(frame) -> list[Month]:
    """A season of ``rsdesign.season.growout`` by the month of its dates."""
    feed = to_plain(frame["feed"].to_numpy(), KINDS["feed rate"].unit(frame.attrs["units"]["feed"]))
    labels = [_month(date) for date in frame["date"]]
    found, seen = [], set()
    for label, group in groupby(range(len(frame)), key=labels.__getitem__):
        days = list(group)
        part, last = frame.iloc[days[0] : days[-1] + 1], frame.iloc[days[-1]]
        marks = [
            m for m in HEADS if m in warmth_marks(frame)[days[0] : days[-1] + 1] and m not in seen
        ]
        seen |= set(marks)
        found.append(Month(
            label, days[0] + 1, days[-1] + 1,
            (float(part["water_temperature"].min()), float(part["water_temperature"].max())),
            (1e3 * DAY * float(feed[days[0]]), 1e3 * DAY * float(feed[days[-1]])),
            tuple(float(last[f"weight{line}"]) for line in ("_slow", "", "_fast")),
            float(part["harvested"].sum()), float(last["cash"]),
            (*_told(frame, days), *(HEADS[mark] for mark in marks)),
        ))  # fmt: skip
    return found


def _month(date: str) -> str:
    """ "Mar" of "Mar 11", "2027-03" of "2027-03-11"."""
    return date.rpartition("-" if "-" in date else " ")[0]


def _told(frame, days: list[int]) -> list[str]:
    """Events and warnings of the days, each with its day."""
    told = [(e["day"], e["event"]) for e in frame.attrs["events"]]
    told += [(w["day"], w["warning"]) for w in frame.attrs["warnings"]]
    return [f"Day {day}: {words}." for day, words in sorted(told) if day - 1 in days]


def season_plan(w: Writer, date) -> None:
    """Month by month, when to stock and harvest, and what the hot and the cold half ask."""
    frame = season_of(w.sizing, w.system, date)
    units = frame.attrs["units"]
    rows = tuple(_row(month) for month in months(frame))
    w.add(
        Heading("Season plan"),
        Text("The batches and the feed by week are what the parts are sized for. This is what the"
             " season makes of them: your water by its months, and published growth from slow to fast."),
        Text(answer(frame)),
        Steps(tuple(("", words) for words in when_words(*when_of(w.sizing, w.system, date)))),
        Table(
            "Month by month: feed on the first and the last day, one fish by middle growth (slow to fast)",
            ("Month, days", f"Water, {units['water_temperature']}", "Feed a day, g",
             f"One fish, {units['weight']}", f"Harvest, {units['harvested']}",
             f"Cash, {units['cash']}", "What to do"),
            rows, (0.11, 0.12, 0.13, 0.15, 0.09, 0.1, 0.3),
        ),
        Heading("By season", 2),
        Steps(seasons(w)),
        *(Text(words, soft=True) for words in frame.attrs["notes"]),
    )  # fmt: skip


def _row(month: Month) -> tuple[str, ...]:
    low, middle, high = (number(weight) for weight in month.weight)
    fish = middle if low == high else f"{middle} ({low} to {high})"
    if not np.any(month.weight):
        fish = "none"
    return (
        f"{month.label}, {month.first} to {month.last}",
        _from_to(month.water),
        _from_to(month.feed),
        fish,
        number(month.harvested) if month.harvested else "",
        number(month.cash),
        " ".join(f"{TICK} {words}" for words in month.work),
    )


def _from_to(pair: tuple[float, float]) -> str:
    first, last = (number(value) for value in pair)
    return first if first == last else f"{first} to {last}"


def seasons(w: Writer) -> tuple[tuple[str, str], ...]:
    """What the hot and the cold half of the year ask; common practice with the design's numbers."""
    kind, fish = KINDS["temperature"], w.sizing.tables.species
    hot, cold = w.said("air.temperature"), w.said("filter.temperature")
    top, low = (show(t, kind, w.system) for t in (fish.feeding_high, fish.feeding_low))
    return (
        ("Before the heat", "Brush the stones, clean the pump, try the backup air for an hour. Hang"
         " the shade."),
        ("Hot months", f"Water may reach {hot}. Test oxygen at dawn, when it is lowest. Stop feed"
         f" above {top}. Top up what the sun takes, treated."),
        ("Before the cold", "Lay the lid. Check every cord and outlet. Know what the heater may"
         " draw."),
        ("Cold months", f"Water may fall to {cold}. The filter slows: feed less, test ammonia twice"
         f" a week. Stop feed below {low}."),
    )  # fmt: skip
