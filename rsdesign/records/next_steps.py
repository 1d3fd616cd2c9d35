"""What comes next: the tests that are due, today's feed, and the tests beside the design's own course."""

import datetime
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core.choices import DesignError
from ..core.days import read_day
from ..core.kinds import KINDS, Kind
from ..core.notebook import Rows, shown_in
from ..core.unit_table import DAY
from ..core.units import show
from ..design.model import Design
from ..equations.costs.labour import DAYS_BETWEEN, tasks
from ..season.filter_start import USUAL, startup
from ..season.growing_season import growout
from ..sizing.system import Sizing
from .columns import columns, measured
from .findings import Finding, Findings, log_findings, sizing_of
from .log import WaterLog
from .nitrogen_rules import fed_on
from .trends import last

COURSES = {
    "season": {"temperature": "water_temperature", "ph": "ph", "tan": "ammonia", "nitrite": "nitrite",
               "nitrate": "nitrate", "alkalinity": "alkalinity", "oxygen": "oxygen", "chloride": "chloride",
               "feed": "feed", "fish_weight": "weight"},
    "startup": {"ph": "ph", "tan": "ammonia", "nitrite": "nitrite", "nitrate": "nitrate",
                "alkalinity": "alkalinity", "feed": "feed"},
}  # fmt: skip
"""What of a log stands beside what of a course."""
LONGEST = {"season": 730, "startup": 365}
"""Days that a course is followed at most."""


# --- tests that are due ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Due:
    """One test: when it is due, and why then."""

    column: str
    label: str
    date: datetime.date
    why: str


class DueTests(Rows):
    """The tests that come next, the first one first."""

    head = ("test", "due", "why")

    @staticmethod
    def row(item: Due) -> tuple:
        """What stands in the row of one test."""
        return (item.label, item.date.isoformat(), item.why)


def next_tests(log: WaterLog, findings: Findings | None = None) -> DueTests:
    """The tests that come next, by how often they come and by what the log shows.

    Parameters:
        log: from ``read_log``.
        findings: of the same log; None finds them with the limits of the usual design.
    Returns: the tests, the first one first.
    Source: ``data/tasks.csv`` says how often, ``data/findings.csv`` what is tested again.

    >>> from rsdesign.records.log import log_of_values
    >>> log = log_of_values("2027-04-15", [0.3, 3.3], {"tan": [0.0002, float("nan")], "ph": [7.2, 7.2]})
    >>> [(t.column, t.date.day) for t in next_tests(log) if t.column in ("tan", "ph")]
    [('tan', 22), ('ph', 25)]
    """
    if not len(log):
        return DueTests()
    found = log_findings(log) if findings is None else findings
    often = {task.name: task.when for task in tasks()}
    today = log.date(log.days[-1])
    due = []
    for name in measured():
        column = columns()[name]
        if not column.task:
            continue
        tested = last(log, name)
        bad = next((f for f in found if name in f.row.again.split("|")), None)
        if tested is None:
            due.append(Due(name, column.label, today, "The log has no test of it yet."))
            continue
        when = log.date(log.days[tested[0]])
        days = 1 if bad else int(DAYS_BETWEEN[often[column.task]])
        why = f"{bad.row.title}: test again." if bad else f"Comes every {often[column.task]}."
        due.append(Due(name, column.label, when + datetime.timedelta(days=days), why))
    return DueTests(sorted(due, key=lambda one: one.date))


# --- today's feed ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Feed:
    """Feed of the day of the last test [kg/s], and what makes it so."""

    rate: float
    planned: float
    """By the design's own season [kg/s]."""
    before: float | None
    """Written down for the last fed day [kg/s]; None where nothing is."""
    share: float
    """Share that the findings leave, 0 to 1."""
    cause: Finding | None
    """The finding that leaves least."""
    date: datetime.date

    def says(self, system: str = "us") -> str:
        """The feed in a sentence or two."""

        def kilos(rate: float) -> str:
            return show(rate * DAY, KINDS["mass"], system)

        if self.share == 0.0 and self.cause:
            return f"Feed on {self.date}: none. {self.cause.row.title}."
        words = f"Feed on {self.date}: {kilos(self.rate)}. The season of the design gives {kilos(self.planned)}"
        if self.before is not None and self.rate < self.planned * self.share:
            words += f"; the last fed day had {kilos(self.before)}, and feed rises by a tenth a day at most"
        if self.cause and self.share < 1.0:
            words += f"; {show(self.share, KINDS['fraction'])} of it, as {_lowered(self.cause.row.title)}"
        return f"{words}. Fish that leave feed get less."


def _lowered(title: str) -> str:
    return title[:1].lower() + title[1:] if not title.startswith("pH") else title


