"""Drawings and charts of a page as data, made from the sizing."""

import importlib
import math

from ..core.choices import DesignError
from ..design.model import FIELDS
from ..sizing.system import Sizing, figure_at
from ..studies.sweep import sweep
from .controls import span_of
from .session import Session


def picture(name: str, sizing: Sizing | None, system: str) -> dict | None:
    """A drawing by its name, with its sentence and its table."""
    if not name or sizing is None:
        return None
    drawn = _maker(name)(sizing, system)
    return {"svg": drawn.svg, "sentence": drawn.sentence, "table": _table(drawn.table)}


def charts(session: Session) -> list[dict]:
    """The charts, when everything is shown, and the trade-off."""
    if session.sizing is None or not session.full:
        return []
    found = []
    for name in session.page.charts:
        chart = _maker(name)(session.sizing, session.system)
        found.append(as_chart(name, chart))
    return found


def as_chart(name: str, chart) -> dict:
    """A chart as data."""
    return {
        "name": name,
        "figure": plain_data(chart.figure),
        "sentence": chart.sentence,
        "table": _table(chart.table),
    }


def plain_data(value):
    """A figure as JSON data: arrays as lists, numbers to six digits."""
    if isinstance(value, dict):
        return {key: plain_data(v) for key, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_data(v) for v in value]
    if hasattr(value, "tolist"):
        return plain_data(value.tolist())
    if isinstance(value, float):
        return float(f"{value:.6g}") if math.isfinite(value) else None
    return value


def _table(table) -> dict:
    headings, rows = table
    return {"headings": list(headings), "rows": [list(row) for row in rows]}


def _maker(name: str):
    module, _, function = name.partition(".")
    return getattr(importlib.import_module(f"...report.drawings.{module}", __name__), function)


def sweepable(page) -> list[dict]:
    """The choices of a page that can be swept."""
    return [
        {"path": c.path, "label": FIELDS[c.path].choice.label}
        for c in page.controls
        if FIELDS[c.path].choice.sweep
    ]


def results(page) -> list[dict]:
    """The results of a page that a trade-off can show."""
    return [
        {"path": path, "label": figure_at(path).label}
        for path in dict.fromkeys((*page.figures, *page.tradeoff[1:]))
        if figure_at(path).kind is not None
    ]


def tradeoff(session: Session) -> dict | None:
    """The trade-off of the page: the choices to sweep, the results to show, and the chart."""
    page, sizing = session.page, session.sizing
    if page.tradeoff is None or sizing is None or not session.full:
        return None
    from ..report.drawings import tradeoff as drawn  # noqa: PLC0415

    path, first, second = session.sweep.get(page.name, page.tradeoff)
    low, high = span_of(page.control(path))
    try:
        swept = sweep(sizing.design, path, low, high)
        chart = as_chart("tradeoff", drawn.chart(sizing, swept, first, second, session.system))
    except DesignError as wrong:
        chart = {"name": "tradeoff", "figure": {"data": [], "layout": {}}, "sentence": str(wrong),
                 "table": {"headings": [], "rows": []}}  # fmt: skip
    return {
        "sweeps": sweepable(page),
        "results": results(page),
        "chosen": [path, first, second],
        "chart": chart,
    }
