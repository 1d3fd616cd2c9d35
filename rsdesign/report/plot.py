"""Plotly figures of what the package computes, in the look of the pages, with nothing fetched.

Each function gives a ``plotly.graph_objects.Figure``.  Numbers are kept to six figures, so that a
saved notebook holds the same text on every machine.
"""

import re
import textwrap
from collections.abc import Mapping

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS
from ..core.notebook import shown_in
from ..core.units import from_plain
from ..sizing.system import Sizing, figure_at, size, value_at
from ..studies.frames import heading
from ..studies.heat.study import HeatStudy
from ..studies.limits import Limits
from ..studies.outage.study import run
from ..studies.outage.tank import levels
from .drawings import heat as heat_charts
from .drawings.look import LINES, PALETTE, axis, layout, limit_line, line

NARROW = 18
"""Letters of a bar's name in one line."""
BANDS_OF_FRAMES = (("5", "95"), ("slow", "fast"))
"""How the columns of the ends of a band are called after their line."""


def tradeoff(frame, first: str = "", second: str = ""):
    """Two figures of a sweep along its choice, each on an axis of its own.

    Parameters:
        frame: what ``rsdesign.sweep`` gives.
        first: a column of it; empty for its first column of numbers.
        second: another column; empty for its second column of numbers.
    Returns: a Plotly figure.
    Raises: ``DesignError`` where a column is not there.

    Example: ``tradeoff(sweep(design, "tank.depth", ["2 ft", "3 ft"]), "tank.width", "pump.head")``.
    """
    numbers = [name for name in frame.columns if frame[name].dtype.kind in "fi"]
    names = [name for name in (first, second) if name] or numbers[:2]
    for name in names:
        if name not in numbers:
            raise DesignError(f"{name!r} is no column of numbers here; there are"
                              f" {', '.join(numbers) or 'none'}.")  # fmt: skip
    if not names:
        raise DesignError("This table has no column of numbers to draw.")
    units = frame.attrs.get("units", {})
    x = _numbers(frame.index)
    data = [
        trace
        for place, name in enumerate(names)
        for trace in line(x, _numbers(frame[name]), heading(name), 2 * place, second=place == 1)
    ]
    titles = [axis(heading(name, units.get(name, ""))) for name in (frame.index.name, *names)]
    return _figure({"data": data, "layout": layout(*titles)})


def limits(found: Limits, system: str = "us"):
    """The feed that each part one owns can bear, the smallest on top: it limits the rest.

    Parameters:
        found: what ``rsdesign.limits`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: a Plotly figure.
    Raises: ``DesignError`` where no part limits the design.

    Example: ``plot.limits(rsdesign.limits(design))``.
    """
    borne = [b for b in found.bearings if np.isfinite(b.feed)]
    if not borne:
        raise DesignError("No part of this design limits it: tell what you own, such as a tank.")
    least = min(b.feed for b in borne)
    unit = KINDS["feed rate"].shown(system)
    colors = ["short" if b.feed <= least * 1.001 else "enough" for b in borne]
    bars = {
        "type": "bar", "orientation": "h", "x": _numbers(from_plain(b.feed, unit) for b in borne),
        "y": [b.label for b in borne], "marker": {"color": [PALETTE[c] for c in colors]},
        "hovertemplate": "%{y}: %{x:.3~g} " + unit.label + "<extra></extra>",
    }  # fmt: skip
    parts = axis("", autorange="reversed", automargin=True)
    return _figure(
        {"data": [bars], "layout": layout(axis(f"Feed it can bear, {unit.label}"), parts)}
    )


def heat_year(study: Sizing | HeatStudy, system: str = "us"):
    """Water and air through the year without a heater, with the limits between which fish eat.

    Parameters:
        study: what ``rsdesign.heat`` or ``size`` gives, of one design.
        system: "us" or "metric", the units in which figures are shown.
    Returns: a Plotly figure.

    Example: ``plot.heat_year(sizing, "metric")``.
    """
    sizing = study.sizing if isinstance(study, HeatStudy) else study
    return _figure(heat_charts.year_chart(sizing, system).figure)


def outage(design, failure: str = "all power", **given):
    """Oxygen after a failure: the likely course, the range around it, and with the backup.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        failure: such as ``"all power"``.
        given: ``today`` (True or False), ``duration`` and ``step`` [s], above 0.
    Returns: a Plotly figure.
    Raises: ``DesignError`` for a failure that has no course.

    Example: ``plot.outage(design, "all power", duration=7200.0)``.
    """
    sizing = design if isinstance(design, Sizing) else size(design)
    frame = run(sizing, failure, **({"step": 180.0} | given))
    minutes = _numbers(frame.index / 60)
    names = {"likely": "likely", "short": "short end", "long": "long end", "backed": "with backup"}
    data = [
        trace
        for place, (column, name) in enumerate(names.items())
        for trace in line(minutes, _numbers(1e3 * frame[column]), name, place)
    ]
    marks = [limit_line(_numbers([1e3 * float(x)])[0]) for x in levels(sizing.design).values()]
    titles = axis("Minutes since the failure"), axis("Oxygen, mg/L", rangemode="tozero")
    return _figure({"data": data, "layout": layout(*titles, shapes=marks)})


