"""A log of water tests as a course: each test beside what the design has on that day."""

import datetime
import functools
import math

import numpy as np

from ...core.kinds import KINDS
from ...core.unit_table import DAY
from ...core.units import show
from ...records.findings import Findings, log_findings
from ...records.log import WaterLog
from ...records.next_steps import next_tests, start_of, todays_feed
from ...records.reading import read_log
from ...records.trends import last
from ...report.drawings.course_chart import Threshold
from ...season.growing_season import COLUMNS, computed, plain_columns
from ...sizing.system import Sizing
from .course import Course, Series, headed, headed_figure
from .options import Option

AHEAD = 14
"""Days that a chart goes on after the last test, so that what comes is seen."""
EMPTY_DAYS = 60
MOST_DAYS = 730
TESTS = {
    "tan": "ammonia", "nitrite": "nitrite", "nitrate": "nitrate", "ph": "ph", "temperature": "water_temperature",
    "oxygen": "oxygen", "alkalinity": "alkalinity", "feed": "feed", "fish_weight": "weight",
}  # fmt: skip
"""What of a log is drawn, and what of a season stands beside it."""
LABELS = {"feed": "feed", "fish_weight": "weight of a fish", "tan": "ammonia", "nitrite": "nitrite",
          "nitrate": "nitrate", "ph": "pH", "temperature": "water", "oxygen": "oxygen",
          "alkalinity": "alkalinity"}  # fmt: skip
OPTIONS = (
    Option("stocked", "Day the fish came", "", hint="2027-04-15, or empty"),
    Option("below", "Show beneath", "nitrite",
           tuple((name, label) for name, label in LABELS.items() if name != "tan")),
)  # fmt: skip


_read = functools.lru_cache(maxsize=2)(read_log)
"""A log is read once for all the moves of a slider beside it."""


def of_session(session) -> dict[str, str]:
    """What the course is made from beside the answers: the log itself."""
    return {"log": session.log_text}


