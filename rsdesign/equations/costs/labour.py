"""Work: the tasks with their minutes, how often in a year, and what the hours are worth."""

import functools
from dataclasses import dataclass

import numpy as np

from ...core import tables
from ...core.equation import definition, with_labels
from ...core.kinds import KINDS, Minutes, Money, Time, Wage
from ...core.tables import SourcedRow
from ...core.unit_table import DAY
from .year import times_in

YEAR = 365.25  # units of the source: times a year from days between
DAYS_BETWEEN = {"day": 1.0, "week": 7.0, "month": YEAR / 12.0, "year": YEAR}  # units of the source


@dataclass(frozen=True, slots=True)
class Task(SourcedRow):
    """One task: the part and the method it belongs to, how often, for each what, and its minutes."""

    name: str
    label: str
    part: str
    method: str
    when: str
    each: str
    minutes: Minutes


_DRAININGS = with_labels(
    times_in, "Drainings in a year", time=(KINDS["long time"], "a year"),
    interval=(KINDS["hours"], "time between drainings"),
)  # fmt: skip


@functools.cache
def tasks() -> tuple[Task, ...]:
    """Every task of the table."""
    return tables.read("tasks", Task)


def done_with(methods: dict[str, str]) -> tuple[Task, ...]:
    """The tasks that the chosen methods bring: ``methods`` by part; parts without one are for all.

    >>> [t.name for t in done_with({"filter": "bead"}) if t.part == "filter"]
    ['backwash beads']
    """
    return tuple(t for t in tasks() if not t.method or methods.get(t.part) == t.method)


_ROUNDS = with_labels(
    times_in, "Times in the days in use", time=(KINDS["days"], "days in use"),
    interval=(KINDS["days"], "days between"),
)  # fmt: skip


def times_a_year(when: str, drain_interval, batches, running: float = YEAR):
    """How often in a year: ``drain_interval`` [s] between drainings, ``batches`` a year.

    ``running``: days of the year in which the system is in use.  What is done once a year stays.

    >>> times_a_year("week", 86400.0, 2.0) == 365.25 / 7
    True
    >>> times_a_year("week", 86400.0, 1.0, 70.0)
    10.0
    """
    if when == "batch":
        return batches
    if when == "draining":
        return _DRAININGS(running * DAY, drain_interval)
    if when == "year" or np.all(running == YEAR):
        return YEAR / DAYS_BETWEEN[when]
    return _ROUNDS(running, DAYS_BETWEEN[when])


@definition("T", "sum of tasks", example="task_time(720.0, 365.0, 2.0) == 525600.0")
def task_time(minutes: Minutes, times: float, count: float) -> Time:
    """Time that a task takes in a year."""
    return minutes * times * count


@definition(
    "C", "hours times wage", example="round(labour_cost(3600.0 * 365, 15.0 / 3600), 6) == 5475.0"
)
def labour_cost(time: Time, wage: Wage) -> Money:
    """What the hours are worth."""
    return time * wage
