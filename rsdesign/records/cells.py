"""A cell of a log: the number that was typed, and between what and what it stands."""

import itertools
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from ..core.kinds import Unit, UnitError, from_plain
from ..core.typed_numbers import Typed, clipped, number_at, second_part, tidied
from ..core.unit_words import plain, unit_named
from ..core.units import number
from .columns import Column, Kit, columns, kept

MISSING = frozenset(("", "-", "--", "---", "n/a", "na", "nan", ".", "..."))
"""What stands for a test that was not done, once dashes are of one kind."""
_BELOW = re.compile(r"(?:<=?|≤|below|under|less than)\s*")
_ABOVE = re.compile(r"(?:>=?|≥|above|over|more than)\s*")
_ABOUT = re.compile(r"(?:~|≈|±|about|approx\.?|ca\.?)\s*")
_SPAN = re.compile(r"([\d.,]+)\s*(?:-|to|\.\.)\s*([\d.,]+)(\D*)")


@dataclass(frozen=True, slots=True)
class Reading:
    """What a cell says, as the log keeps it; ``low`` and ``high`` are the ends between which it stands."""

    value: float
    low: float
    high: float


def is_missing(text: str) -> bool:
    """Whether a cell says that nothing was measured.

    >>> is_missing(" – "), is_missing("0"), is_missing("none")
    (True, False, False)
    """
    return tidied(text).replace("—", "-").lower() in MISSING


def decimal_mark(texts: Iterable[str]) -> str:
    """The mark before decimals in a log, by the cells that can be read in one way only.

    Parameters:
        texts: the cells of numbers.
    Returns: "," or "."; nothing where no cell decides.

    >>> decimal_mark(["7,2", "0,25", "1,250"]), decimal_mark(["7.2", "1,250"]), decimal_mark(["1,250"])
    (',', '.', '')
    """
    commas = points = 0
    for text in texts:
        for found in re.findall(r"(?<![\d.,])\d+[.,]\d+(?![\d.,])", text):
            whole, tail = re.split("[.,]", found)
            if len(tail) != 3 or whole == "0" or len(whole) > 3:
                commas += "," in found
                points += "." in found
    return "," if commas > points else "." if points > commas else ""


def read_cell(text: str, kit: Kit, mark: str = "") -> Reading:
    """What a cell of a column says.  Raises ``UnitError`` with the end of a sentence.

    Parameters:
        text: as typed, such as ``"0.25"``, ``"<0,25"``, ``">80"``, ``"20-40"`` or ``"82 °F"``.
        kit: how the column was tested.
        mark: before decimals in this log, "," or "."; nothing where that is not known.
    Returns: the ``Reading``, plain, as nitrogen and as calcium carbonate.

    >>> from rsdesign.records.columns import Kit, KINDS
    >>> mg = KINDS["concentration"].unit("mg/L")
    >>> found = read_cell("<0.25", Kit("tan", "N", unit=mg))
    >>> [round(x * 1e3, 4) for x in (found.value, found.low, found.high)]
    [0.125, 0.0, 0.25]
    """
    column = columns()[kit.column]
    typed = plain(tidied(text))
    for pattern, side in ((_BELOW, "below"), (_ABOVE, "above"), (_ABOUT, "")):
        found = pattern.match(typed)
        if found:
            inner = tidied(text)[found.end() :]
            value, _, unit = _number(inner, column, kit, mark)
            return _one_sided(value, side, kit, unit) if side else _exact(inner, kit, mark)
    span = _SPAN.fullmatch(typed)
    if span and span[1][:1].isdigit():
        low, _, unit = _number(span[1] + span[3], column, kit, mark)
        high, _, _ = _number(span[2] + span[3], column, kit, mark)
        if low >= high:
            raise UnitError(f"{clipped(text)} starts above its end; write the lower number first")
        ends = kept(kit, low, unit), kept(kit, high, unit)
        return Reading(sum(ends) / 2.0, *ends)
    return _exact(text, kit, mark)


def _one_sided(value: float, side: str, kit: Kit, unit: Unit) -> Reading:
    bound = kept(kit, value, unit)
    if side == "above":
        return Reading(bound, bound, math.inf)
    floor = min(columns()[kit.column].span[0], bound)
    return Reading((floor + bound) / 2.0, floor, bound)


