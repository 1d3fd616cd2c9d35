"""Numbers with units, at the edge: read what people type, show what people read, meet pint.

The kinds and their closed lists of units are in ``kinds``; formula modules import from there and
never from here.  pint is imported when the first ``Quantity`` is made or met, and its registry is
pint's application registry, so that quantities made elsewhere in a session fit.
"""

import math

import numpy as np

from .kinds import FAMILIES, KINDS, Kind, Number, Unit, UnitError, from_plain, to_plain
from .quantities import from_quantity, is_quantity, quantity, registry, to_quantity
from .typed_numbers import check_count, clipped, number_at, second_part
from .unit_words import unit_named

SYSTEMS = ("us", "metric")
"""The two display systems: US customary and metric."""
LARGEST_WRITTEN = 15
"""Numbers with more digits than this are written with a power of ten."""


def parse(text: str, kind: Kind, bare: Unit | None = None) -> float:
    """A typed number with its unit, as the plain number of its kind.

    Parameters:
        text: what was typed, such as ``"40 lb/week"``, ``"6 ft 6 1/2 in"`` or ``"1,570 gal"``.
        kind: what sort of quantity it is, from ``KINDS``.
        bare: the unit of a number that is written without one; None refuses such a number.
    Returns: the number in the plain (SI) unit of the kind.
    Raises: ``UnitError``, one sentence that says what to write; what may mean two numbers is asked about.

    >>> round(parse("3 ft", KINDS["length"]), 4), parse("4 1/2", KINDS["length"], Unit("m", 1.0, ""))
    (0.9144, 4.5)
    """
    shown = clipped(text)
    typed = number_at(text, kind)
    if kind.family == "count":
        check_count(typed, text)
    if not typed.rest and bare is not None:
        return to_plain(typed.value, bare)
    if not typed.rest and kind.plain.label:
        raise UnitError(f"{shown} has no unit. {example(kind)}")
    pair = second_part(typed.rest, kind) if kind.family in _TOGETHER else None
    if pair:
        if not typed.whole:
            raise UnitError(f"{shown} has a part of a {pair[1].label} twice; write it in one unit.")
        more, first, second = pair
        return math.copysign(abs(typed.value) * first.factor + more * second.factor, typed.value)
    unit = unit_named(typed.rest, kind) or kind.unit(typed.rest)
    return to_plain(typed.value, unit)


_TOGETHER = ("length", "mass", "time")
"""Families in which two units are written one after the other."""


def example(kind: Kind) -> str:
    """A sentence that shows how a value of this kind is written.

    Parameters:
        kind: what sort of quantity, from ``KINDS``.
    Returns: the sentence.

    >>> example(KINDS["length"])
    "Write a number and a unit, for example '7 ft' or '7 m'."
    """
    us, metric = kind.shown("us").label, kind.shown("metric").label
    if not us and not metric:
        return "Write a bare number, for example 7."
    if us == metric:
        return f"Write a number and a unit, for example '7 {us}'."
    return f"Write a number and a unit, for example '7 {us}' or '7 {metric}'."


def number(value: Number, figures: int = 3) -> str:
    """A number to so many significant figures, as a person writes it.

    Parameters:
        value: a number without a unit; any range, infinity and NaN included.
        figures: significant figures [-], 1 to 15.
    Returns: the text.

    >>> number(2256.3), number(0.05), number(7.4)
    ('2,260', '0.05', '7.4')
    """
    value = float(value)
    if not math.isfinite(value):
        return "none" if math.isnan(value) else ("-∞" if value < 0 else "∞")
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    rounded = round(value, figures - 1 - size)
    size = math.floor(math.log10(abs(rounded))) if rounded else size
    if not -5 < size < LARGEST_WRITTEN:
        return f"{rounded:.{figures - 1}e}"
    text = f"{rounded:,.{max(0, figures - 1 - size)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def digits(value, kind: Kind, system: str = "us", figures: int = 3) -> str:
    """A plain number as text without its unit, in a display system; animals are whole.

    Parameters:
        value: a number in the plain (SI) unit of the kind; any range.
        kind: what sort of quantity, from ``KINDS``.
        system: "us" or "metric", the unit in which it is shown.
        figures: significant figures [-], 1 to 15.
    Returns: the text.

    >>> digits(69.4, KINDS["animals"]), digits(210.5, KINDS["animals"]), digits(2256.3, KINDS["count"])
    ('69', '211', '2,260')
    """
    value = from_plain(value, kind.shown(system))
    if kind.name == "animals" and 0 <= value < 1e9:
        return f"{np.floor(value + 0.5):,.0f}"
    return number(value, figures)


def show(value, kind: Kind, system: str = "us", figures: int = 3) -> str:
    """A plain number as text with its unit, in a display system.

    Parameters:
        value: a number in the plain (SI) unit of the kind; any range.
        kind: what sort of quantity, from ``KINDS``.
        system: "us" or "metric", the unit in which it is shown.
        figures: significant figures [-], 1 to 15.
    Returns: the text.

    >>> show(8.54, KINDS["volume"], "us"), show(8.54, KINDS["volume"], "metric")
    ('2,260 gal', '8.54 m³')
    """
    unit = kind.shown(system)
    text = digits(value, kind, system, figures)
    if not unit.label:
        return text
    return f"{text}%" if unit.label == "%" else f"{text} {unit.label}"


def feet_and_inches(metres: float) -> str:
    """A length as a builder reads it off a tape, to the quarter of an inch.

    Parameters:
        metres: a length [m], 0 or more.
    Returns: the text.  Source: the inch is 0.0254 m (definition).

    >>> feet_and_inches(0.8128), feet_and_inches(3.048)
    ('2 ft 8 in', '10 ft')
    """
    quarters = round(metres / 0.0254 * 4)
    feet, left = divmod(quarters, 48)
    inches = f"{left // 4}" + {0: "", 1: " 1/4", 2: " 1/2", 3: " 3/4"}[left % 4]
    parts = [f"{feet:,} ft" if feet else "", f"{inches.strip()} in" if left else ""]
    return " ".join(part for part in parts if part) or "0 ft"


def in_system(value, kind: Kind, system: str):
    """A plain number as a number and its unit label in a display system.

    Parameters:
        value: a number or an array in the plain (SI) unit of the kind; any range.
        kind: what sort of quantity, from ``KINDS``.
        system: "us" or "metric".
    Returns: the number shown, and the label of its unit.

    >>> in_system(3.0, KINDS["length"], "metric")
    (3.0, 'm')
    """
    unit = kind.shown(system)
    return from_plain(value, unit), unit.label


def __getattr__(name: str):
    """``units.Quantity`` and ``units.ureg``, imported when first used."""
    if name == "Quantity":
        return registry().Quantity
    if name == "ureg":
        return registry()
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


__all__ = [
    "FAMILIES", "KINDS", "SYSTEMS", "Kind", "Unit", "UnitError", "clipped", "digits", "example",
    "feet_and_inches", "from_plain", "from_quantity", "in_system", "is_quantity", "number", "parse",
    "quantity", "registry", "show", "to_plain", "to_quantity",
]  # fmt: skip
