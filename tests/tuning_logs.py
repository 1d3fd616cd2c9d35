"""Logs of water tests whose truth is known: the season study computes them, kits with colours read them."""

import datetime
import functools
from dataclasses import dataclass, replace

import numpy as np

from rsdesign import load
from rsdesign.core.unit_table import DAY
from rsdesign.design.model import with_values
from rsdesign.equations.power.tables import bases
from rsdesign.records.log import log_of_values
from rsdesign.season.season_run import Season, run
from rsdesign.season.water_course import water_course
from rsdesign.season.what_ifs import Changes, changes
from rsdesign.sizing.system import Sizing, size

COLOURS = {
    "tan": (0.0, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0),
    "nitrite": (0.0, 0.25, 0.5, 1.0, 2.0, 5.0),
    "nitrate": (0.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0),
    "alkalinity": tuple(np.arange(0.0, 400.0, 17.85)),  # drops, one German degree each
    "chloride": tuple(np.arange(0.0, 1200.0, 20.0)),  # drops
}
"""Steps of common kits in mg/L, nitrogen as nitrogen; memo 4.3, from memory."""
READER, SKILL = 0.10, 0.25
"""A reader errs by a tenth of the level, and by a quarter of the step."""
STOCKED = 105
"""Day of the year of stocking."""


@dataclass(frozen=True)
class Truth:
    """What is so in the water of a log, over what the design says."""

    filter_factor: float = 1.0
    ammonia_share: float = 0.575
    evaporated: float = 1.0
    growth: float = 2.4
    leak: float = 0.002
    """Share of the water that leaks in a day."""


def pinned(design, media: float | None = None):
    """A design whose filter has the media that its sizing gives, so that its rate can be changed alone."""
    area = size(design)
    volume = media or float(area.filter.media_volume)
    return with_values(design, {"filter.media_volume": volume})


def season_of(design, truth: Truth, days: int, feed: np.ndarray | None = None) -> Season:
    """The season study with these truths, from stocking on; ``feed``: over what the fish ask for, by day."""
    told = with_values(design, {"filter.derate": design.filter.derate * truth.filter_factor,
                                "makeup.splash": truth.leak / DAY})  # fmt: skip
    # the parts stay those of the design; only what the film does and what leaks are other
    sizing: Sizing = replace(size(design), design=told)
    water = water_course(sizing).days(STOCKED, days)
    water = replace(water, evaporation=water.evaporation * truth.evaporated)
    change: Changes = changes((), days)
    if feed is not None:
        change = replace(change, feed=np.asarray(feed, float)[:, None])
    base = float(sizing.tables.species.base_temperature)
    growth = (np.full((3, 1), truth.growth), np.full((3, 1), base))
    return run(sizing, water, change, growth, truth.ammonia_share)


def read_colour(level, name: str, random) -> tuple[float, float, float]:
    """A level in mg/L as a kit and its reader give it: the colour, and its edges."""
    steps = np.array(COLOURS[name])
    edges = np.concatenate([[0.0], 0.5 * (steps[1:] + steps[:-1]), [np.inf]])
    place = min(int(np.searchsorted(edges, level)) - 1, steps.size - 1)
    high = edges[place + 1] if np.isfinite(edges[place + 1]) else 2.0 * steps[-1] - edges[place]
    scatter = np.hypot(READER * level, SKILL * (high - edges[place]))
    seen = max(level + scatter * random.normal(), 0.0)
    place = max(int(np.searchsorted(edges, seen)) - 1, 0)
    return steps[place], edges[place], edges[place + 1]


