"""The rows of the table of a measured room, and the two sums behind them."""

import statistics
from dataclasses import dataclass


@dataclass
class Row:
    """One line of the table: what, its number with a unit, and the bar; None where it has none."""

    what: str
    value: float
    unit: str = ""
    most: float | None = None
    note: str = ""

    @property
    def missed(self) -> bool:
        """Whether the bar is missed; a number that is none misses every bar."""
        return self.most is not None and not self.value <= self.most

    def __str__(self):
        number = f"{self.value:.3g}" if abs(self.value) < 100 else f"{self.value:.0f}"
        bar = "stated" if self.most is None else f"{self.most:g} {self.unit}".strip()
        shown = f"{number} {self.unit}".strip() + (f" ({self.note})" if self.note else "")
        return f"| {self.what} | {shown} | {bar}{' **missed**' if self.missed else ''} |"


def p95(times) -> float:
    """The 95th centile; not a number when nothing was timed, so that a bar is missed.

    >>> p95([1.0] * 94 + [2.0] * 6), p95([])
    (2.0, nan)
    """
    times = sorted(times)
    return times[int(0.95 * (len(times) - 1))] if times else float("nan")


def slope(points) -> float:
    """Least squares of pairs (minutes, MB) [MB/min].

    >>> slope([(0, 5.0), (1, 7.0), (2, 9.0)])
    2.0
    """
    if len({x for x, _ in points}) < 2:
        return float("nan")
    return statistics.linear_regression(*zip(*points, strict=True)).slope
