"""The start and the season as sheets of a workbook: a row for each day, with cells to fill in."""

import datetime
import math

from ...core.cautions import told_at
from ...sizing.system import Sizing
from ..building.all_lists import water_of
from ..day_lists import day_list
from ..season import answer as season_answer
from ..startup import answer as start_answer
from ..startup import doses_of
from .blocks import TICK
from .computed import season_of, start_of
from .season_plan import months
from .sheets import Book, Sheet

BANDED = {"ammonia": "Ammonia", "nitrite": "Nitrite", "safe_feed": "Safe feed"}
"""What the tests will show and what is safe to feed, each with its band."""
BLANKS = ("Done", "My ammonia", "My nitrite", "My pH", "My alkalinity")
"""Columns that a grower fills in."""


def add_time(book: Book, sizing: Sizing, system: str, date: datetime.date | None = None) -> None:
    """The sheets Start-up, Season and Days; ``date``: the day the first fish come."""
    season = season_of(sizing, system, date)
    _start(book.sheet("Start-up", 8, *(14,) * 17, wide=True), sizing, system)
    _season(book.sheet("Season", 12, 8, 8, 12, 12, 12, 12, 12, 12, 12, 14, 12, 110, wide=True), season)  # fmt: skip
    _days(book.sheet("Days", 8, 12, 12, 12, 12, 44, 70, 8, wide=True), season, sizing)


def _start(sheet: Sheet, sizing: Sizing, system: str) -> None:
    """The band of each day, what is dosed in one run, and cells for one's own readings."""
    frame = start_of(sizing, system)
    units = frame.attrs["units"]
    heads = [f"{words}, {end}, {units[name]}" for name, words in BANDED.items()
             for end in ("low", "middle", "high")]  # fmt: skip
    sheet.head("Day", *heads, "Ammonium chloride in one run, g", "Baking soda in one run, g",
               f"Feed in one run, {units['feed']}", *BLANKS)  # fmt: skip
    salt, soda = (1e3 * mass for mass in doses_of(frame, water_of(sizing)))
    columns = [frame[f"{name}_{percent}"].tolist() for name in BANDED for percent in (5, 50, 95)]
    columns += [salt.tolist(), soda.tolist(), frame["feed"].tolist()]
    first_blank = len(heads) + 5
    for day, shown in enumerate(zip(*columns, strict=True)):
        at = sheet.row(day, *(_number(value) for value in shown), TICK)
        sheet.hundredths(*(f"{sheet.letter(place)}{at}" for place in range(2, first_blank)))
        sheet.yours(*(f"{sheet.letter(first_blank + i)}{at}" for i in range(len(BLANKS))))
    _words(sheet, [start_answer(frame), *frame.attrs["warnings"], *frame.attrs["notes"],
                   *told_at("startup")])  # fmt: skip


def _season(sheet: Sheet, frame) -> None:
    """The season month by month."""
    units = frame.attrs["units"]
    warm, fish = units["water_temperature"], units["weight"]
    sheet.head("Month", "First day", "Last day", f"Coldest mean of a day, {warm}",
               f"Warmest mean of a day, {warm}", "Feed on the first day, g", "Feed on the last day, g",
               f"One fish, slow growth, {fish}", f"One fish, middle growth, {fish}",
               f"One fish, fast growth, {fish}", f"Harvest, {units['harvested']}",
               f"Cash, {units['cash']}", "What to do")  # fmt: skip
    for month in months(frame):
        work = " ".join(f"{TICK} {words}" for words in month.work)
        at = sheet.row(month.label, month.first, month.last, *month.water, *month.feed, *month.weight,
                       month.harvested, month.cash, work)  # fmt: skip
        sheet.hundredths(*(f"{letter}{at}" for letter in "DEFGHIJKL"))
    _words(sheet, [season_answer(frame), *frame.attrs["notes"], *told_at("season")])


def _days(sheet: Sheet, frame, sizing: Sizing) -> None:
    """What to do on each day of the season."""
    unit = frame.attrs["units"]["water_temperature"]
    sheet.head(
        "Day", "Date", f"Water, {unit}", "Feed, g", "Baking soda, g", "Test", "What to do", "Done"
    )
    water = frame["water_temperature"].tolist()
    for line, warmth in zip(day_list(frame, sizing), water, strict=True):
        at = sheet.row(line.day, line.date, warmth, 1e3 * line.feed, 1e3 * line.soda, line.test,
                       " ".join(line.work), TICK)  # fmt: skip
        sheet.hundredths(f"C{at}", f"D{at}", f"E{at}")
        sheet.yours(f"H{at}")


def _number(value: float):
    """A number as it is; a word where there is none."""
    return float(value) if math.isfinite(value) else "not known"


def _words(sheet: Sheet, lines: list[str]) -> None:
    """What is read below a table; each line runs on over the empty cells beside it."""
    sheet.blank()
    for words in lines:
        sheet.line(words)
