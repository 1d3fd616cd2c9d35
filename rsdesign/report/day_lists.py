"""What to do on each day of a computed season: feed in grams, what to test, what to do.

The numbers are those of ``rsdesign.season.growout``; how often a task comes is in ``data/tasks.csv``.
"""

from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS, to_plain
from ..core.unit_table import DAY
from ..core.units import number
from ..equations.costs.labour import DAYS_BETWEEN, Task, done_with
from ..equations.water.carbonate import bicarbonate_dose
from ..sizing.system import Sizing
from ..studies.enterprise import methods

FIRST_DAYS = 14
"""Days after new fish on which ammonia and nitrite are tested each day: common practice."""

TWICE_A_WEEK = 4
"""Day of the week of the second test in the cold; the first is day 1, common practice."""

WARM_SPAN = 3.0
"""Degrees (°C) by which the water must change over a season to have hot and cold days."""

QUARTER = 0.25
"""Share of that span which counts as hot, and as cold: our choice."""

WHOLE_TEST = "ammonia, nitrite, pH, alkalinity, nitrate"
TESTED = "water tests"
"""The task of the table that stands under tests here."""

COMES_WITH_FISH = ("batch", "year")
"""Tasks that stand as events of the season, or that nobody can plan."""


@dataclass(frozen=True, slots=True)
class DayLine:
    """One day in words; ``feed`` and ``soda`` [kg] as numbers, too."""

    day: int
    date: str
    feed: float
    soda: float
    water: str
    feed_words: str
    soda_words: str
    test: str
    work: tuple[str, ...]


def day_list(frame, sizing: Sizing, first: int = 1, last: int | None = None) -> list[DayLine]:
    """The days of a computed season, from one day to another.

    Parameters:
        frame: what ``rsdesign.season.growout`` gives, in any system of units.
        sizing: of the same design.
        first: the first day of the list, 1 and up.
        last: the last day of the list; None for the last of the season.
    Returns: a ``DayLine`` for each day: date, warmth of the water, feed of all tanks in grams, baking soda
        in grams, what to test and what to do.
    Raises: ``DesignError`` with one sentence for days that the season has not.

    Example: ``day_list(growout(sizing, days=30), sizing, 1, 7)``.
    """
    whole = len(frame)
    last = whole if last is None else last
    for name, value in (("first", first), ("last", last)):
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= whole:
            raise DesignError(
                f"{name} (day of the list) is {value}; write a whole number from 1 to {whole}."
            )
    if last < first:
        raise DesignError(f"last is {last}, before first, {first}; write a later day.")
    days, marks = _Days(frame, sizing), warmth_marks(frame)
    return [days.line(place, marks[place]) for place in range(first - 1, last)]


def every_day(sizing: Sizing) -> list[str]:
    """The tasks of each day, in the words of the table of tasks; they are the same on all days."""
    return [task.label for task in _tasks(sizing) if _between(task, sizing) <= 1.0]


def warmth_marks(frame) -> list[str]:
    """Each day as "hot", "cold" or "" by its water; none where the water hardly changes."""
    water = _plain(frame, "water_temperature", "temperature")
    low, high = float(water.min()), float(water.max())
    if high - low < WARM_SPAN:
        return [""] * len(frame)
    edge = QUARTER * (high - low)
    return [
        "hot" if level >= high - edge else "cold" if level <= low + edge else "" for level in water
    ]


def grams(mass: float, system: str = "metric") -> str:
    """A mass [kg] in grams, in US units with pounds beside it from a pound on.

    >>> grams(0.0123), grams(1.5, "us")
    ('12.3 g', '1,500 g (3.31 lb)')
    """
    words = f"{number(1000.0 * mass)} g"
    pounds = mass / KINDS["mass"].unit("lb").factor
    return f"{words} ({number(pounds)} lb)" if system == "us" and pounds >= 1.0 else words


def _tasks(sizing: Sizing) -> tuple[Task, ...]:
    return tuple(t for t in done_with(methods(sizing)) if t.when not in COMES_WITH_FISH)


