"""The start and the season that a hand-out shows, as ``rsdesign startup`` and ``rsdesign season`` give them.

The last few are kept: a page hands the same sizing out in three formats, and a start takes as long to
compute as all the rest of a hand-out.  Fewer draws would save little, since the time goes into steps
of time and not into draws, and would give another band than the command.
"""

import datetime
import functools

from ...season.batch_order import days_to_follow, order_of
from ...season.filter_start import startup
from ...season.growing_season import growout
from ...season.when import best_stocking_day, harvest_day
from ...sizing.system import Sizing

KEPT = 4
"""Sizings kept with their start and their season, each in its units."""


@functools.lru_cache(maxsize=KEPT)
def start_of(sizing: Sizing, system: str):
    """The start of the filter with its band; not to be written into."""
    return startup(sizing, system=system)


@functools.lru_cache(maxsize=KEPT)
def season_of(sizing: Sizing, system: str, date: datetime.date | None = None):
    """The season from the day the fish come, else from the first day on which they grow.

    A year long, or to the harvest where the cold or the heat ends it.
    """
    start = date or order_of(sizing).first
    return growout(sizing, days_to_follow(sizing, date), start, system=system)


@functools.lru_cache(maxsize=KEPT)
def when_of(sizing: Sizing, system: str, date: datetime.date | None = None):
    """When to stock, and when to harvest what is stocked on the first day of the season."""
    return best_stocking_day(sizing, system=system), harvest_day(sizing, date, system=system)
