"""The course of some levels over time: lines with the band they may lie in, limits, and what happens when.

Every line carries its name and has a dash of its own; a limit has ticks on its wrong side, so that grey
paper tells lines, bands and limits apart.
"""

from collections.abc import Callable, Sequence
from html import escape

import numpy as np

from ...core.units import number
from .course_frame import (
    Event,
    Line,
    Plot,
    Threshold,
    events_along,
    frame,
    limit_words,
    limits,
    scales,
    thinned,
)
from .fitted import narrow
from .labels import LabelledSheet, wide
from .look import LINES, Drawing

FILLS = ("water", "sludge", "plants", "air")
"""What fills the band of a line, by its place; the line has the color that goes with it."""
SHOWN = 13
"""Rows of the table."""
DESK, PHONE = 300.0, 220.0
"""Height of the sheet, on a desk and on a phone, before names that find no room [px]."""

__all__ = ["Event", "Line", "Threshold", "course_chart"]


def course_chart(
    times, lines: Sequence[Line], *, title: str, x_label: str, unit: str = "",
    thresholds: Sequence[Threshold] = (), events: Sequence[Event] = (),
    ticks: Sequence[tuple[float, str]] | None = None, moment: Callable[[float], str] | None = None,
    from_zero: bool = True, sentence: str | None = None, width: float = 636.0,
    height: float | None = None, left: float = 0.0, named: bool = True,
) -> Drawing:  # fmt: skip
    """A chart of up to four lines over one time axis.

    Parameters:
        times: rising numbers in the unit of ``x_label``.
        lines: one to four ``Line``, all in ``unit``.
        title: what the chart is, for its ``<title>``.
        x_label: what runs along x, with its unit, such as ``"hour of the day"``.
        unit: of the values; empty for a pure number such as pH.
        thresholds: limits, each drawn or, far above every value, said.
        events: what happens when.
        ticks: numbers and words along x; left out, round numbers.
        moment: says a time in sentence and table, such as ``"8:15"``; left out, ``"hour 8.25"``.
        from_zero: whether y begins at zero.
        sentence: what the chart shows; left out, where each line is highest and lowest.
        width: of the sheet [px].
        height: of the sheet [px]; left out, 300 on a desk and 220 on a phone.
        left: least room for the numbers at the left [px], so that charts over each other align.
        named: whether the axis says what runs along x; the lower of two charts says it for both.
    Returns: ``Drawing`` with the numbers as a table.
    Raises: ``ValueError`` for no lines, more than four, or lines of another length.

    >>> day = course_chart([0, 6, 12, 18], [Line("oxygen", [6.4, 6.5, 5.3, 5.2])], title="Oxygen",
    ...                    x_label="hour", unit="mg/L", thresholds=[Threshold(3.0, "distress", False)])
    >>> day.sentence
    'oxygen is highest, 6.5 mg/L, at hour 6 and lowest, 5.2 mg/L, at hour 18.'
    """
    times = _checked(times, lines)
    small = narrow(width)
    sheet = LabelledSheet(
        width, height or (PHONE if small else DESK), title, 12.0 if small else 13.0
    )
    plot = Plot(sheet, times, left, named)
    drawn, said = scales(plot, lines, thresholds, from_zero)
    frame(plot, x_label, unit, ticks)
    limits(plot, drawn)
    events_along(plot, events)
    for place, one in enumerate(lines):
        _band(plot, place, one)
    paths = [plot.points(one.values) for one in lines]
    for place, one in enumerate(lines):
        _draw(plot, place, one, paths[place])
    limit_words(plot, drawn)
    whole = [[spot for stretch in path for spot in stretch] for path in paths]
    for place, one in enumerate(lines):
        _name(plot, place, one.name, whole)
    plot.below += [(f"{t.words}: far above this chart", t.use) for t in said]
    _foot(plot, lines)
    moment = moment or _moments(x_label)
    told = sentence or _sentence(plot, lines, unit, moment)
    sheet.marks.insert(0, f"<title>{escape(title)}</title>")
    sheet.marks.extend(sheet.late)
    return Drawing(sheet.svg(told), told, _table(times, lines, x_label, unit, moment))


def _checked(times, lines: Sequence[Line]) -> np.ndarray:
    """The times, once each line has a value for each of them."""
    times = np.asarray(times, float)
    if not 1 <= len(lines) <= len(LINES):
        raise ValueError(f"A chart holds one to {len(LINES)} lines; there are {len(lines)}.")
    wrong = [one.name for one in lines if len(one.values) != len(times)]
    if wrong:
        raise ValueError(f"Each line needs a value for every time; look at: {', '.join(wrong)}.")
    return times


def _band(plot: Plot, place: int, one: Line) -> None:
    """The band that a line may lie in, with thin edges in the color of the line."""
    if one.low is None or one.high is None:
        return
    low, high = (np.asarray(v, float) for v in (one.low, one.high))
    both = np.isfinite(low) & np.isfinite(high)
    lower, upper = (plot.points(np.where(both, v, np.nan)) for v in (low, high))
    plot.sheet.group(data_band=one.name, opacity=0.6)
    for low_edge, high_edge in zip(lower, upper, strict=True):
        under, over = thinned(low_edge), thinned(high_edge)
        plot.sheet.poly([*over, *under[::-1]], FILLS[place], None)
        for edge in (under, over):
            plot.sheet.line(*edge, stroke=LINES[place][0], width=0.8)
    plot.sheet.end()


