"""Drawings and charts of a page as data, made from the sizing."""

import importlib
import math

from ..core.choices import DesignError
from ..design.model import FIELDS
from ..report.drawings import scene
from ..report.drawings.words import margin_table
from ..sizing.system import Sizing, figure_at
from ..studies.sweep import sweep
from .controls import span_of
from .session import Session

PAGES_OF_PARTS = {
    "tank": "fish", "solids": "solids", "filter": "biofilter", "bed": "biofilter", "air": "air",
    "pump": "pump", "water": "heat",
}  # fmt: skip
"""The page that each part of the drawing leads to."""
CLOSER = 336.0
"""Most width of a closer look, which stands in a column of its own [px]."""


def stage(session: Session, settled: bool = True) -> dict | None:
    """The picture of the first screen: the whole system to scale, or the page's own picture.

    On a phone the side section stands in view and the plan below.  While a thumb moves the scale
    stays, so that growth is seen as growth.
    """
    page, sizing, system = session.page, session.sizing, session.system
    if sizing is None or page.owned:
        return None
    if not _system_first(session):
        return picture(page.picture, sizing, system, session.width)
    # Parts on a phone are smaller than a finger: there the strip leads to their pages.
    links = {} if session.narrow else {p: f"#{name}" for p, name in PAGES_OF_PARTS.items()}
    width, view = session.width, "section" if session.narrow else "both"
    kept = None if settled else session.scale
    svg = scene.drawing(sizing, system, width, view, links, kept, parts=session.parts)
    if settled or session.scale is None:
        session.scale = scene.scale_of(svg)
    plan = ""
    if session.narrow:
        plan = scene.drawing(sizing, system, width, "plan", links, parts=session.parts)
    return {
        "svg": svg,
        "plan": plan,
        "sentence": "",
        "table": as_table(margin_table(session.parts, system)),
    }


def height(drawn: dict | None) -> float:
    """How high a picture is [px], of one drawing or of several under each other; 0 where there is none."""
    if not drawn:
        return 0.0
    boxes = drawn["svg"].split('viewBox="')[1:]
    return sum(float(box.partition('"')[0].split()[3]) for box in boxes)


def _system_first(session: Session) -> bool:
    """Whether the whole system is the first picture: on a phone too where the page's own is too high."""
    return session.page.system_first or (session.narrow and not session.page.low_picture)


def close_up(session: Session) -> dict | None:
    """The page's own picture where the whole system stands first, else its second one."""
    page = session.page
    name = page.picture if _system_first(session) else page.closer
    if page.owned or session.sizing is None:
        return None
    return picture(name, session.sizing, session.system, min(session.width, CLOSER))


def picture(name: str, sizing: Sizing | None, system: str, width: float = 636.0) -> dict | None:
    """A drawing by its name, as wide as the page shows it [px], with its sentence and its table."""
    if not name or sizing is None:
        return None
    drawn = _maker(name)(sizing, system, width)
    return {
        "svg": drawn.svg,
        "plan": "",
        "sentence": drawn.sentence,
        "table": as_table(drawn.table),
    }


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
        "table": as_table(chart.table),
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


def as_table(table) -> dict:
    """A drawing's numbers, its headings and its rows, as data."""
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
