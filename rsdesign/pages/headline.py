"""The headline figures of a page: four or five, each with its change since the last move."""

import math

import numpy as np

from ..core.units import digits, from_plain, show
from ..report.limits import told_parts, told_words
from ..sizing.margins import percent
from ..sizing.system import Sizing, figure_at, value_at
from ..sizing.worst_first import worst_part
from ..studies.costfigures import COST_FIGURES, shown_cost
from ..studies.heat.yearly import full_year
from .session import Session
from .spec import worded


def headline(session: Session, settled: bool = True) -> list[dict]:
    """The headline figures as text: label, figure, unit, meaning at rest, change after a move.

    The cost of a year is too slow for each move of a slider: its figures follow when it is released.
    """
    sizing, system = session.sizing, session.system
    if sizing is None:
        return []
    found = []
    for path, label, note in told_only(session, session.page.headline):
        about = {"path": path, "label": worded(label, system), "note": worded(note, system)}
        if path in COST_FIGURES:
            if not settled:
                return session.last_headline
            found.append(about | _cost(session, path))
        else:
            found.append(about | _figure(sizing, session.before, path, system))
    session.last_headline = found
    return found


def told_only(session: Session, rows):
    """The rows, by the path at their start, that a page may show: of owned parts alone, only what is told."""
    if not session.page.owned:
        return rows
    told, _ = told_parts(session.parts, session.design.pump.none)
    there = {*told} - ({"pump"} if session.design.pump.none else set())
    return [row for row in rows if row[0].partition(".")[0] in there]


def _cost(session: Session, path: str) -> dict:
    about = COST_FIGURES[path]
    mark = session.design.prices.currency
    now = about.of(full_year(session.sizing))
    value, unit = shown_cost(now, about.kind, session.system, mark)
    change = ""
    if session.before is not None:
        was, _ = shown_cost(
            now - about.of(full_year(session.before)), about.kind, session.system, mark
        )
        change = signed(was, unit)
    return {"value": value, "unit": unit, "change": change}


def _figure(sizing: Sizing, before: Sizing | None, path: str, system: str) -> dict:
    about, value = figure_at(path), value_at(sizing, path)
    found = {"value": str(value), "unit": "", "change": ""}
    if about.kind is None or isinstance(value, str) or value is None:
        return found | {"value": "none" if value is None else str(value)}
    if not np.isfinite(value):
        return found | {"value": "no answer"}
    unit = about.kind.shown(system)
    found |= {"value": digits(value, about.kind, system), "unit": unit.label}
    was = None if before is None else value_at(before, path)
    if was is None or not np.isfinite(was):
        return found
    return found | {"change": changed(float(value), float(was), unit)}


def changed(value: float, was: float, unit) -> str:
    """A change in the unit shown, to two figures; nothing where none can be seen."""
    step = float(from_plain(value, unit)) - float(from_plain(was, unit))
    if abs(step) < 1e-9 * max(abs(float(from_plain(value, unit))), 1e-12):
        return ""
    return signed(two_figures(step), unit.label)


def two_figures(value: float) -> str:
    """A number to two figures, without an exponent.

    >>> two_figures(1234.5), two_figures(0.0123)
    ('1,200', '0.012')
    """
    if value == 0 or not math.isfinite(value):
        return "0"
    places = 1 - math.floor(math.log10(abs(value)))
    return f"{round(value, places):,.{max(places, 0)}f}"


def signed(text: str, unit: str) -> str:
    """A change with its sign and unit; nothing for none.

    >>> signed("-0.5", "lb"), signed("12", "gal"), signed("0", "gal")
    ('−0.5 lb', '+12 gal', '')
    """
    if not any(c in "123456789" for c in text):
        return ""
    sign = "−" if "-" in text or "−" in text else "+"
    return f"{sign}{text.replace('-', '').replace('−', '')} {unit}".strip()


def summary_line(session: Session) -> str:
    """The line at the top of every page: feed, and the part with the least margin.

    >>> summary_line(Session())[:14]
    'Your fish eat '
    """
    sizing = session.sizing
    if sizing is None:
        return "No design yet"
    if session.page.owned:
        told, untold = told_parts(session.parts, session.design.pump.none)
        return told_words(told, untold, session.design.pump.kind == "airlift")
    kind, stock = figure_at("stock.peak_feed").kind, sizing.stock
    peak, mean = (show(x, kind, session.system, 2) for x in (stock.peak_feed, stock.mean_feed))
    feed = (
        f"{peak.replace('/day', ' on the biggest day')}, {mean.replace('/day', ' on a mean day')}"
    )
    worst = worst_part(session.parts)
    line = f"Your fish eat {feed} · tightest: {worst.label.lower()}, {percent(worst.margin, worst.form)}"
    more = [p.label.lower() for p in session.parts if p is not worst and p.word == "short"]
    return f"{line} · short too: {', '.join(more)}" if more else line
