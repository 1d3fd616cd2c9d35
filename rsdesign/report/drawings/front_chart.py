"""A front as a small chart: what a year costs against what one gets for it, a step for each design."""

import math
from dataclasses import dataclass

from ...core.units import number
from .axes import Axis, nice
from .labels import LabelledSheet, wide
from .look import Drawing

SIZE = 13.0
MARGIN = 0.06
"""Room around the dots, as a share of their span."""


@dataclass(frozen=True, slots=True)
class Dot:
    """One design: what it gives, what it costs a year, how it is drawn, and its words.

    ``look``: "front", "same" (as cheap as the cheapest, within the doubt), "picked" or "now".
    """

    gives: float
    cost: float
    look: str
    words: str = ""


def front_chart(
    dots: list[Dot], x_words: str, y_words: str, width: float, sentence: str, table: tuple, tall: float = 330.0
) -> Drawing:  # fmt: skip
    """What a year costs (upwards) against what one gets (to the right); an empty frame without dots."""
    sheet = LabelledSheet(width, tall, "What more money brings", SIZE)
    left = 14 + wide("$100,000", SIZE)
    xs, ys = [d.gives for d in dots] or [0.0, 1.0], [d.cost for d in dots] or [0.0, 1.0]
    x = _axis(min(xs), max(xs), left, width - 14)
    y = _axis(min(ys), max(ys), tall - 44, 30)
    sheet.line((left, 24), (left, tall - 44), (width - 10, tall - 44), stroke="line", width=1)
    if dots:
        for tick in x.ticks:
            at = x.at(tick)
            sheet.line((at, tall - 44), (at, tall - 39), stroke="line", width=1)
            sheet.write(at, tall - 26, number(tick), "middle", "soft")
        for tick in y.ticks:
            at = y.at(tick)
            sheet.line((left - 5, at), (left, at), stroke="line", width=1)
            sheet.write(left - 8, at + SIZE * 0.35, f"{tick:,.0f}", "end", "soft")
    sheet.write(4, 14, y_words, bold=True)
    sheet.write(width - 8, tall - 6, x_words, "end", bold=True)
    line = [d for d in dots if d.look in ("front", "same")]
    points = [(x.at(d.gives), y.at(d.cost)) for d in line]
    if len(points) > 1:
        sheet.line(*points, stroke="line-water", width=2)
        sheet.keep_clear(points)
    for dot in dots:
        _mark(sheet, dot, x.at(dot.gives), y.at(dot.cost))
    for dot in dots:
        if dot.words:
            _words(sheet, dot, x.at(dot.gives), y.at(dot.cost))
    sheet.marks.extend(sheet.late)
    return Drawing(sheet.svg(sentence), sentence, table)


def _axis(low: float, high: float, start: float, end: float) -> Axis:
    """A scale around the dots, with round ticks."""
    room = max(high - low, abs(high) * 0.1, 1e-9)
    low, high = low - MARGIN * room, high + MARGIN * room
    step = nice((high - low) / 4)
    first = math.ceil(low / step) * step
    ticks = [first + k * step for k in range(6) if first + k * step <= high * (1 + 1e-9)]
    return Axis(low, high, start, end, False, ticks)


def _mark(sheet: LabelledSheet, dot: Dot, x: float, y: float) -> None:
    """A design: filled on the front, ringed where it costs the same, large where it is picked, dashed for today."""
    if dot.look == "now":
        sheet.circle(x, y, 6, "paper", "clay", 2, "3 2")
    elif dot.look == "picked":
        sheet.circle(x, y, 7, "clay", "paper", 1.5)
    elif dot.look == "same":
        sheet.circle(x, y, 4.5, "paper", "line-water", 2)
    else:
        sheet.circle(x, y, 4.5, "line-water", "paper", 1)
    sheet.keep(x - 7, y - 7, x + 7, y + 7)


def _words(sheet: LabelledSheet, dot: Dot, x: float, y: float) -> None:
    """The words of a design, at the first free place around it."""
    spots = [(x + 11, y + 4, "start"), (x - 11, y + 4, "end"), (x, y - 12, "middle"), (x, y + 22, "middle"),
             (x + 11, y - 12, "start"), (x + 11, y + 22, "start"), (x - 11, y - 12, "end"),
             (x + 11, y - 28, "start"), (x - 11, y + 36, "end")]  # fmt: skip
    sheet.put(spots, dot.words, bold=dot.look == "picked")
