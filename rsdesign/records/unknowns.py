"""What a log may tell of a system: its unknown numbers, what was known of them before, and its readings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import log

import numpy as np

from ..core.choices import DesignError
from ..equations.fish.growth_bands import BANDS, growth_bands
from ..equations.fish.loads import ammonia_production
from ..equations.fish.season_growth import ammonia_share_of_nitrogen
from .box_model import BoxModel, at_times
from .drive import Drive, Log
from .film_surface import LEAST_SHARE, most_share
from .fitting import cost_of
from .intervals import LEAST, Readings

P90 = 1.6449
"""Standard deviations to the ends that hold 90 %."""
READER = 0.10
"""Share of a level by which two readers of a test are apart, and a reagent from the next; common practice."""
BOOK_SHARE = ammonia_share_of_nitrogen.__wrapped__(ammonia_production.__wrapped__(1.0, 1.0))
"""Ammonia over the nitrogen of the feed, as the sizing takes it."""
POINT = 1e-3
"""Width of a plain number, a share of it."""
FISH_APART = 0.25
"""Standard deviation of the weights of the fish of one batch over their mean; common practice."""
TESTED = ("tan", "nitrate", "alkalinity", "chloride")
"""Tests that are fitted.  Nitrite is shown and not fitted: its level at rest says how fast its bacteria are, for
which a design has no choice."""
STARTS = ("nitrate", "alkalinity", "chloride", "fish_weight")
"""What has a level at the start that nothing else tells."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A number that the log may tell, as it was known before; its logarithm is normal."""

    name: str
    words: str
    more: str
    """Words for more of it."""
    less: str
    prior: float
    """Plain."""
    apart: float
    """Standard deviation of its logarithm before the log."""
    low: float
    high: float
    source: str
    asked: bool = True
    """Whether it is an answer; else a level at the start, that only has to be there."""

    @property
    def ends(self) -> tuple[float, float]:
        """The bounds in standard deviations from the prior."""
        return log(self.low / self.prior) / self.apart, log(self.high / self.prior) / self.apart


def unknowns_of(drive: Drive, tests: "Tests") -> tuple[Unknown, ...]:
    """The numbers to look for, with what the design and the literature say of them."""
    top = most_share(drive)
    found = [
        Unknown("filter_factor", "filter factor", "a faster filter", "a slower filter", 1.0, log(2.3) / P90, 0.05, 8.0,
                "working filters against the law of the clean film: a factor of 2.3 either way, common practice"),
        Unknown("ammonia_share", "share of the feed's nitrogen that turns to ammonia", "more ammonia from the feed",
                "less ammonia from the feed", min(BOOK_SHARE, 0.95 * top), log(BOOK_SHARE / 0.394) / P90, LEAST_SHARE, top,
                "0.092 of the protein is 57.5 %; 39.4 % measured with red tilapia (jifro 114814)"),
        _water(drive),
        _growth(drive),
    ]  # fmt: skip
    design = drive.sizing.design
    levels = {
        "nitrate": design.source.nitrate, "alkalinity": design.keep.alkalinity,
        "chloride": design.source.chloride, "fish_weight": design.stock.stocking_weight,
    }  # fmt: skip
    for name in STARTS:
        first = tests.first(name)
        level = max(float(np.max(levels[name])) if first is None else first, 1e-6)
        found.append(
            Unknown(name, f"{name.replace('_', ' ')} at the start", "a higher start", "a lower start", level, 0.7, level / 30.0, level * 30.0,
                    "the first reading, else the design; a factor of three either way", False)
        )  # fmt: skip
    return tuple(found)


def _water(drive: Drive) -> Unknown:
    if drive.added is None:
        return Unknown("drained", "water that leaves as a liquid", "more water drained", "less water drained", 1.0, log(2.0) / P90, 0.02, 20.0,
                       "what the design plans, a factor of two either way, common practice")  # fmt: skip
    if drive.weather:
        return Unknown("evaporated", "split of the new water between vapor and drain", "more evaporation", "less evaporation", 1.0, log(2.0) / P90, 0.05, 6.0,
                       "the weather of the design, a factor of two either way")  # fmt: skip
    return Unknown("evaporated", "split of the new water between vapor and drain", "more evaporation", "less evaporation", 1.0, log(5.0) / P90, 0.01, 5.0,
                   "a fifth of the new water, a factor of five either way: no weather is told")  # fmt: skip


