"""One document from a sizing: what a family takes home, whole or as one of its booklets."""

import datetime
from collections.abc import Callable
from dataclasses import replace

from ...season.batch_order import day_that_suits
from ...sizing.system import Sizing
from .blocks import Document, Heading, Text, Writer
from .booklets import BOOKLETS, WHOLE, Booklet, booklet_named
from .build_pages import to_build, to_buy
from .closing import design, take_care, taken
from .drawing_pages import drawings_to_build_by
from .emergency import emergency, water_card
from .filter_calendar import filter_calendar
from .log_sheet import log_sheet
from .season import calendar, feeding, start_up, tasks
from .season_plan import season_plan
from .summary import drawings, parts, summary
from .words import build_words, words_used
from .workings import working

Day = datetime.date | None
Chapter = Callable[[Writer, Day], None]
"""Writes its blocks; the day is that on which the first fish come."""


def _undated(made: Callable[[Writer], None]) -> Chapter:
    return lambda w, date: made(w)


def _emergency(w: Writer, date: Day) -> None:
    w.add(*emergency(w.sizing, w.system))


CHAPTERS: dict[str, Chapter] = {
    "summary": summary,
    "drawings": _undated(drawings),
    "parts": _undated(parts),
    "to buy": _undated(to_buy),
    "to build": _undated(to_build),
    "sheets": _undated(drawings_to_build_by),
    "build words": _undated(build_words),
    "plan words": _undated(words_used),
    "card words": _undated(words_used),
    "start": start_up,
    "batches": calendar,
    "season": season_plan,
    "feed": _undated(feeding),
    "tasks": _undated(tasks),
    "cautions": _undated(take_care),
    "water card": _undated(water_card),
    "log sheet": _undated(log_sheet),
    "filter": _undated(filter_calendar),
    "emergency": _emergency,
    "working": _undated(working),
    "assumed": _undated(taken),
    "design": _undated(design),
}
"""What writes each chapter."""


def compose(
    sizing: Sizing, system: str = "us", date: Day = None, booklet: str = WHOLE.name
) -> Document:
    """The hand-out of one sizing, in a display system; ``date``: the day the first fish come; where the
    water does not suit them on it, the dates are for the next day that does, and the words say so.

    ``booklet``: "plan", "build", "cards" or "working"; "all" has every chapter.  Takes one design
    (no arrays).  Raises ``DesignError`` for another booklet.
    """
    w = Writer(sizing, system, date)
    chosen = booklet_named(booklet)
    write_chapters(w, chosen, day_that_suits(sizing, date))
    first = w.blocks[0]
    if isinstance(first, Heading):  # the title stands on this page already
        w.blocks[0] = replace(first, fresh=False)
    return Document(
        w.about(), system, sizing, w.money, tuple(w.blocks), dict(w.shown), chosen.title
    )


def write_chapters(w: Writer, booklet: Booklet, date: Day = None) -> None:
    """Write the chapters of a booklet, and where the others are."""
    for name in booklet.chapters:
        CHAPTERS[name](w, date)
    if booklet.name == BOOKLETS[0].name:
        others = "; ".join(f"{other.title} ({other.words})" for other in BOOKLETS[1:])
        w.add(Text(f"More booklets of this design: {others}.", soft=True))
