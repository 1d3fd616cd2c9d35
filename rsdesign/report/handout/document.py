"""One document from a sizing: what a family takes home."""

import datetime

from ...sizing.system import Sizing
from .blocks import Document, Writer
from .closing import design, take_care, taken
from .emergency import emergency, water_card
from .filter_calendar import filter_calendar
from .season import calendar, feeding, start_up, tasks
from .season_plan import season_plan
from .summary import drawings, parts, summary
from .workings import working


def compose(sizing: Sizing, system: str = "us", date: datetime.date | None = None) -> Document:
    """The hand-out of one sizing, in a display system; ``date``: the day the first fish come.

    Takes one design (no arrays).
    """
    w = Writer(sizing, system)
    summary(w)
    drawings(w)
    parts(w)
    start_up(w, date)
    calendar(w, date)
    season_plan(w, date)
    feeding(w)
    tasks(w)
    take_care(w)
    water_card(w)
    filter_calendar(w)
    w.add(*emergency(sizing, system))
    working(w)
    taken(w)
    design(w)
    return Document(w.about(), system, sizing, w.money, tuple(w.blocks), dict(w.shown))
