"""The start of the filter as a page for the wall: squares to tick, doses in grams, what to expect."""

import math

from ...core.cautions import caution
from ...core.kinds import KINDS, to_plain
from ...core.unit_table import DAY
from ...core.units import number, show
from ...equations.biofilter import doses
from ...season.start_course import ENOUGH_NITRITE, GONE
from ..building.all_lists import water_of
from ..day_lists import grams
from ..keep_words import ripe_words
from ..startup import answer, doses_of, salt_to_raise, short
from .blocks import Calendar, Caution, Cautions, DayBox, Heading, Steps, Text, Week, Writer
from .computed import start_of

WEEKS, DAYS = 8, 7
"""Weeks of squares: as long as extension gives a new filter, and as many as a page holds."""
BESIDE = ("unripe filter", "ammonia and bleach", "test kits")
"""Cautions that stand beside these steps, and not among the rest."""
FED = (1, 2, 3, 8, 17)
"""Days with fish whose feed is told."""
ONE, TEN = 1e-3, 10e-3
"""1 and 10 mg/L: what a kit tells apart in ammonia and in alkalinity."""


def filter_calendar(w: Writer) -> None:
    """Steps, cautions and eight weeks of squares, with the band of what the tests will show."""
    frame = start_of(w.sizing, w.system)
    w.add(
        Heading("Start-up calendar", fresh=True),
        Text(answer(frame)),
        Steps(tuple(_steps(w, frame)), numbered=True),
        Cautions(tuple(_caution(name) for name in BESIDE)),
        calendar_of(frame, water_of(w.sizing)),
        Text("A and N: your readings of ammonia and nitrite, as nitrogen. A weight beside a day is"
             " ammonium chloride, soda is for the week. Nine of ten filters lie in the spans on the last day of the week.",
             soft=True),
    )  # fmt: skip


def _caution(name: str) -> Caution:
    row = caution(name)
    return Caution(row["hazard"], row["fact"], row["ask"])


def calendar_of(frame, volume: float) -> Calendar:
    """The squares: the band on the last day of each week, the doses of one run on their days."""
    salt, soda = doses_of(frame, volume)
    weeks = []
    for first in range(0, min(WEEKS * DAYS, len(frame)), DAYS):
        days = range(first, min(first + DAYS, len(frame)))
        expect = [f"{name} {span(frame, name, days[-1])}" for name in ("ammonia", "nitrite")]
        base = float(soda[days[0] : days[-1] + 1].sum())
        if base > float(doses.baking_soda_to_raise(volume, ONE)):
            expect.append(f"soda {_weight(base)}")
        boxes = (DayBox(day, _weight(float(salt[day])) if salt[day] > 0.0 else "") for day in days)
        weeks.append(Week(f"Days {days[0]} to {days[-1]}", tuple(expect), tuple(boxes)))
    return Calendar(
        "Tick each day; dose only when your test says so", "Expect, mg/L", ("A", "N"), tuple(weeks)
    )


def span(frame, name: str, day: int) -> str:
    """The band of a column on a day in words."""
    low, high = (float(frame[f"{name}_{p}"].iloc[day]) for p in (5, 95))
    return f"{short(low)} to {short(high)}" if math.isfinite(high) else "not known"


def _weight(mass: float) -> str:
    """A mass [kg] in few letters."""
    return f"{number(1e3 * mass, 2)} g" if mass < 1.0 else f"{number(mass, 2)} kg"


def _steps(w: Writer, frame):
    """What to do, from the first dose to the full feed."""
    volume, level = water_of(w.sizing), KINDS["concentration"]
    unit = level.unit(frame.attrs["units"]["dose"])
    dose = float(to_plain(frame["dose"].iloc[0], unit))
    gone, enough = (show(x, level, w.system, 1) for x in (GONE, ENOUGH_NITRITE))
    yield (
        "Day 0",
        "Water free of chlorine, air and pump on. Dose"
        f" {_weight(float(salt_to_raise(volume, dose)))} of ammonium chloride: it brings ammonia to"
        f" {show(dose, level, w.system, 2)}.",
    )
    yield (
        "All the water",
        f"The weights here are for all of it, about {show(volume, KINDS['volume'], w.system)} in tanks, settler,"
        " filter and sump as laid out. Take the chlorine out of all of it.",
    )
    yield (
        "Dose again",
        f"Only when ammonia reads under {gone} and nitrite under {enough}."
        f" Give {_weight(float(salt_to_raise(volume, ONE)))} for each {show(ONE, level, w.system, 1)}"
        f" that is missing to {show(dose, level, w.system, 2)}. The squares show one run that may come:"
        " yours may be weeks ahead or behind.",
    )
    yield (
        "Soda",
        f"When alkalinity is under {show(w.sizing.design.keep.alkalinity, level, w.system, 2)}, give"
        f" {_weight(float(doses.baking_soda_to_raise(volume, TEN)))} of baking soda for each"
        f" {show(TEN, level, w.system, 1)} that is missing.",
    )
    yield (
        "Ripe",
        f"When, a day after a dose, {ripe_words(w.system)}. Order fish then, not before. Not ripe by day"
        f" {WEEKS * DAYS - 1}? Go on the same way.",
    )
    yield "Then feed", _ramp(frame)


def _ramp(frame) -> str:
    """How the feed rises once the filter is ripe; in numbers where the middle run is ripe in time."""
    words = (
        "A quarter of the biggest feed day, then a tenth more each day. Hold it while ammonia"
        " or nitrite rises."
    )
    ready = frame.attrs["ready"]["value"]
    if not math.isfinite(ready):
        return words
    unit = KINDS["feed rate"].unit(frame.attrs["units"]["feed"])
    feed = to_plain(frame["feed"].to_numpy()[int(ready) :], unit) * DAY
    told = ", ".join(f"day {day}: {grams(float(feed[day - 1]))}" for day in FED if day <= len(feed))
    return (
        f"{words} What the filter then bears: {told}. Small fish eat less: never give more than the plan's"
        " feed by week."
    )