def _exact(text: str, kit: Kit, mark: str) -> Reading:
    column = columns()[kit.column]
    value, step, unit = _number(text, column, kit, mark)
    if column.exact and not value.is_integer():
        raise UnitError(f"{clipped(text)} is no whole number; count whole fish")
    if kit.steps:
        low, high = colour_edges(value, kit.steps)
    else:
        half = 0.0 if column.exact else step / 2.0
        low, high = value - half, value + half
    low = low if not math.isfinite(low) else kept(kit, low, unit)
    high = high if not math.isfinite(high) else kept(kit, high, unit)
    found = kept(kit, value, unit)
    return Reading(found, min(max(low, column.span[0]), found), high)


def colour_edges(value: float, steps: tuple[float, ...]) -> tuple[float, float]:
    """Between what and what a colour stands: half way to its neighbours; the last one has no end.

    Parameters:
        value: what was read off the chart, 0 or more.
        steps: the colours of the chart, in rising order and in the same unit.
    Returns: the lower and the upper end.  Between two colours they are the two colours.

    >>> colour_edges(0.25, (0.0, 0.25, 0.5, 1.0)), colour_edges(0.7, (0.0, 0.25, 0.5, 1.0))
    ((0.125, 0.375), (0.5, 1.0))
    """
    edges = [steps[0], *((a + b) / 2.0 for a, b in itertools.pairwise(steps)), math.inf]
    for place, step in enumerate(steps):
        if math.isclose(value, step, rel_tol=1e-6, abs_tol=1e-12):
            return edges[place], edges[place + 1]
    above = int(np.searchsorted(steps, value))
    if above == len(steps):
        return value, math.inf
    return (steps[above - 1] if above else 0.0), steps[above]


def _number(text: str, column: Column, kit: Kit, mark: str) -> tuple[float, float, Unit]:
    """The number of a cell, the step of its last digit, and its unit."""
    typed = number_at(text)
    pair = second_part(typed.rest, column.quantity) if typed.whole else None
    second = pair[0] * pair[2].factor / pair[1].factor if pair else 0.0
    unit = pair[1] if pair else _unit(typed, text, column, kit)
    value = _chosen(typed, text, column, kit, unit, mark)
    if second:
        value = math.copysign(abs(value) + second, value)
    low, high = column.span
    plain_value = kept(kit, value, unit)
    if not low - 1e-12 <= plain_value <= high * (1.0 + 1e-9):
        ends = [number(from_plain(end * kit.factor, unit), 4) for end in (low, high)]
        label = f" {unit.label}" if unit.label else ""
        raise UnitError(f"{clipped(text)} is not from {ends[0]} to {ends[1]}{label}. {column.hint}")
    return value, _step(text, typed, value), unit


def _unit(typed: Typed, text: str, column: Column, kit: Kit) -> Unit:
    """The unit of a cell: its own, or that of the heading."""
    if typed.rest:
        unit = unit_named(typed.rest, column.quantity)
        if unit is None:
            shown = column.quantity.plain.label and ", ".join(
                dict.fromkeys(column.quantity.shown(s).label for s in ("us", "metric"))
            )
            raise UnitError(f"{clipped(text)} cannot be read: {clipped(typed.rest)} is no unit of"
                            f" {column.label}" + (f"; write such as {shown}" if shown else ""))  # fmt: skip
        return unit
    if kit.unit is None:
        shown = " or ".join(column.quantity.shown(s).label for s in ("us", "metric"))
        raise UnitError(
            f"{clipped(text)} has no unit, nor has the heading; write {shown} in the heading"
        )
    return kit.unit


def _chosen(typed: Typed, text: str, column: Column, kit: Kit, unit: Unit, mark: str) -> float:
    """The reading of a number that may be two, such as 1,250, by the log and by what the column holds."""
    if typed.other is None:
        return typed.value
    if mark:
        as_decimals = mark in text
        return typed.value if as_decimals == ("," not in text) else typed.other
    low, high = column.span
    fits = [v for v in (typed.value, typed.other) if low <= kept(kit, v, unit) <= high]
    if len(fits) == 1 or "." in text:
        return fits[0] if len(fits) == 1 else typed.value
    raise UnitError(
        f"{clipped(text)} may be {number(typed.value, 7)} or {number(typed.other, 7)}; write it without a comma"
    )


def _step(text: str, typed: Typed, value: float) -> float:
    """What one more in the last digit would be; a fraction's step is one of its parts."""
    written = tidied(text)
    fraction = re.search(r"\d+\s?/\s?(\d+)", written)
    if fraction:
        return 1.0 / int(fraction[1])
    found = re.match(r"[^\d]*([\d.,]+)", written)
    tail = re.search(r"[.,](\d+)$", found[1].rstrip(".,")) if found else None
    if tail is None or (abs(value) >= 1000.0 and float(value).is_integer()):
        return 1.0
    return 10.0 ** -len(tail[1])