def log_of(season: Season, first: int, days: int, random, every: dict[str, int],
           hour: float = 20.0, columns=("feed", "water_added", "base", "temperature", "ph")):  # fmt: skip
    """The log that a grower writes of some days of a season, a line each evening.

    ``every``: in how many days each test is made; "sample_weight" for a net of twenty fish.
    """
    rows = slice(first, first + days)
    strength = next(b.strength for b in bases() if b.name == season.sizing.design.makeup.base)
    whole = {
        "temperature": season.water.mean, "ph": season.gases["ph"], "feed": season.fish.feed,
        "water_added": season.moved["new"] * DAY, "base": season.base["base"] / strength,
    }  # fmt: skip
    values = {name: whole[name][rows, 0].copy() for name in columns}
    low, high = ({name: v.copy() for name, v in values.items()} for _ in range(2))
    levels = {
        "tan": season.levels.ammonia, "nitrite": season.levels.nitrite, "nitrate": season.levels.nitrate,
        "alkalinity": season.base["alkalinity"], "chloride": season.chloride,
    }  # fmt: skip
    when = np.arange(days) + hour / 24.0
    for name, gap in every.items():
        column, edges = np.full(days, np.nan), np.full((2, days), np.nan)
        for day in range(0, days, gap):
            if name == "sample_weight":
                true = 20.0 * season.fish.weight[first + day, 1, 0]
                column[day] = true * np.exp(0.25 / np.sqrt(20.0) * random.normal())
                edges[:, day] = column[day]
                continue
            course, at = levels[name][:, 0], first + day
            level = course[at - 1] + (course[at] - course[at - 1]) * hour / 24.0
            column[day], *edges[:, day] = np.array(read_colour(1e3 * level, name, random)) / 1e3
        values[name], low[name], high[name] = column, *edges
    if "sample_weight" in every:
        count = np.where(np.isfinite(values["sample_weight"]), 20.0, np.nan)
        for table in (values, low, high):
            table["sample_count"] = count
    start = datetime.date(2027, 1, 1) + datetime.timedelta(STOCKED + first)
    return log_of_values(start, when, values, low=low, high=high)


# --- scenarios ---------------------------------------------------------------------------------

OTHER = Truth(0.6, 0.45, 1.4, 2.0, 0.01)
"""A slow filter, little ammonia, dry air, slow fish and a leak."""
FULL = {"tan": 1, "nitrate": 2, "alkalinity": 3, "chloride": 7, "sample_weight": 10}
SCENARIOS = ("other truth", "truth of the design", "truths drawn", "even feed, ammonia",
             "even feed, all colours, at rest", "even feed, all colours, nitrate rises")  # fmt: skip
FIRST, DAYS = 60, 60


@functools.cache
def family():
    """The family's design with its media told, and its sizing."""
    design = pinned(load("family"))
    return design, size(design)


@functools.cache
def _season(truth: Truth, days: int, even_from: int | None) -> Season:
    design, _ = family()
    if even_from is None:
        return season_of(design, truth, days)
    feed = np.ones(days)
    for _ in range(6):  # feed over appetite, until what is given stays the same from that day on
        found = season_of(design, truth, days, feed)
        appetite = found.fish.appetite[:, 0]
        feed[even_from:] = appetite[even_from] / np.maximum(appetite[even_from:], 1e-9)
    return season_of(design, truth, days, feed)


def draw(name: str, seed: int):
    """A log of a scenario, the sizing of its design, and the truth of each number, plain."""
    random = np.random.default_rng(1000 + seed)
    truth, even, first, every = OTHER, None, FIRST, FULL
    if name == "truth of the design":
        truth = Truth()
    elif name == "truths drawn":
        normal = random.normal(size=4)
        truth = Truth(float(np.exp(0.3 * normal[0])), float(0.5 * np.exp(0.15 * normal[1])),
                      float(np.exp(0.42 * normal[2])), float(2.4 * np.exp(0.2 * normal[3])),
                      float(random.uniform(0.0, 0.02)))  # fmt: skip
    elif name.startswith("even feed"):
        first, even = (110, 60) if name.endswith("at rest") else (100, 95)
        every = {"tan": 1} if name.endswith("ammonia") else {"tan": 1, "nitrite": 1, "nitrate": 1}
    season = _season(truth, first + DAYS, even)
    log = log_of(season, first, DAYS, random, every)
    _, sizing = family()
    rows = slice(first, first + DAYS)
    answers = {
        "filter_factor": truth.filter_factor, "ammonia_share": truth.ammonia_share,
        "water_out": float(season.moved["out"][rows].mean()),
        "evaporation": float(season.water.evaporation[rows].mean()), "growth": truth.growth,
    }  # fmt: skip
    return log, sizing, answers


def answers_of(tuned) -> dict[str, tuple[float, float, bool]]:
    """The band of each number and whether it is decidable, without the four weeks that would decide it."""
    water = "evaporated" if "evaporated" in tuned.verdicts else "drained"
    found = {}
    for name, values in tuned.answers(tuned.drawn.at).items():
        of = water if name in ("water_out", "evaporation") else name
        low, high = tuned.drawn.quantiles(values, (0.05, 0.95))
        found[name] = (float(low), float(high), tuned.verdicts[of].decidable)
    return found
