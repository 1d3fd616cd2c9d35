"""The plan of the sizing in a hand-out: before the fish, batches, feed by week, tasks with minutes."""

import datetime

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, number, show
from ...equations.costs.labour import done_with
from ...season.batch_order import Order, order_of
from ...studies.enterprise import methods
from .. import routines
from ..order import moved_words, order_words
from ..plan import plan_of
from .blocks import Heading, Steps, Table, Text, Writer
from .computed import when_of

MOST_WEEKS = 36
"""Rows of the feeding table; longer batches show every second week, or fewer."""
MOST_BATCHES = 3
WEEK = 7


def start_up(w: Writer, date) -> None:
    """What is done before the fish come."""
    w.add(
        Heading("Before the fish come", fresh=True),
        Text("A new filter has no bacteria yet. Give it time, or the first fish will die."),
        *moved(w),
        Steps(_pairs(routines.before(w.sizing, w.system, date)), numbered=True),
    )


def moved(w: Writer) -> tuple[Text, ...]:
    """That the dates are for a later day than the one told, where the water does not suit the fish on it."""
    words = moved_words(w.sizing, w.told)
    return (Text(words),) if words else ()


def _pairs(steps) -> tuple[tuple[str, str], ...]:
    return tuple((head, words) for head, words in steps)


def calendar(w: Writer, date) -> None:
    """When each batch is stocked and harvested, and what the harvest asks."""
    s = w.sizing
    order = order_of(s, date)
    cycle = float(order.days_on(date))
    rows = []
    for batch in range(MOST_BATCHES):
        start = _start(order, batch)
        rows.append((str(batch + 1), _day(date, start), _day(date, start + cycle / 2),
                     _day(date, start + cycle - routines.HARVEST_FAST_DAYS),
                     _day(date, start + cycle)))  # fmt: skip
    w.add(
        Heading("Stock and harvest"),
        Text(
            f"{' '.join(order_words(s, w.system, date))} {_batches(w, order)} Days count from the day the first fish"
            f" come. {days_differ(w, date)}".strip()
        ),
        Table(
            "The first batches",
            ("Batch", "Fish come", "Weigh ten fish, half way", "Last feed", "Harvest"),
            tuple(rows),
        ),
        Heading("Harvest", 2),
        Steps(_pairs(routines.harvest(s, date))),
    )


def _batches(w: Writer, order: Order) -> str:
    """How long a batch grows and how often one starts; where a season ends it, what the parts are sized for."""
    cycle = w.said("stock.cycle")
    if not order.closes:
        return (
            f"A batch grows for {cycle}s. A new batch starts every {w.said('stock.interval')}s. Batches in the water"
            f" at once: {w.said('stock.cohorts')}."
        )
    warm = show(w.sizing.design.site.water_temperature, KINDS["temperature"], w.system)
    each = show(w.sizing.design.goal.weight, KINDS["fish weight"], w.system)
    return f"The parts are sized for {each} in {cycle}s, as in water kept at {warm}."


def _start(order: Order, batch: int) -> float:
    """The day on which a batch is stocked."""
    if not order.closes:
        return batch * order.every
    year, place = divmod(batch, len(order.starts))
    return year * order.every + order.starts[place]


NEARLY = 3
"""Days by which the plan and the computed season may differ without a word."""


def days_differ(w: Writer, date) -> str:
    """Why the plan of the batches and the computed season give another number of days, with both numbers."""
    s = w.sizing
    if order_of(s, date).closes:
        return ""  # the order says it
    counted, kind = round(float(s.stock.cycle)), KINDS["temperature"]
    planned = when_of(s, w.system, date)[1].attrs["planned"]
    if planned is not None and abs(planned - counted) <= NEARLY:
        return ""
    each = show(s.design.goal.weight, KINDS["fish weight"], w.system)
    by_months = (
        f"takes until day {planned}"
        if planned is not None
        else f"does not come to {each} in the days looked at"
    )
    return (
        f"The {counted} days count on {show(s.design.site.water_temperature, kind, w.system)} every day. In water that"
        f" follows your months, a batch from the first day of the season plan {by_months}: go by the season plan."
    )


def _day(date, days: float) -> str:
    whole = round(days)
    if date is None:
        return f"day {whole}"
    return (date + datetime.timedelta(days=whole)).strftime("%Y-%m-%d")


def _by_months(w: Writer) -> str:
    """That the season plan has the feed of the real water, where that is not as warm as the parts are sized for."""
    if not order_of(w.sizing).closes:
        return ""
    warm = show(w.sizing.design.site.water_temperature, KINDS["temperature"], w.system)
    return f" It counts on {warm} every day; the season plan of the cards has the feed of your months, which is less."


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
            f"{_by_months(w)}"
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
        Heading("Every month", 2),
        Steps(_pairs(routines.monthly())),
        Table("Minutes", ("Task", "How often", "Each time", "In a year"), tuple(rows),
              (0.4, 0.22, 0.19, 0.19), beside=True, strong=(len(rows) - 1,)),
    )  # fmt: skip
