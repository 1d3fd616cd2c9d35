"""The frame of a chart of courses: axes, limits with ticks on their wrong side, and events."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import islice, pairwise
from math import inf

import numpy as np

from .axes import Axis, nice
from .fitted import narrow
from .labels import LabelledSheet, wide
from .sheet import short

REACH = 1.6
"""A limit up to this many times the tallest value is drawn; one farther off is only said."""
GROUND = 12.0
"""From a tick of a limit to the next [px]."""
UNSEEN = 0.1
"""A point so near to the line between its neighbours is left out [px]: coordinates are written no finer."""


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One line: its name, its values, and the band they may lie in where there is one.

    A value that is not a number is a gap: the line ends where nothing more is known.
    """

    name: str
    values: Sequence[float] | np.ndarray
    low: Sequence[float] | np.ndarray | None = None
    high: Sequence[float] | np.ndarray | None = None


@dataclass(frozen=True, slots=True)
class Threshold:
    """A limit: its value, what it says, whether the wrong side is above it, and how bad that is."""

    value: float
    words: str
    bad_above: bool = True
    use: str = "short"


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happens at a time; events of the same words are named once."""

    at: float
    words: str


@dataclass(slots=True)
class Plot:
    """The chart in the making."""

    sheet: LabelledSheet
    times: np.ndarray
    left: float = 0.0
    """Least room for the numbers at the left [px]."""
    named: bool = True
    """Whether what runs along x is said."""
    x: Axis = field(init=False)
    y: Axis = field(init=False)
    unnamed: list[int] = field(default_factory=list)
    """Places of lines whose name found no room beside them."""
    below: list[tuple[str, str]] = field(default_factory=list)
    """Words of limits that found no room, and their colors."""

    def points(self, values) -> list[list[tuple[float, float]]]:
        """The stretches of a line without a gap, in pixels."""
        values = np.asarray(values, float)
        known = np.flatnonzero(np.isfinite(values))
        if not known.size:
            return []
        along, down = _spots(self.x, self.times[known]), _spots(self.y, values[known])
        places = list(zip(along, down, strict=True))
        cuts = [0, *(np.flatnonzero(np.diff(known) > 1) + 1).tolist(), known.size]
        return [places[a:b] for a, b in pairwise(cuts)]


def thinned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A line without the points that would not be seen: none lies farther off it than ``UNSEEN``.

    From a point that is kept, a line is drawn on as long as it passes all points between.

    >>> thinned([(0.0, 1.0), (1.0, 2.0), (2.0, 3.05), (3.0, 4.0), (4.0, 0.0)])
    [(0.0, 1.0), (3.0, 4.0), (4.0, 0.0)]
    """
    if len(points) < 3:
        return points
    kept, last = [points[0]], points[1]
    (x0, y0), low, high = points[0], -inf, inf
    for x, y in islice(points, 1, None):
        slope = (y - y0) / (x - x0)
        if not low <= slope <= high:
            kept.append(last)
            x0, y0 = last
            low, high, slope = -inf, inf, (y - y0) / (x - x0)
        aside = UNSEEN / (x - x0)
        if slope - aside > low:  # noqa: PLR1730 (a branch is quicker than a call)
            low = slope - aside
        if slope + aside < high:  # noqa: PLR1730
            high = slope + aside
        last = (x, y)
    return [*kept, last]


def _spots(axis: Axis, numbers: np.ndarray) -> list[float]:
    """Where many numbers stand on an axis of equal steps; as ``Axis.at`` says of one."""
    part = (np.clip(numbers, axis.low, axis.high) - axis.low) / (axis.high - axis.low)
    return (axis.start + part * (axis.end - axis.start)).tolist()


def _known(lines: Sequence[Line]) -> np.ndarray:
    """Every finite number of the lines and their bands."""
    parts = [np.asarray(v, float) for one in lines for v in (one.values, one.low, one.high)
             if v is not None]  # fmt: skip
    found = np.concatenate(parts)
    return found[np.isfinite(found)]


def scales(plot: Plot, lines, thresholds, from_zero: bool):
    """Axes that hold every line; limits that are drawn, and those too far off, which are said."""
    known = _known(lines)
    low, high = (float(known.min()), float(known.max())) if known.size else (0.0, 1.0)
    reach = REACH * high if from_zero else high + (REACH - 1.0) * max(high - low, 1e-9)
    drawn = [t for t in thresholds if t.value <= reach]
    far = [t for t in thresholds if t.value > reach]
    low, high = (f([v, *(t.value for t in drawn)]) for f, v in ((min, low), (max, high)))
    low = min(low, 0.0) if from_zero else low
    span = max(high - low, 1e-9 * max(abs(high), 1.0), 1e-12)
    step = nice(span / (4 if narrow(plot.sheet.width) else 5))
    low = step * np.floor(low / step + 1e-9)
    high = max(high + 0.06 * span, low + step)
    marks = [float(v) for v in np.arange(low, high + 1e-9 * step, step)]
    sheet, size = plot.sheet, plot.sheet.size
    left = max(plot.left, 12 + max(wide(_tick(m, step), size) for m in marks))
    bottom = sheet.height - (2 if plot.named else 1) * (size + 7)
    first, last = float(plot.times[0]), float(plot.times[-1])
    plot.y = Axis(low, high, bottom, 2.2 * size, ticks=marks)
    plot.x = Axis(first, last if last > first else first + 1.0, left, sheet.width - 8)
    return drawn, far