def _between(task: Task, sizing: Sizing) -> float:
    """Days from one time to the next."""
    if task.when == "draining":
        return float(sizing.design.solids.drain_interval) / DAY
    return DAYS_BETWEEN[task.when]


def _plain(frame, name: str, kind: str) -> np.ndarray:
    """A column in the plain unit of its kind."""
    return to_plain(frame[name].to_numpy(), KINDS[kind].unit(frame.attrs["units"][name]))


class _Days:
    """What is drawn from the season once for all its days."""

    def __init__(self, frame, sizing: Sizing):
        self.system = frame.attrs["system"]
        self.date = [str(date) for date in frame["date"]]
        self.water = frame["water_temperature"].tolist()
        self.degree = frame.attrs["units"]["water_temperature"]
        self.feed = (_plain(frame, "feed", "feed rate") * DAY).tolist()
        base = _plain(frame, "base", "chemical dose") * DAY
        self.soda = bicarbonate_dose.__wrapped__(base).tolist()
        self.stocked = np.flatnonzero(frame["stocked"].to_numpy() > 0.0)
        self.taken = set(np.flatnonzero(frame["harvested"].to_numpy() > 0.0).tolist())
        self.fish = frame["fish"].tolist()
        self.events: dict[int, list[str]] = {}
        for event in frame.attrs["events"]:
            self.events.setdefault(event["day"], []).append(_sentence(event["event"]))
        self.alarms: dict[int, list[str]] = {}
        for warning in frame.attrs["warnings"]:
            words = f"Look out: {warning['warning']}."
            self.alarms.setdefault(warning["day"], []).append(words)
        self.tasks = [(task, _between(task, sizing)) for task in _tasks(sizing)]

    def line(self, place: int, mark: str) -> DayLine:
        soda = self.soda[place]
        feed = 0.0 if self._all_go(place) or self._all_go(place + 1) else self.feed[place]
        return DayLine(
            place + 1,
            self.date[place],
            feed,
            soda,
            f"{number(self.water[place])} {self.degree}",
            grams(feed, self.system) if feed > 0.0 else "none",
            grams(soda) if soda > 0.0 else "none",
            self._test(place, mark),
            (*self.events.get(place + 1, ()), *self._fish(place), *self.alarms.get(place + 1, ()),
             *self._work(place)),
        )  # fmt: skip

    def _all_go(self, place: int) -> bool:
        """Whether no fish stays behind on a day of harvest."""
        return place in self.taken and self.fish[place] < 0.5

    def _test(self, place: int, mark: str) -> str:
        new = self.stocked[self.stocked <= place]
        weekday = place % 7 + 1
        if weekday == 1:
            words = WHOLE_TEST
        elif (new.size and place - new[-1] < FIRST_DAYS) or (
            mark == "cold" and weekday == TWICE_A_WEEK
        ):
            words = "ammonia, nitrite"
        else:
            words = ""
        dawn = "oxygen at dawn" if mark == "hot" else ""
        return ", ".join(filter(None, (words, dawn)))

    def _fish(self, place: int) -> tuple[str, ...]:
        """Fish are taken with empty guts, and a filter without fish starves: common practice."""
        if place in self.taken:
            return () if self._all_go(place) else ("Feed only the fish that stay.",)
        if place + 1 in self.taken:
            return ("No feed for the fish that are harvested tomorrow.",)
        empty = self.fish[place] < 0.5
        if empty and (place == 0 or self.fish[place - 1] >= 0.5 or place - 1 in self.taken):
            return ("No fish now: dose ammonia every few days, or the filter starves.",)
        return ()

    def _work(self, place: int) -> tuple[str, ...]:
        """Tasks that come on this day: at the end of their week or month, or when draining is due."""
        return tuple(
            _sentence(task.label)
            for task, days in self.tasks
            if task.name != TESTED and days > 1.0 and (place + 1) // days > place // days
        )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:].rstrip(".") + "."