def _draw(plot: Plot, place: int, one: Line, path) -> None:
    """A line in the look of its place, through the points of its stretches."""
    use, dash, _ = LINES[place]
    dash = "" if dash == "solid" else dash.replace("px", "")
    plot.sheet.group(data_line=one.name)
    for stretch in map(thinned, path):
        if len(stretch) == 1:
            plot.sheet.circle(*stretch[0], 3.0, use, None)
        else:
            plot.sheet.line(*stretch, stroke=use, width=2.6, dash=dash)
        plot.sheet.keep_clear(stretch)
    plot.sheet.end()


def _name(plot: Plot, place: int, words: str, paths: list[list]) -> None:
    """The name of a line beside it, nearer to it than to any other line, wherever there is room.

    ``paths``: the points of every line.
    """
    found, size = paths[place], plot.sheet.size
    if not found:
        return
    many = len(found)
    top, foot = (f(range(many), key=lambda k: found[k][1]) for f in (min, max))
    order = [
        many - 1,
        *(round((many - 1) * part) for part in (0.85, 0.7, 0.5, 0.3, 0.1)),
        top,
        foot,
    ]
    spots = [
        (found[k][0], h, a)
        for away in (8.0, 16.0)
        for k in order
        for h in (found[k][1] - away, found[k][1] + away + 0.7 * size)
        for a in ("end", "middle", "start")
        if plot.y.end < h - 0.9 * size and h + 4 < plot.y.start
    ]
    tracks = [np.array(path).T if path else None for path in paths]
    near = [spot for spot in spots if _own(plot, tracks, place, spot, words)]
    if not plot.sheet.put(near, words, LINES[place][0], bold=True, clear=True):
        plot.unnamed.append(place)


def _own(plot: Plot, tracks, place: int, spot, words: str) -> bool:
    """Whether a name at a spot stands nearer to its own line than to any other."""
    if len(tracks) == 1:
        return True
    x, y, anchor = spot
    left, top, right, low = plot.sheet.box(x, y, words, anchor, bold=True)
    middle, height = (left + right) / 2, (top + low) / 2
    away = [
        np.inf if track is None else abs(float(np.interp(middle, *track)) - height)
        for track in tracks
    ]
    return all(away[place] < far for k, far in enumerate(away) if k != place)


def _foot(plot: Plot, lines: Sequence[Line]) -> None:
    """What found no room on the chart: names, each with its dash, and limits, a row each."""
    sheet, size = plot.sheet, plot.sheet.size
    down, at, base = size + 6, plot.x.start, sheet.height
    if plot.unnamed:
        sheet.height += down
    for place in plot.unnamed:
        use, dash, words = *LINES[place][:2], lines[place].name
        if at > plot.x.start and at + 32 + wide(words, size, bold=True) > sheet.width:
            at, base, sheet.height = plot.x.start, base + down, sheet.height + down
        y = base + size
        dash = "" if dash == "solid" else dash.replace("px", "")
        sheet.line((at, y - 4), (at + 26, y - 4), stroke=use, width=2.6, dash=dash)
        sheet.write(at + 30, y, words, use=use, bold=True)
        at += 46 + wide(words, size, bold=True)
    for words, use in plot.below:
        sheet.height += down
        sheet.write(sheet.width - 4, sheet.height - 5, words, "end", use)


def _moments(x_label: str) -> Callable[[float], str]:
    """Says a time by the first word of the axis: day 12, hour 6."""
    word = x_label.split(maxsplit=1)[0].removesuffix("s").rstrip(",")
    return lambda time: f"{word} {number(time)}"


def _sentence(plot: Plot, lines: Sequence[Line], unit: str, moment) -> str:
    """Where each line is highest and lowest."""
    told = []
    for one in lines:
        values = np.asarray(one.values, float)
        if not np.isfinite(values).any():
            told.append(f"{one.name} is not known")
            continue
        high, low = int(np.nanargmax(values)), int(np.nanargmin(values))
        ends = [
            f"{word}, {number(values[k])} {unit}".rstrip() + f", at {moment(float(plot.times[k]))}"
            for word, k in (("highest", high), ("lowest", low))
        ]
        told.append(f"{one.name} is {' and '.join(ends)}")
    return "; ".join(told) + "."


def _table(times, lines: Sequence[Line], x_label: str, unit: str, moment) -> tuple:
    """The numbers at times evenly spread, and where a line is highest or lowest."""
    places = set(np.linspace(0, len(times) - 1, SHOWN).round().astype(int).tolist())
    for one in lines:
        values = np.asarray(one.values, float)
        if np.isfinite(values).any():
            places |= {int(np.nanargmax(values)), int(np.nanargmin(values))}
    of = f", {unit}" if unit else ""
    rows = [(moment(float(times[k])), *(_cell(one, k) for one in lines)) for k in sorted(places)]
    return (x_label, *(one.name + of for one in lines)), rows


def _cell(one: Line, k: int) -> str:
    """A value with its band."""
    value = float(np.asarray(one.values, float)[k])
    if not np.isfinite(value):
        return "not known"
    if one.low is None or one.high is None:
        return number(value)
    return f"{number(value)} ({number(float(one.low[k]))} to {number(float(one.high[k]))})"
