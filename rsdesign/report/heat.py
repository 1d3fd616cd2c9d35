"""A heat study as text for a terminal and as JSON; nothing is computed here."""

import json

import numpy as np

from ..core.figures import figures_of
from ..core.units import number, show
from ..equations.heat.balance import WORDS
from ..studies.heat import study as heat
from .heat_words import CAUTIONS, answers, day_words, findings
from .text import _heading, _kind, _plain, row_of, table_lines

ROWS = ("as designed", "open water", "half shade, open")


def _show(thing, name: str, system: str) -> str:
    value = getattr(thing, name)
    kind = next(f.kind for f in figures_of("", type(thing)) if f.name == name)
    if value is None or kind is None:
        return value or ""
    if kind.family == "days":
        return f"{number(value)} days"
    return show(value, kind, system).replace(" apart", "")


def heat_text(study: heat.HeatStudy, system: str) -> str:
    """The study as tables for a terminal."""
    design = study.sizing.design
    lines = [design.name or "Your design", f"Weather: {study.weather.name}", ""]
    lines += [f"{place}. {words}" for place, words in enumerate(answers(study, system), 1)]
    lines += _heading("What to look at")
    lines += [f"- {words}" for words in findings(study, system)]
    lines += _heading("Water month by month")
    names = ("month", "air", "water", "hottest", "coldest", "evaporation", "evaporation_low",
             "evaporation_high", "heating")  # fmt: skip
    head = ("month", "air", "water, not heated", "hottest hour", "coldest hour", "evaporated",
            "least", "most", "heat to hold it")  # fmt: skip
    lines += table_lines([head, *(tuple(_show(m, n, system) for n in names) for m in study.months)])
    lines += _heading("Hot, mild and cold day")
    names = ("day", "arrangement", "mean", "hottest", "coldest", "swing", "at_rest", "evaporation")
    head = ("day", "arrangement", "mean", "hottest", "coldest", "swing", "at rest", "evaporated")
    lines += table_lines(
        [head, *(tuple(_show(c, n, system) for n in names) for c in study.courses)]
    )
    lines += _heading("Hot day as designed, hour by hour")
    lines += _hours(study, system)
    lines += _heading("Where the heat goes on the hot day, mean of 24 hours")
    lines += _flows(study, system)
    lines += _heading("Depth and the hot day")
    names = ("depth", "swing", "hottest", "coldest")
    lines += table_lines(
        [names, *(tuple(_show(d, n, system) for n in names) for d in study.depths)]
    )
    lines += _heading("Holding the temperature")
    lines += table_lines(
        [(f.label, _show(study.heating, f.name, system))
         for f in figures_of("heating", heat.Heating)]
    )  # fmt: skip
    lines += _heading("Unheated season")
    lines += table_lines(
        [(f.label, _season_cell(study.season, f, system))
         for f in figures_of("season", heat.Season)]
    )  # fmt: skip
    return "\n".join([*lines, "", "A teaching estimate.", *CAUTIONS])


def _season_cell(season, figure, system: str) -> str:
    if figure.name in ("first_day", "last_day"):
        return day_words(getattr(season, figure.name)) if season.season_days else "none"
    return _show(season, figure.name, system) or "not in one season"


def _hours(study, system: str) -> list[str]:
    course, kind = study.course("hot"), _kind("air.temperature")
    rows = [("hour", "air", "water")]
    for hour in range(0, 24, 3):
        rows.append((f"{hour}:00", show(course.air[hour], kind, system),
                     show(course.start[hour], kind, system)))  # fmt: skip
    return table_lines(rows)


def _flows(study, system: str) -> list[str]:
    power = _kind("pump.wire_power")
    ways = [c for c in study.courses if c.day == "hot" and c.arrangement in ROWS]
    rows = [("gain of the water", *(c.arrangement for c in ways))]
    for name, words in WORDS.items():
        rows.append((words, *(show(c.flows[name].mean(), power, system) for c in ways)))
    return table_lines(rows)


def heat_json(study: heat.HeatStudy, system: str) -> str:
    """The study as JSON text; courses hold SI numbers by hour beside their figures."""
    found = {
        "weather": {"name": study.weather.name, "invented": study.weather.invented},
        "answers": list(answers(study, system)),
        "findings": list(findings(study, system)),
        "months": [row_of(m, system) for m in study.months],
        "courses": [row_of(c, system) | _by_hour(c) for c in study.courses],
        "depths": [row_of(d, system) for d in study.depths],
        "season": row_of(study.season, system),
        "cooler": [row_of(s, system) for s in study.cooler],
        "heating": row_of(study.heating, system),
        "relations": {"used": study.relation, "m_per_s": study.relations},
        "cautions": list(CAUTIONS),
    }
    return json.dumps(found, ensure_ascii=False, indent=1, allow_nan=False)


def _by_hour(course) -> dict:
    return {
        "hours": {
            "unit": "°C, W",
            "air": _plain(course.air),
            "water": _plain(course.middle),
            "heat": _plain(course.heat),
            "flows": {name: _plain(np.asarray(flow)) for name, flow in course.flows.items()},
        }
    }
