"""Scales of the small charts that are drawn as SVG: numbers to pixels, and round steps."""

import math
from dataclasses import dataclass, field


@dataclass(slots=True)
class Axis:
    """A scale: numbers to pixels, in equal steps or in equal ratios."""

    low: float
    high: float
    start: float
    end: float
    ratios: bool = False
    ticks: list[float] = field(default_factory=list)

    def at(self, x: float) -> float:
        """Where a number stands; beyond the ends, at the end."""
        x = min(max(x, self.low), self.high)
        if self.ratios:
            part = math.log(x / self.low) / math.log(self.high / self.low)
        else:
            part = (x - self.low) / (self.high - self.low)
        return self.start + part * (self.end - self.start)


def nice(step: float) -> float:
    """The next larger of 1, 2, 2.5 and 5 times a power of ten."""
    ten = 10.0 ** math.floor(math.log10(step))
    return next(n * ten for n in (1, 2, 2.5, 5, 10) if n * ten >= step * (1 - 1e-9))
