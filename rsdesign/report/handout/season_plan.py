"""The computed season in a hand-out, month by month: water, feed, fish, harvest, money, what to do."""

from dataclasses import dataclass
from itertools import groupby

from ...core.kinds import KINDS, to_plain
from ...core.unit_table import DAY
from ...core.units import number, show
from ...season.batch_order import order_of
from ...studies.heat.yearly import WEATHER, hotter_than_counted, weathered
from ..day_lists import warmth_marks
from ..order import order_words
from ..season import answer, when_words
from ..standing_filter import has_heater
from .blocks import TICK, Heading, Steps, Table, Text, Writer
from .computed import season_of, when_of
from .season import days_differ, moved

MARKS = {
    "hot": "Hot days begin: test oxygen at dawn.",
    "cold": "Cold days begin: ammonia twice a week.",
}
"""What hot and cold days ask, in the first month that has them."""
BEFORE = {"hot": "Make ready for the heat.", "cold": "Make ready for the cold."}
"""The same a month ahead."""
EACH_MONTH = "Tasks of each month."


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
    groups = [list(days) for _, days in groupby(range(len(frame)), key=labels.__getitem__)]
    marks = _marks(frame, groups)
    found = []
    for place, days in enumerate(groups):
        part, last = frame.iloc[days[0] : days[-1] + 1], frame.iloc[days[-1]]
        slow, middle, fast = (float(last[f"weight{line}"]) for line in ("_slow", "", "_fast"))
        work = [*_told(frame, days), *marks[place]]
        if float(part["fish"].max()) > 0.0 and frame.attrs["dead"] not in range(1, days[-1] + 2):
            work.append(EACH_MONTH)
        found.append(Month(
            labels[days[0]], days[0] + 1, days[-1] + 1,
            (float(part["water_temperature"].min()), float(part["water_temperature"].max())),
            (1e3 * DAY * float(feed[days[0]]), 1e3 * DAY * float(feed[days[-1]])),
            (slow, middle, fast),
            float(part["harvested"].sum()), float(last["cash"]), tuple(work),
        ))  # fmt: skip
    return found


def _marks(frame, groups: list[list[int]]) -> list[list[str]]:
    """What the first hot and the first cold month ask, and the month before each."""
    marks = warmth_marks(frame)
    found: list[list[str]] = [[] for _ in groups]
    for mark, words in MARKS.items():
        has = [any(marks[day] == mark for day in days) for days in groups]
        for place in range(len(groups)):
            if has[place] and (place == 0 or not has[place - 1]):
                found[place].append(words)
            elif place + 1 < len(groups) and has[place + 1] and not has[place]:
                found[place].append(BEFORE[mark])
    return found


def _month(date: str) -> str:
    """ "Mar" of "Mar 11", "2027-03" of "2027-03-11"."""
    return date.rpartition("-" if "-" in date else " ")[0]


def _told(frame, days: list[int]) -> list[str]:
    """Events and warnings of the days, each with its day."""
    told = [(e["day"], f"Day {e['day']}: {e['event']}.") for e in frame.attrs["events"]]
    told += [
        (w["day"], f"Day {w['day']}, look out: {w['warning']}.") for w in frame.attrs["warnings"]
    ]
    return [words for day, words in sorted(told) if day - 1 in days]