def course(sizing: Sizing, answers: dict[str, str], system: str, quick: bool) -> Course:
    """The tests of a log and the design's own season from the day the fish came."""
    log = _read(answers["log"]) if answers["log"] else None
    if log is None or not len(log):
        return _course(sizing, None, None, EMPTY_DAYS, answers, system)
    first = start_of(log, answers["stocked"] or None)
    days = (log.date(log.days[-1]) - first).days + 1 + AHEAD
    return _course(sizing, log, first, min(max(days, EMPTY_DAYS // 2), MOST_DAYS), answers, system)


def _course(sizing: Sizing, log: WaterLog | None, first, days: int, answers, system: str) -> Course:
    season, _, _ = computed(sizing, days, first.isoformat() if first else None)
    found = {name: np.array(values[:, 0], float) for name, values in plain_columns(season).items()}
    end = int(season.death.day[0])
    for values in found.values():
        values[end + 1 :] = np.nan
    planned = float(found["feed"][_today(log, first, days)]) if log else math.nan
    findings = log_findings(log, sizing) if log else Findings()
    series = {}
    for name, of_season in TESTS.items():
        if log is not None:
            series[name] = _tested(log, name, first, days)
        series[f"{name}_design"] = Series(
            f"{LABELS[name]}, design", COLUMNS[of_season], found[of_season]
        )
    below = answers["below"]
    return Course(
        title="My log",
        axis="day since the fish came",
        times=np.arange(1.0, days + 1),
        moment=lambda time: _day_words(time, first),
        series=series,
        above=_there(series, "tan"),
        below=_there(series, below),
        headline=_headline(log, findings, sizing, system, planned, answers),
        tank=None,
        told=tuple(name for name in series if not name.endswith("_design")) or ("tan_design", "nitrite_design"),
        limits=_limits(sizing),
        warnings=[f"{one.row.title}. {one.row.hour}" for one in findings],
        notes=list(log.remarks) if log else ["The line is what the design has on each day. Your tests come as dots."],
        last=days - 1,
        start=_today(log, first, days) / max(days - 1, 1) if log else 0.5,
    )  # fmt: skip


def _there(series: dict, name: str) -> tuple[str, ...]:
    """The tests and the design's line of a number, as far as there is either."""
    found = tuple(key for key in (name, f"{name}_design") if key in series)
    return found or ("tan_design",)


def _today(log: WaterLog | None, first: datetime.date, days: int) -> int:
    """The place of the day of the last test."""
    return min(max((log.date(log.days[-1]) - first).days, 0), days - 1) if log else 0


def _day_words(time: float, first: datetime.date | None) -> str:
    if first is None:
        return f"day {time:.0f}"
    return f"day {time:.0f}, {first + datetime.timedelta(days=int(time) - 1)}"


def _tested(log: WaterLog, name: str, first: datetime.date, days: int) -> Series:
    """The last test of each day, NaN where there was none, with the ends between which it stands."""
    own = log.fish_weight if name == "fish_weight" else log.values[name]
    ends = (own, own) if name == "fish_weight" else (log.low[name], log.high[name])
    if name == "feed":  # written as the feed of a day
        own, ends = own / DAY, (ends[0] / DAY, ends[1] / DAY)
    places = np.floor(log.days).astype(int) + (log.first_day - first).days
    value, low, high = (np.full(days, math.nan) for _ in range(3))
    use = np.isfinite(own) & (places >= 0) & (places < days)
    value[places[use]], low[places[use]] = own[use], ends[0][use]
    high[places[use]] = np.where(np.isfinite(ends[1][use]), ends[1][use], own[use])
    told = "given" if name == "feed" else "weighed" if name == "fish_weight" else "tested"
    return Series(f"{LABELS[name]}, {told}", COLUMNS[TESTS[name]], value, low, high)


def _limits(sizing: Sizing) -> dict[str, list[Threshold]]:
    keep, fish = sizing.design.keep, sizing.tables.species
    found = {
        "tan": [Threshold(float(keep.total_ammonia), "most ammonia to keep")],
        "nitrate": [Threshold(float(keep.nitrate), "most to keep", True, "tight")],
        "oxygen": [Threshold(float(keep.oxygen), "to keep", False, "tight")],
        "temperature": [
            Threshold(float(fish.feeding_low), "they eat above", bad_above=False),
            Threshold(float(fish.feeding_high), "they eat below"),
        ],
        "fish_weight": [
            Threshold(float(sizing.design.goal.weight), "weight to harvest", False, "enough")
        ],
    }
    return found | {f"{name}_design": limits for name, limits in found.items()}


def _headline(
    log, findings: Findings, sizing: Sizing, system: str, planned: float, answers
) -> list[dict]:
    if log is None:
        return [
            headed("Tests", "none", "", "type the first one"),
            headed("Findings", "none", "", "they need a test"),
            headed_figure("Feed, biggest day", float(sizing.stock.peak_feed), "feed rate", system, "of the design"),
            headed_figure("Ammonia to keep", float(sizing.design.keep.total_ammonia), "concentration", system, "at most"),
        ]  # fmt: skip
    due = next_tests(log, findings)
    heads = [
        headed("Findings", str(len(findings)) if findings else "none", "",
               "what to do: below" if findings else "nothing stands out"),
        _feed(log, findings, sizing, system, planned, answers),
        headed("Next test", due[0].date.isoformat() if due else "none", "", due[0].label if due else ""),
    ]  # fmt: skip
    for name in ("tan", "nitrite"):
        tested = last(log, name)
        if tested:
            when = log.date(log.days[tested[0]]).isoformat()
            heads.append(
                headed_figure(
                    f"{LABELS[name].title()}, last", tested[1], "concentration", system, when
                )
            )
    return heads


def _feed(log, findings: Findings, sizing: Sizing, system: str, planned: float, answers) -> dict:
    feed = todays_feed(
        log,
        sizing,
        findings,
        answers["stocked"] or None,
        planned if math.isfinite(planned) else 0.0,
    )
    if feed.rate == 0.0:
        return headed(
            "Feed that day", "none", "", feed.cause.row.title if feed.cause else "none is planned"
        )
    words, _, unit = show(feed.rate * DAY, KINDS["mass"], system, 3).partition(" ")
    return headed("Feed that day", words, unit, f"on {feed.date}")


def sample() -> tuple[str, str]:
    """An invented log: its text and the demo design that it belongs to."""
    from ...core.folders import data_folder  # noqa: PLC0415  (only who asks for it)

    text = (data_folder() / "logs" / "school_autumn.csv").read_text(encoding="utf-8")
    return text, "school"
