"""The strip of the series: each page's name, and how the parts that it is about stand.

It is the way through the series and the list of margins in one.  A page without a part shows one
figure, or words of its own.
"""

import math
from dataclasses import dataclass

from ..core.units import show
from ..sizing.checks.rows import check_rows, value
from ..sizing.judging import SHORT, Part
from ..sizing.margins import short_percent
from ..sizing.system import figure_at, value_at
from ..sizing.worst_first import worst_part
from .series import SERIES
from .session import Session
from .states import STATES

MINUTES = "standby.minutes_peak"
MOST = 2.0
"""The margin at the end of a bar; the need lies at its half."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What the strip says of one page: its short name, its parts by name, or one figure."""

    name: str
    parts: tuple[str, ...] = ()
    figure: str = ""
    words: str = ""


CELLS = {
    "start": Cell("Start", figure="stock.peak_feed"),
    "have": Cell("My tank", words="what I own"),
    "fish": Cell("Fish, tank", parts=("tank",)),
    "solids": Cell("Solids", parts=("settler", "fine waste")),
    "biofilter": Cell("Filter", parts=("filter",)),
    "air": Cell("Air", parts=("air", "carbon dioxide")),
    "pump": Cell("Pump", parts=("pump", "drain", "overflow")),
    "heat": Cell("Heat", parts=("water",)),
    "outage": Cell("Outage"),
    "cost": Cell("Cost", words="your prices"),
    "choose": Cell("Buy", words="which parts"),
    "whole": Cell("Whole"),
    "startup": Cell("Start-up", words="the filter"),
    "day": Cell("A day", words="meals"),
    "season": Cell("A season", words="growth"),
    "spread": Cell("How sure", words="chances"),
    "log": Cell("My log", words="tests"),
    "lists": Cell("Lists", words="by day"),
}
"""The cell of each page, by the page's name."""

LONG = {"carbon dioxide": "CO₂", "fine waste": "Fines", "overflow": "Overflow", "drain": "Drain"}
"""Names of parts that a cell names, since they are not the page's first."""


def strip(session: Session) -> list[dict]:
    """Every page of the series as data: names, state, share, and how far its bar reaches."""
    return [
        {"name": page.name, "file": page.file, "title": page.title, **_cell(session, page.name)}
        for page in SERIES
    ]


def _cell(session: Session, page: str) -> dict:
    cell = CELLS[page]
    found = {"short": cell.name, "words": cell.words, "state": "", "reach": None}
    sizing = session.sizing
    if sizing is None:
        return found
    if cell.parts:
        return found | _standing([p for p in session.parts if p.name in cell.parts], cell.parts[0])
    if cell.figure:
        value, kind = value_at(sizing, cell.figure), figure_at(cell.figure).kind
        return found | {"words": show(value, kind, session.system, 3)}
    if page == "outage":
        return found | _minutes(sizing)
    if page == "whole":
        short = sum(p.word == SHORT for p in session.parts)
        state = "short" if short else "enough"
        return found | {"words": f"{short} short" if short else "all enough", "state": state}
    return found


def _standing(parts: list[Part], first: str) -> dict:
    """How the worst of a page's parts stands; named where it is not the page's first."""
    if not parts:
        return {"words": "none"}
    worst = worst_part(tuple(parts))
    margin = float(worst.margin)
    share = short_percent(margin, worst.form)
    name = "" if worst.name == first else f"{LONG.get(worst.name, worst.label)} "
    return {"words": f"{name}{share}", "state": STATES[worst.word], "reach": reach_of(margin)}


def reach_of(margin: float) -> float:
    """How far the bar of a margin reaches, from 0 to 1; a need that is just met reaches its half.

    >>> reach_of(1.0), reach_of(7.0)
    (0.5, 1.0)
    """
    if not math.isfinite(margin):
        return 1.0 if margin > 0 else 0.0
    return round(min(max(margin, 0.0), MOST) / MOST, 3)


def _minutes(sizing) -> dict:
    """The minutes that the fish have, beside those that the check asks for."""
    row = next(row for row in check_rows() if row.figure == MINUTES)
    have, wanted = float(value(sizing, row.figure)) / 60, float(row.low)
    return {
        "words": f"{have:.0f} of {wanted:.0f} min",
        "state": "short" if have < wanted else "enough",
        "reach": reach_of(have / wanted),
    }
