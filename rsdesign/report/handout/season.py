"""The plan of the sizing in a hand-out: before the fish, batches, feed by week, tasks with minutes."""

import datetime

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, number, show
from ...equations.costs.labour import done_with
from ...studies.enterprise import methods
from .. import routines
from ..plan import plan_of
from .blocks import Heading, Steps, Table, Text, Writer

MOST_WEEKS = 36
"""Rows of the feeding table; longer batches show every second week, or fewer."""
MOST_BATCHES = 3
WEEK = 7


def start_up(w: Writer, date) -> None:
    """What is done before the fish come."""
    w.add(
        Heading("Before the fish come"),
        Text("A new filter has no bacteria yet. Give it time, or the first fish will die."),
        Steps(_pairs(routines.before(w.sizing, w.system, date)), numbered=True),
    )


def _pairs(steps) -> tuple[tuple[str, str], ...]:
    return tuple((head, words) for head, words in steps)


def calendar(w: Writer, date) -> None:
    """When each batch is stocked and harvested, and what the harvest asks."""
    s = w.sizing
    cycle, gap = float(s.stock.cycle), float(s.stock.interval)
    rows = []
    for batch in range(MOST_BATCHES):
        start = batch * gap
        rows.append((str(batch + 1), _day(date, start), _day(date, start + cycle / 2),
                     _day(date, start + cycle - routines.HARVEST_FAST_DAYS),
                     _day(date, start + cycle)))  # fmt: skip
    w.add(
        Heading("Stock and harvest"),
        Text(
            f"A batch grows for {w.said('stock.cycle')}s. A new batch starts every"
            f" {w.said('stock.interval')}s. Batches in the water at once: {w.said('stock.cohorts')}."
            " Days count from the day the first fish come."
        ),
        Table(
            "The first batches",
            ("Batch", "Fish come", "Weigh ten fish, half way", "Last feed", "Harvest"),
            tuple(rows),
        ),
        Heading("Harvest", 2),
        Steps(_pairs(routines.harvest(s, date))),
    )


def _day(date, days: float) -> str:
    whole = round(days)
    if date is None:
        return f"day {whole}"
    return (date + datetime.timedelta(days=whole)).strftime("%Y-%m-%d")


def feeding(w: Writer) -> None:
    """Feed of one batch, week by week."""
    found = plan_of(w.sizing)
    alive = np.flatnonzero(found.number[0] > 0)
    step = -(-alive.size // MOST_WEEKS)
    weeks = [*alive[:-1:step], alive[-1]]
    kinds = ("fish weight", "mass", "feed rate")
    units = [KINDS[kind].shown(w.system) for kind in kinds]
    rows = tuple(
        (number(found.week[k]), f"{found.number[0, k]:,.0f}",
         *(number(from_plain(getattr(found, name)[0, k], unit))
           for name, unit in zip(("weight", "biomass", "feed"), units, strict=True)))
        for k in weeks
    )  # fmt: skip
    w.add(
        Heading("Feed by week"),
        Text(
            "One batch, on the last day of each week. This is the most to give, in two or more"
            " meals. Fish that leave feed get less. Too cold, too hot or low on oxygen: no feed."
        ),
        Table(
            "Feed for one batch by week",
            (
                "Week",
                "Fish",
                *(
                    f"{words}, {unit.label}"
                    for words, unit in zip(("Each", "All", "Feed"), units, strict=True)
                ),
            ),
            rows,
            beside=True,
        ),
    )


def tasks(w: Writer) -> None:
    """Daily and weekly tasks, and their minutes."""
    s, d = w.sizing, w.sizing.design
    every = {
        "day": "each day",
        "week": "each week",
        "month": "each month",
        "year": "over a year",
        "batch": "each batch",
        "draining": f"every {show(d.solids.drain_interval, KINDS['hours'], w.system, 2)}",
    }
    rows = []
    for task, work in zip(done_with(methods(s)), w.money.work, strict=True):
        tanks = "" if float(work.count) == 1 else f", {number(work.count)} tanks"
        minutes = float(work.time) / float(work.times) / 60.0
        rows.append((f"{work.label}{tanks}", every[task.when], f"{number(minutes)} min",
                     f"{number(work.time / 3600)} h"))  # fmt: skip
    rows.append(("in all", "", f"{number(w.money.minutes_a_day / 60)} min a day",
                 f"{number(w.money.budget.time / 3600)} h"))  # fmt: skip
    w.add(
        Heading("Tasks and their minutes"),
        Text("Time yourself for a week and write your own minutes beside ours."),
        Heading("Every day", 2),
        Steps(_pairs(routines.daily(s, w.system))),
        Heading("Every week", 2),
        Steps(_pairs(routines.weekly(s, w.system))),
        Table("Minutes", ("Task", "How often", "Each time", "In a year"), tuple(rows),
              (0.4, 0.22, 0.19, 0.19), beside=True, strong=(len(rows) - 1,)),
    )  # fmt: skip