def todays_feed(
    log: WaterLog,
    design: Design | Sizing,
    findings: Findings | None = None,
    stocked=None,
    planned: float | None = None,
) -> Feed:
    """Feed of the day of the last test, by the design's own season, the feed before and the findings.

    Parameters:
        log: from ``read_log``, with one test or more.
        design: of the system, or its sizing.
        findings: of the same log and design; None finds them.
        stocked: the day the fish came: a date, or text such as ``"2027-04-15"``; None for the first
            day of the log.
        planned: feed of the day of the last test by the season of this design [kg/s], 0 or more;
            None computes it.
    Returns: the ``Feed``: the least of what the season gives, and a tenth more than the last fed day,
        times the share that the findings leave.
    Raises: ``DesignError`` where the log is empty, or the day lies outside the season.
    Source: ``rsdesign.season.growout``; the rise of a day as in ``rsdesign.season.startup``, common
        practice; shares in ``data/findings.csv``.

    Example: ``todays_feed(log, load("school"), stocked="2027-09-01").says("metric")``.
    """
    sizing = sizing_of(design)
    found = log_findings(log, sizing) if findings is None else findings
    day = _day_of(log, stocked, "season")
    if planned is None:
        frame = growout(sizing, day + 1, start_of(log, stocked).isoformat(), system="si")
        planned = float(frame["feed"].iloc[-1]) if len(frame) == day + 1 else 0.0
    before = fed_on(log)
    rise = 1.0 + float(USUAL["feed_rise"] or 0.0)
    most = planned if before is None else min(planned, before * rise)
    cutting = [f for f in found if f.row.feed and float(f.row.feed) < 1.0]
    cause = min(cutting, key=lambda f: float(f.row.feed), default=None)
    share = float(cause.row.feed) if cause else 1.0
    return Feed(most * share, planned, before, share, cause, log.date(log.days[-1]))


def start_of(log: WaterLog, stocked) -> datetime.date:
    """The first day of a course that stands beside a log."""
    if stocked is None:
        return log.first_day
    try:
        return read_day(stocked if isinstance(stocked, datetime.date) else str(stocked))
    except DesignError as wrong:
        raise DesignError(f"stocked (the day the fish came): {wrong}") from None


def _day_of(log: WaterLog, stocked, way: str) -> int:
    """The day of a course on which the last test of a log lies, from 0."""
    if not len(log):
        raise DesignError("The log holds no test that could be read; look at its dates.")
    day = (log.date(log.days[-1]) - start_of(log, stocked)).days
    if not 0 <= day < LONGEST[way]:
        raise DesignError(
            f"The last test lies {day} days after the day the fish came; a course is followed from that"
            f" day on for {LONGEST[way]} days. Give the day of these fish."
        )
    return day


# --- beside the course -----------------------------------------------------------------------


def beside_design(
    log: WaterLog, design: Design | Sizing, course: str = "season", stocked=None, system: str = "us"
):
    """The tests of a log beside the design's own course, as a pandas frame.

    Parameters:
        log: from ``read_log``.
        design: of the system, or its sizing.
        course: "season" (a growing season) or "startup" (the filter starts without fish).
        stocked: the first day of the course: a date or text; None for the first day of the log.
        system: "us", "metric" or "si".
    Returns: the frame, a row for each line that was read: ``line``, ``date``, ``day`` of the course
        from 1, and for each column its test and, with ``_design`` after the name, what the course
        has on that day; NaN where one of them has nothing.  Units in ``attrs["units"]``.
    Raises: ``DesignError`` with one sentence.

    Example: ``beside_design(log, load("school"), stocked="2027-09-01")[["tan", "tan_design"]]``.
    """
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    if course not in COURSES:
        raise DesignError(f"course is {str(course)[:40]!r}; choose from: {', '.join(COURSES)}.")
    sizing, first = sizing_of(design), start_of(log, stocked)
    days = _day_of(log, stocked, course) + 1
    if course == "season":
        frame = growout(sizing, days, first.isoformat(), system="si")
    else:
        frame = startup(sizing, days=max(7, days), draws=20, system="si")
    offset = (log.first_day - first).days
    places = np.floor(log.days).astype(int) + offset
    inside = (places >= 0) & (places < len(frame))
    found: dict[str, Any] = {"line": log.lines, "date": [log.date(d).isoformat() for d in log.days],
                             "day": places + 1}  # fmt: skip
    units = {"line": "", "date": "", "day": "day"}
    for name, of_course in COURSES[course].items():
        own = log.fish_weight if name == "fish_weight" else log.values[name]
        planned = np.full(places.size, np.nan)
        planned[inside] = frame[of_course].to_numpy()[places[inside]]
        if name == "feed":
            planned = planned * DAY
        kind: Kind = KINDS["fish weight"] if name == "fish_weight" else columns()[name].quantity
        for key, values in ((name, own), (f"{name}_design", planned)):
            found[key], units[key] = shown_in(values, kind, system)
    table = pd.DataFrame(found)
    table.attrs.update(units=units, system=system, course=course, start=first.isoformat())
    return table