def _growth(drive: Drive) -> Unknown:
    told = drive.sizing.design.stock.growth_coefficient
    line = growth_bands(drive.sizing.tables.species.name)[BANDS[1]]
    prior = float(line.growth_coefficient if told is None else told)
    return Unknown("growth", "growth coefficient", "faster growth", "slower growth", prior, log(1.65) / P90, prior / 5.0, prior * 4.0,
                   "the design, a factor of 1.65 either way: published lines differ by more")  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Test:
    """Readings of one kind: when, and between which ends."""

    days: np.ndarray
    readings: Readings


@dataclass(frozen=True, slots=True, eq=False)
class Tests:
    """The readings of a log that are fitted, by course; and what was left out, a sentence each."""

    by_name: dict[str, Test]
    left_out: tuple[str, ...] = ()

    def first(self, name: str) -> float | None:
        """The first reading, plain; None where there is none."""
        test = self.by_name.get(name)
        return None if test is None else float(test.readings.middle[0])

    @property
    def count(self) -> int:
        """How many readings there are."""
        return sum(test.days.size for test in self.by_name.values())


def tests_of(log: Log) -> Tests:
    """The readings of a log, as intervals with their scatter."""
    found, left = {}, []
    has_base = bool(np.isfinite(log.values.get("base", np.array([np.nan]))).any())
    for name in TESTED:
        there = _there(log, name)
        if not there.any():
            continue
        if name == "alkalinity" and not has_base:
            left.append("Alkalinity is not used: the log does not tell the base that was added; write 0 where"
                        " none was.")  # fmt: skip
            continue
        found[name] = _test(log, name, there)
    there = _there(log, "sample_weight")
    if there.any():
        found["fish_weight"] = _weighings(log, there)
    return Tests(found, tuple(left))


def _there(log: Log, name: str) -> np.ndarray:
    values = log.values.get(name)
    if values is None:
        return np.zeros(log.days.size, bool)
    with np.errstate(invalid="ignore"):
        return np.isfinite(values) & (values >= 0.0)


def _test(log: Log, name: str, there: np.ndarray) -> Test:
    value, low, high = (np.asarray(t[name], float)[there] for t in (log.values, log.low, log.high))
    low, high = np.where(np.isnan(low), value, low), np.where(np.isnan(high), value, high)
    low, high = np.minimum(low, value), np.maximum(np.maximum(high, value), LEAST)
    high = np.maximum(high, low * (1.0 + POINT))
    return Test(log.days[there], Readings(low, high, np.full(value.size, READER)))


def _weighings(log: Log, there: np.ndarray) -> Test:
    count = np.asarray(log.values.get("sample_count", np.full(log.days.size, np.nan)), float)[there]
    fish = np.where(np.isfinite(count), np.maximum(count, 1.0), 1.0)
    mean = np.maximum(np.asarray(log.values["sample_weight"], float)[there] / fish, 1e-6)
    return Test(log.days[there], Readings(mean, mean * (1.0 + POINT), FISH_APART / np.sqrt(fish)))


