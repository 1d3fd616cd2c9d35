"""A heat study as text for a terminal and as JSON; nothing is computed here."""

import numpy as np

from ..core.figures import figures_of
from ..core.kinds import KINDS
from ..core.units import show
from ..equations.heat.balance import WORDS
from ..studies.heat import study as heat
from . import tables
from .heat_words import CAUTIONS, answers, day_words, findings

MONTH_COLUMNS = {
    "month": "month",
    "air": "air",
    "water": "water, not heated",
    "hottest": "hottest hour",
    "coldest": "coldest hour",
    "evaporation": "evaporated",
    "evaporation_low": "least",
    "evaporation_high": "most",
    "heating": "heat to hold it",
}
DAY_COLUMNS = {
    "day": "day",
    "arrangement": "arrangement",
    "mean": "mean",
    "hottest": "hottest",
    "coldest": "coldest",
    "swing": "swing",
    "at_rest": "at rest",
    "evaporation": "evaporated",
}
DEPTH_COLUMNS = {name: name for name in ("depth", "swing", "hottest", "coldest")}
SHOWN_ARRANGEMENTS = ("as designed", "open water", "half shade, open")


def heat_text(study: heat.HeatStudy, system: str) -> str:
    """The heat study as tables for a terminal.

    Parameters:
        study: what ``rsdesign.heat`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``heat_text(study, "us")``.
    """
    lines = [tables.title(study.sizing.design), f"Weather: {study.weather.name}", ""]
    lines += [f"{place}. {words}" for place, words in enumerate(answers(study, system), 1)]
    lines += tables.heading("What to look at")
    lines += [f"- {words}" for words in findings(study, system)]
    lines += tables.heading("Water month by month")
    lines += tables.figure_table(study.months, system, MONTH_COLUMNS)
    lines += tables.heading("Hot, mild and cold day")
    lines += tables.figure_table(study.courses, system, DAY_COLUMNS)
    lines += tables.section("Hot day as designed, hour by hour", _hours(study, system))
    lines += tables.section(
        "Where the heat goes on the hot day, mean of 24 hours", _flows(study, system)
    )
    lines += tables.heading("Depth and the hot day")
    lines += tables.figure_table(study.depths, system, DEPTH_COLUMNS)
    lines += [
        *tables.heading("Holding the temperature"),
        *tables.figure_lines(study.heating, system),
    ]
    season = [(f.label, _season_cell(study.season, f, system)) for f in figures_of("", heat.Season)]
    lines += tables.section("Unheated season", season)
    return "\n".join([*lines, "", "A teaching estimate.", *CAUTIONS])


def _season_cell(season, figure, system: str) -> str:
    if figure.name in ("first_day", "last_day"):
        return day_words(getattr(season, figure.name)) if season.season_days else "none"
    return tables.figure_text(season, figure.name, system) or "not in one season"


def _hours(study, system: str) -> list[tuple[str, ...]]:
    course, kind = study.course("hot"), KINDS["temperature"]
    rows: list[tuple[str, ...]] = [("hour", "air", "water")]
    for hour in range(0, 24, 3):
        rows.append((f"{hour}:00", show(course.air[hour], kind, system),
                     show(course.start[hour], kind, system)))  # fmt: skip
    return rows


def _flows(study, system: str) -> list[tuple[str, ...]]:
    power = KINDS["power"]
    ways = [c for c in study.courses if c.day == "hot" and c.arrangement in SHOWN_ARRANGEMENTS]
    rows = [("gain of the water", *(c.arrangement for c in ways))]
    for name, words in WORDS.items():
        rows.append((words, *(show(c.flows[name].mean(), power, system) for c in ways)))
    return rows


def heat_json(study: heat.HeatStudy, system: str) -> str:
    """The heat study as JSON text; courses hold SI numbers by hour beside their figures.

    Parameters:
        study: what ``rsdesign.heat`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``heat_json(study, "us")``.
    """
    found = {
        "weather": {"name": study.weather.name, "invented": study.weather.invented},
        "answers": list(answers(study, system)),
        "findings": list(findings(study, system)),
        "months": [tables.row_of(m, system) for m in study.months],
        "courses": [tables.row_of(c, system) | _by_hour(c) for c in study.courses],
        "depths": [tables.row_of(d, system) for d in study.depths],
        "season": tables.row_of(study.season, system),
        "cooler": [tables.row_of(s, system) for s in study.cooler],
        "heating": tables.row_of(study.heating, system),
        "relations": {"used": study.relation, "m_per_s": study.relations},
        "cautions": list(CAUTIONS),
    }
    return tables.json_text(found)


def _by_hour(course) -> dict:
    return {
        "hours": {
            "unit": "°C, W",
            "air": tables.plain(course.air),
            "water": tables.plain(course.middle),
            "heat": tables.plain(course.heat),
            "flows": {name: tables.plain(np.asarray(flow)) for name, flow in course.flows.items()},
        }
    }