def course(frame, *columns: str):
    """What changes with time: columns of a frame of ``rsdesign.season``, each with its band.

    Parameters:
        frame: what ``season.startup``, ``growout`` or ``feeding_day`` gives.
        columns: one to four of its columns, all in one unit, such as ``"ammonia"``.
    Returns: a Plotly figure; a band stands behind its line.
    Raises: ``DesignError`` for a column that is not there, or for two units.

    Example: ``plot.course(season.startup(design), "ammonia", "nitrite")``.
    """
    if not 1 <= len(columns) <= len(LINES):
        raise DesignError(f"Give one to {len(LINES)} columns, such as {frame.columns[-1]!r}.")
    units = frame.attrs.get("units", {})
    for name in columns:
        if name not in frame.columns:
            raise DesignError(f"{name!r} is no column here; there are {', '.join(frame.columns)}.")
    of = {units.get(name, "") for name in columns}
    if len(of) > 1:
        raise DesignError(f"These columns have different units: {', '.join(sorted(of))}.")
    by_day = frame.index.name is None and "day" in frame.columns
    x = _numbers(frame["day"] if by_day else frame.index)
    data = []
    for place, name in enumerate(columns):
        ends = [(f"{name}_{low}", f"{name}_{high}") for low, high in BANDS_OF_FRAMES]
        for low, high in ends:
            if low in frame.columns:
                data += _band(x, frame[low], frame[high], place)
        data += line(x, _numbers(frame[name]), _column_words(name), place)
    unit = next(iter(of))
    titles = axis("Day" if by_day else (frame.index.name or "").capitalize()), axis(unit)
    return _figure({"data": data, "layout": layout(*titles)})


def _column_words(name: str) -> str:
    """A column's name as words."""
    return name.replace("_", " ")


def _band(x: list, low, high, place: int) -> list[dict]:
    """The area between two columns, in the color of the line in its place."""
    color = f"var(--rs-{LINES[place][0]})"
    edge = {"type": "scatter", "mode": "lines", "x": x, "hoverinfo": "skip",
            "line": {"width": 0.5, "color": color}}  # fmt: skip
    return [
        edge | {"y": _numbers(low)},
        edge | {"y": _numbers(high), "fill": "tonexty", "opacity": 0.4},
    ]


def compare(designs: Mapping, figures, system: str = "us"):
    """Figures of a few designs side by side, a small chart for each figure.

    Parameters:
        designs: designs or sizings by the name that stands below their bars.
        figures: paths such as ``["tank.volume", "pump.head"]``.
        system: "us" or "metric", the units in which figures are shown.
    Returns: a Plotly figure.
    Raises: ``DesignError`` where there is no design or no figure.

    Example: ``plot.compare({"now": design, "deeper": other}, ["tank.width"])``.
    """
    if not designs or not figures:
        raise DesignError("Give at least one design and one figure to compare.")
    sizings = {n: d if isinstance(d, Sizing) else size(d) for n, d in designs.items()}
    names = ["<br>".join(textwrap.wrap(str(name), NARROW)) for name in sizings]
    found = layout(axis(""), axis(""))
    colors = [PALETTE[LINES[place % len(LINES)][0]] for place in range(len(names))]
    data, wide = [], 1 / len(figures)
    for place, path in enumerate(figures):
        try:
            figure = figure_at(path)
        except (KeyError, AttributeError):
            raise DesignError(f"{path!r} is not a figure of a sizing.") from None
        rows = [shown_in(value_at(s, path), figure.kind, system) for s in sizings.values()]
        at = str(place + 1) if place else ""
        data.append({
            "type": "bar", "x": names, "y": _numbers(value for value, _ in rows),
            "xaxis": f"x{at}", "yaxis": f"y{at}", "marker": {"color": colors},
            "hovertemplate": "%{x}: %{y:.3~g}<extra></extra>",
        })  # fmt: skip
        left = place * wide
        found[f"xaxis{at}"] = axis("", domain=_numbers([left, left + 0.72 * wide]), anchor=f"y{at}")
        found[f"yaxis{at}"] = axis(heading(path, rows[0][1]), anchor=f"x{at}", rangemode="tozero")
    return _figure({"data": data, "layout": found})


def _numbers(values) -> list:
    """Numbers to six figures, and nothing where there is no answer."""
    return [float(f"{float(v):.6g}") if np.isfinite(v) else None for v in values]


def _figure(chart: dict):
    """A chart of the pages as a figure: fixed colors, on paper of its own."""
    from .plot_figure import Figure  # noqa: PLC0415  (only who draws a figure needs Plotly)

    colored = _colored(chart)
    look = colored["layout"] | {
        "template": "none", "paper_bgcolor": PALETTE["paper"], "plot_bgcolor": PALETTE["paper"],
    }  # fmt: skip
    return Figure(data=colored["data"], layout=look)


def _colored(part):
    """A part of a chart with colors instead of the names that a page gives them, rounded."""
    if isinstance(part, dict):
        return {key: _colored(value) for key, value in part.items()}
    if isinstance(part, (list, tuple)):
        return [_colored(value) for value in part]
    if isinstance(part, str):
        return re.sub(r"var\(--rs-([\w-]+)\)", lambda found: PALETTE[found[1]], part)
    if isinstance(part, float):
        return _numbers([part])[0]
    return part
