"""How the tests of a log go: the last one, a straight line through the last days, and its error."""

from dataclasses import dataclass

import numpy as np

from .log import IntArray, WaterLog

FEWEST = 4
"""Tests below which no line is drawn."""
SHORTEST = 2.0
"""Days below which no line is drawn: what a meal does comes and goes in one."""


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through tests: rise in a day, its standard error, and what it makes in all."""

    rate: float
    error: float
    change: float
    span: float
    """Days from the first of these tests to the last."""
    width: float
    """How far apart the ends of a reading are, on the mean."""
    count: int

    @property
    def sure(self) -> int:
        """1 where it rises, -1 where it falls, by more than chance and more than a reading can tell; else 0."""
        if (
            self.count < FEWEST
            or abs(self.change) <= self.width
            or abs(self.rate) <= 2.0 * self.error
        ):
            return 0
        return 1 if self.rate > 0.0 else -1


def line_through(days, values) -> tuple[float, float]:
    """Slope of a straight line by least squares, and its standard error.

    Parameters:
        days: when [day]; three or more, not all the same.
        values: the tests, in any unit.
    Returns: the slope for each day and its standard error.
    Source: ordinary least squares.

    >>> rise, error = line_through([0.0, 1.0, 2.0, 3.0], [1.0, 3.0, 5.0, 7.0])
    >>> round(rise, 9), round(error, 9)
    (2.0, 0.0)
    """
    days, values = np.asarray(days, float), np.asarray(values, float)
    from_mean = days - days.mean()
    squares = float(from_mean @ from_mean)
    slope = float(from_mean @ values) / squares
    left = values - values.mean() - slope * from_mean
    return slope, float(np.sqrt(left @ left / (days.size - 2) / squares))


def last(log: WaterLog, name: str, window: float = np.inf) -> tuple[int, float] | None:
    """Place and value of the last test of a column, where it lies in the last days of the log."""
    there = np.flatnonzero(np.isfinite(log.values[name]))
    if not there.size or log.days[-1] - log.days[there[-1]] > window:
        return None
    return int(there[-1]), float(log.values[name][there[-1]])


def recent(log: WaterLog, name: str, window: float) -> IntArray:
    """Places of the tests of a column in the last days of the log."""
    there = np.isfinite(log.values[name])
    if not len(log):
        return np.zeros(0, dtype=np.int64)
    return np.flatnonzero(there & (log.days >= log.days[-1] - window))


def trend(log: WaterLog, name: str, window: float) -> Trend | None:
    """The line through the tests of a column in the last days; None for too few.

    >>> from rsdesign.records.log import log_of_values
    >>> log = log_of_values("2027-04-15", range(5), {"nitrate": [0.04, 0.044, 0.048, 0.052, 0.056]})
    >>> found = trend(log, "nitrate", 14.0)
    >>> round(found.rate * 1e3, 6), found.sure
    (4.0, 1)
    """
    places = recent(log, name, window)
    if places.size < FEWEST or np.ptp(log.days[places]) < SHORTEST:
        return None
    days, values = log.days[places], log.values[name][places]
    rate, error = line_through(days, values)
    span = float(np.ptp(days))
    ends = np.where(np.isfinite(log.high[name]), log.high[name], log.values[name]) - log.low[name]
    return Trend(rate, error, rate * span, span, float(ends[places].mean()), int(places.size))


def total(log: WaterLog, name: str, window: float) -> float:
    """Sum of a column over the last days, lines where nothing is written left out."""
    return float(log.values[name][recent(log, name, window)].sum())