def season_plan(w: Writer, date) -> None:
    """Month by month, when to stock and harvest, and what the hot and the cold half ask."""
    frame = season_of(w.sizing, w.system, date)
    units = frame.attrs["units"]
    rows = [_row(month, units["harvested"]) for month in months(frame)]
    order = order_of(w.sizing, date)
    if order.closes and frame.attrs["dead"] is None:
        *cells, work = rows[-1]
        last = f"{TICK} Day {order.days}: harvest all fish, or as many as you can cool and store each day before."
        rows[-1] = (*cells, "\n".join(filter(None, (work, last))))
    w.add(
        Heading("Season plan", fresh=True),
        *moved(w),
        Text("The batches and the feed by week are what the parts are sized for. This is what the"
             " season makes of them: your water by its months, and published growth from slow to fast."
             f" {days_differ(w, date)}".rstrip()),
        Text(answer(frame)),
        Steps(tuple(("", words) for words in _when(w, frame, date))),
        Table(
            "Feed on the first and the last day, fish and cash on the last; the box is for the tasks of every month",
            ("Month", "Days", f"Water, {units['water_temperature']}", "Feed, g a day",
             f"Fish, {units['weight']}", "Slow to fast", f"Cash, {units['cash']}", "What to do"),
            tuple(rows), (0.08, 0.11, 0.115, 0.12, 0.06, 0.13, 0.075, 0.31),
        ),
        Heading("By season", 2),
        Steps(seasons(w)),
        Text(" ".join(frame.attrs["notes"]), soft=True),
    )  # fmt: skip


def _when(w: Writer, frame, date) -> list[str]:
    """When to stock and harvest, in the one order of all papers."""
    stocking, harvest = when_of(w.sizing, w.system, date)
    return when_words(frame, stocking, harvest, order_words(w.sizing, w.system, date))


def _row(month: Month, unit: str) -> tuple[str, ...]:
    slow, middle, fast = month.weight
    work = [words for words in month.work if words != EACH_MONTH]
    if month.harvested:
        work.append(f"Harvest of the month: {number(month.harvested)} {unit}.")
    done = f"{TICK} " if EACH_MONTH in month.work else ""
    return (
        f"{done}{month.label}",
        _from_to((month.first, month.last)),
        _from_to(month.water),
        _from_to(month.feed),
        number(middle) if middle else "none",
        _from_to((slow, fast)) if fast else "",
        number(month.cash),
        "\n".join(f"{TICK} {words}" for words in work),
    )


def _from_to(pair: tuple[float, float]) -> str:
    first, last = (number(value) for value in pair)
    return first if first == last else f"{first} to {last}"


def _lid(w: Writer) -> str:
    return "" if w.sizing.design.climate.cover == "none" else "Lay the lid. "


def _hottest(w: Writer) -> str:
    """The hottest water: what the design counts on, and what the weather brings where that is more."""
    counted, brings = w.said("air.temperature"), hotter_than_counted(w.sizing)
    if brings is None:
        return f"Water may reach {counted}."
    hot = show(brings, KINDS["temperature"], w.system)
    return f"The design counts on water up to {counted}; the weather may bring {hot}: shade it."


def _coldest(w: Writer) -> str:
    """The coldest water in which there are fish, and what it asks."""
    counted, found = w.said("filter.temperature"), weathered(w.sizing)
    words = (
        f"Fed in water down to {counted}: the filter slows, feed less, test ammonia twice a week."
    )
    if found.basis != WEATHER or found.season is None:
        return words
    coldest = show(found.season.coldest, KINDS["temperature"], w.system)
    if order_of(w.sizing).ends == "cold":
        return f"{words} The water may fall to {coldest}: no fish are left in it then."
    return f"{words} The water may fall to {coldest}."


def _heater(w: Writer) -> str:
    return " Know what the heater may draw." if has_heater(w.sizing) else ""


def seasons(w: Writer) -> tuple[tuple[str, str], ...]:
    """What the hot and the cold half of the year ask; common practice with the design's numbers."""
    kind, fish = KINDS["temperature"], w.sizing.tables.species
    top, low = (show(t, kind, w.system) for t in (fish.feeding_high, fish.feeding_low))
    return (
        ("Before the heat", "Brush the stones, clean the pump, try the backup air for an hour. Hang"
         " the shade."),
        ("Hot months", f"{_hottest(w)} Test oxygen at dawn, when it is lowest. Stop feed"
         f" above {top}. Top up what the sun takes, treated."),
        ("Before the cold", f"{_lid(w)}Check every cord and outlet.{_heater(w)}"),
        ("Cold months", f"{_coldest(w)} Stop feed below {low}."),
    )  # fmt: skip