def _tick(value: float, step: float) -> str:
    """A number of an axis, with as many decimals as its step asks for."""
    decimals = 0
    while abs(step * 10**decimals - round(step * 10**decimals)) > 1e-6 and decimals < 6:
        decimals += 1
    return f"{value + 0.0:.{decimals}f}"


def frame(plot: Plot, x_label: str, unit: str, ticks) -> None:
    """The two axes with their numbers and what they are; where they lie is told for who marks a moment."""
    sheet, x, y, size = plot.sheet, plot.x, plot.y, plot.sheet.size
    sheet.group(data_frame=" ".join(short(v) for v in (x.start, x.end, y.end, y.start)))
    sheet.end()
    step = y.ticks[1] - y.ticks[0] if len(y.ticks) > 1 else 1.0
    for mark in y.ticks:
        at = y.at(mark)
        sheet.line((x.start, at), (x.end, at), stroke="inset", width=1)
        if at > y.end - 1:
            sheet.write(x.start - 6, at + 0.35 * size, _tick(mark, step), "end", "soft")
    sheet.line((x.start, y.end - 4), (x.start, y.start), (x.end, y.start), stroke="line", width=1.5)
    if unit:
        sheet.write(2, size, unit, use="soft")
    base = y.start + size + 5
    for at, words in _along(plot) if ticks is None else ticks:
        if not x.low - 1e-9 <= at <= x.high + 1e-9:
            continue
        place, half = x.at(at), wide(words, size) / 2
        sheet.line((place, y.start), (place, y.start + 4), stroke="line", width=1)
        middle = min(max(place, half + 2), sheet.width - half - 2)
        sheet.put([(middle, base, "middle")], words, "soft")
    if plot.named:
        sheet.write(x.end, base + size + 6, x_label, "end", "soft")


def _along(plot: Plot):
    """Round numbers along x."""
    x = plot.x
    step = nice((x.high - x.low) / (4 if narrow(plot.sheet.width) else 8))
    for k in range(int(np.ceil(x.low / step - 1e-9)), int(np.floor(x.high / step + 1e-9)) + 1):
        yield k * step, _tick(k * step, step)


def limits(plot: Plot, drawn: Sequence[Threshold]) -> None:
    """Each limit as a thin line with ticks on its wrong side."""
    x = plot.x
    for limit in drawn:
        y, lean = plot.y.at(limit.value), -5.0 if limit.bad_above else 5.0
        plot.sheet.group(data_limit=limit.words)
        plot.sheet.line((x.start, y), (x.end, y), stroke=limit.use, width=1.4)
        many = int((x.end - x.start) / GROUND)
        d = "".join(f"M{x.start + (k + 0.4) * GROUND:.1f} {y:.1f}l5 {lean:g}" for k in range(many))
        plot.sheet.path(d, None, limit.use, 1.2)
        plot.sheet.end()
        plot.sheet.keep_clear([(x.start, y), (x.end, y)])


def limit_words(plot: Plot, drawn: Sequence[Threshold]) -> None:
    """What each limit says, on its line, where no curve runs."""
    x, size = plot.x, plot.sheet.size
    for limit in sorted(drawn, key=lambda t: t.value):
        y = plot.y.at(limit.value)
        over, under = y - 8, y + size + 5
        heights = [under, over] if limit.bad_above else [over, under]
        if not limit.bad_above and y + 2 * size > plot.y.start:
            heights = [over]
        spots = [
            (at, h, anchor)
            for h in (*heights, over - size, under + size)
            for at, anchor in ((x.end - 4, "end"), (x.start + 6, "start"),
                               ((x.start + x.end) / 2, "middle"))
        ]  # fmt: skip
        if not plot.sheet.put(spots, limit.words, limit.use, clear=True):
            plot.below.append((limit.words, limit.use))


def events_along(plot: Plot, events: Sequence[Event]) -> None:
    """A dotted line and an arrow head at each time; the words of each kind of event once."""
    sheet, x, y = plot.sheet, plot.x, plot.y
    named: set[str] = set()
    for event in sorted(events, key=lambda e: e.at):
        if not x.low <= event.at <= x.high:
            continue
        at = x.at(event.at)
        sheet.group(data_event=event.words)
        sheet.line((at, y.end), (at, y.start), stroke="soft", width=1, dash="1 4")
        sheet.poly([(at - 5, y.end - 7), (at + 5, y.end - 7), (at, y.end + 1)], "clay", None)
        sheet.end()
        sheet.keep(at - 5, y.end - 7, at + 5, y.end + 1)
    for event in sorted(events, key=lambda e: e.at):
        if event.words in named or not x.low <= event.at <= x.high:
            continue
        at, base = x.at(event.at), y.end - 9
        spots = [(at + s, base + d, a) for d in (0, sheet.size + 16, 2 * sheet.size + 16)
                 for s, a in ((10, "start"), (-10, "end"))]  # fmt: skip
        if sheet.put(spots, event.words, "clay"):
            named.add(event.words)
