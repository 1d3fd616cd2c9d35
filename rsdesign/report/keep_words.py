"""Limits that several papers tell, each said in one way: alkalinity to hold, and when a filter is ripe."""

from ..core.kinds import KINDS
from ..core.units import show
from ..records.rules import finding_rows
from ..season.start_course import GONE
from ..sizing.system import Sizing


def alkalinity_words(sizing: Sizing, system: str) -> str:
    """What alkalinity is held, and below what it never goes."""
    kind = KINDS["concentration"]
    floor = next(row for row in finding_rows() if row.name == "alkalinity_low")
    keep = show(sizing.design.keep.alkalinity, kind, system, 2)
    return f"near {keep}, never under {show(floor.limit(sizing, 'low'), kind, system, 2)}"


def ripe_words(system: str) -> str:
    """What tests show of a ripe filter, a day after a dose of ammonia."""
    return f"ammonia and nitrite both read under {show(GONE, KINDS['concentration'], system, 1)}"