@dataclass(frozen=True, eq=False)
class Task:
    """A log with its model: what residuals and courses follow from the unknown numbers.

    Numbers are in standard deviations of their prior, numbers x columns.
    """

    model: BoxModel
    unknowns: tuple[Unknown, ...]
    tests: Tests
    misfit: float = 1.0
    """By how much readings scatter more than such tests do; 1 at least."""
    fixed: Mapping[str, float] = field(default_factory=dict)
    """Numbers that are known and not looked for, plain."""

    @cached_property
    def ends(self) -> tuple[np.ndarray, np.ndarray]:
        """Low and high bounds."""
        low, high = zip(*(u.ends for u in self.unknowns), strict=True)
        return np.array(low), np.array(high)

    def numbers(self, x: np.ndarray) -> dict[str, np.ndarray]:
        """The plain numbers of each column, with those that nobody looks for."""
        columns = x.shape[1]
        found = {
            u.name: u.prior * np.exp(u.apart * row) for u, row in zip(self.unknowns, x, strict=True)
        }
        given = {"evaporated": 1.0, "drained": 1.0, **self.fixed}
        return {n: np.full(columns, v) for n, v in given.items()} | found

    def levels(self, x: np.ndarray) -> np.ndarray:
        """Logarithm of what each test should read: readings x columns."""
        courses = self.model.courses(self.numbers(x))
        rows = [at_times(courses[n], test.days) for n, test in self.tests.by_name.items()]
        return np.log(np.maximum(np.concatenate(rows), 1e-9)) if rows else np.zeros((0, x.shape[1]))

    def each(self, rows: np.ndarray) -> list[tuple[Readings, np.ndarray]]:
        """The readings of each test with their rows, plain, of what ``levels`` gives."""
        parts, first = [], 0
        for test in self.tests.by_name.values():
            parts.append((test.readings, np.exp(rows[first : first + test.days.size])))
            first += test.days.size
        return parts

    def residuals(self, x: np.ndarray) -> np.ndarray:
        """Root of the deviance of every reading: readings x columns."""
        found = [readings.residuals(level) for readings, level in self.each(self.levels(x))]
        return np.concatenate(found) / self.misfit

    def told(self, x: np.ndarray) -> np.ndarray:
        """What each reading tells of the logarithm of its level; ``x``: one number each."""
        rows = self.each(self.levels(x[:, None])[:, 0])
        return (
            np.concatenate([readings.information(level) for readings, level in rows])
            / self.misfit**2
        )

    def information(self, x: np.ndarray) -> np.ndarray:
        """J'J of the readings, in prior standard deviations; ``x``: one number each."""
        slopes = self.slopes(x)
        return (slopes * self.told(x)[:, None]).T @ slopes

    def off(self, x: np.ndarray) -> np.ndarray:
        """How far each reading lies from its level, in standard deviations; nan where open to a side."""
        rows = self.each(self.levels(x[:, None])[:, 0])
        return np.concatenate([np.where(r.closed, (r.middle - level) / r.spread(level), np.nan)
                               for r, level in rows])  # fmt: skip

    def cost(self, x: np.ndarray) -> np.ndarray:
        """What readings and departures from the prior count, for each column."""
        return np.asarray(cost_of(self.residuals(x), x))

    def slopes(self, x: np.ndarray, step: float = 1e-3) -> np.ndarray:
        """Slopes of ``levels`` along every number, from one run: readings x numbers."""
        found = self.levels(
            np.concatenate([x[:, None], x[:, None] + step * np.eye(x.size)], axis=1)
        )
        return (found[:, 1:] - found[:, :1]) / step


def check_enough(log: Log, tests: Tests) -> None:
    """Says what is missing where a log is too short for any answer."""
    if log.days.size == 0:
        raise DesignError("The log holds no line with a date; nothing can be tuned.")
    days = int(np.floor(log.days[-1]) - np.floor(log.days[0])) + 1
    if tests.count == 0:
        raise DesignError(
            "The log holds no reading of ammonia, nitrate, chloride, alkalinity with base, or of fish"
            " weight, so nothing can be tuned; test ammonia and nitrate twice a week."
        )
    if days < LEAST_DAYS or tests.count < LEAST_READINGS:
        raise DesignError(
            f"The log holds {tests.count} readings that tell of the system, over {days} days; a tuning"
            f" needs {LEAST_READINGS} readings over {LEAST_DAYS} days at least. Go on testing."
        )


LEAST_DAYS, LEAST_READINGS = 7, 6
"""Least of a log; common practice: fewer readings than unknown numbers say nothing."""
