"""Numbers with units, at the edge: read what people type, show what people read, meet pint.

The kinds and their closed lists of units are in ``kinds``; formula modules import from there and
never from here.  pint is imported when the first ``Quantity`` is made or met, and its registry is
pint's application registry, so that quantities made elsewhere in a session fit.
"""

import functools
import math
import re
import sys

import numpy as np

from .kinds import FAMILIES, KINDS, Kind, Number, Unit, UnitError
from .typed_numbers import clipped, number_at, second_part
from .unit_words import unit_named

SYSTEMS = ("us", "metric")
"""The two display systems: US customary and metric."""
LARGEST_WRITTEN = 15
"""Numbers with more digits than this are written with a power of ten."""


def parse(text: str, kind: Kind, bare: Unit | None = None) -> float:
    """A typed number with its unit, as the plain number of its kind.

    Parameters: ``text`` such as ``"40 lb/week"``, ``"6 ft 6 1/2 in"`` or ``"1,570 gal"``; ``kind``
    from ``kinds.KINDS``; ``bare``, the unit of a number that is written without one.  What may mean
    two numbers is asked about.  Raises ``UnitError`` with one sentence that says what to write.

    >>> round(parse("3 ft", KINDS["length"]), 4), parse("4 1/2", KINDS["length"], Unit("m", 1.0, ""))
    (0.9144, 4.5)
    """
    shown = clipped(text)
    typed = number_at(text, kind)
    if kind.family == "count":
        _not_whole(typed, shown, text)
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


def _not_whole(typed, shown: str, text) -> None:
    """Refuse a count whose comma or point may part thousands or decimals."""
    digits = re.match(r"[\s+-]*(\d+[.,]\d+)(?![\d.,])", str(text))
    if digits is None:
        return
    odd = "," in digits[1] or re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", digits[1])
    if odd and not (typed.value.is_integer() and "," in digits[1]):
        decimal, whole = digits[1].replace(",", "."), re.sub("[.,]", "", digits[1])
        raise UnitError(f"{shown} could mean two numbers: write {decimal} or {whole}.")


def example(kind: Kind) -> str:
    """A sentence that shows how a value of this kind is written."""
    us, metric = kind.shown("us").label, kind.shown("metric").label
    if not us and not metric:
        return "Write a bare number, for example 7."
    if us == metric:
        return f"Write a number and a unit, for example '7 {us}'."
    return f"Write a number and a unit, for example '7 {us}' or '7 {metric}'."


def to_plain(value, unit: Unit):
    """A number in a typed unit as the plain number of its kind."""
    return value * unit.factor + unit.offset


def from_plain(value, unit: Unit):
    """A plain number as the number in a typed unit."""
    return (value - unit.offset) / unit.factor


def number(value: Number, figures: int = 3) -> str:
    """A number to so many significant figures, as a person writes it.

    >>> number(2256.3), number(0.05), number(7.4)
    ('2,260', '0.05', '7.4')
    """
    value = float(value)
    if not np.isfinite(value):
        return "none" if np.isnan(value) else ("-∞" if value < 0 else "∞")
    if value == 0:
        return "0"
    size = int(np.floor(np.log10(abs(value))))
    rounded = round(value, figures - 1 - size)
    size = int(np.floor(np.log10(abs(rounded)))) if rounded else size
    if not -5 < size < LARGEST_WRITTEN:
        return f"{rounded:.{figures - 1}e}"
    text = f"{rounded:,.{max(0, figures - 1 - size)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def digits(value, kind: Kind, system: str = "us", figures: int = 3) -> str:
    """A plain number as text without its unit, in a display system; animals are whole.

    >>> digits(69.4, KINDS["animals"]), digits(210.5, KINDS["animals"]), digits(2256.3, KINDS["count"])
    ('69', '211', '2,260')
    """
    value = from_plain(value, kind.shown(system))
    if kind.name == "animals" and 0 <= value < 1e9:
        return f"{np.floor(value + 0.5):,.0f}"
    return number(value, figures)


def show(value, kind: Kind, system: str = "us", figures: int = 3) -> str:
    """A plain number as text with its unit, in a display system.

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

    >>> feet_and_inches(0.8128), feet_and_inches(3.048)
    ('2 ft 8 in', '10 ft')
    """
    quarters = round(metres / 0.0254 * 4)
    feet, left = divmod(quarters, 48)
    inches = f"{left // 4}" + {0: "", 1: " 1/4", 2: " 1/2", 3: " 3/4"}[left % 4]
    parts = [f"{feet:,} ft" if feet else "", f"{inches.strip()} in" if left else ""]
    return " ".join(part for part in parts if part) or "0 ft"


def in_system(value, kind: Kind, system: str):
    """A plain number as (number, unit label) in a display system."""
    unit = kind.shown(system)
    return from_plain(value, unit), unit.label


# --- pint, met only here -------------------------------------------------------------------


def registry():
    """pint's application registry, imported when first asked for."""
    import pint  # noqa: PLC0415  (light import of the package)

    return pint.application_registry.get()


def quantity(value, unit: str | Unit):
    """A pint quantity from a number and a unit label of the closed lists.

    >>> round(quantity(3, "ft").to("meter").magnitude, 6)
    0.9144
    """
    if not isinstance(unit, Unit):
        unit = _any_unit(unit)
    return registry().Quantity(value, unit.pint or "dimensionless")


def _any_unit(label: str) -> Unit:
    for kind in KINDS.values():
        try:
            return kind.unit(label)
        except UnitError:
            continue
    raise UnitError(f"{clipped(label)} is not a unit this package knows.")


def __getattr__(name: str):
    """``units.Quantity`` and ``units.ureg``, imported when first used."""
    if name == "Quantity":
        return registry().Quantity
    if name == "ureg":
        return registry()
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def is_quantity(value) -> bool:
    """Whether a value is a pint quantity, without importing pint to ask."""
    pint = sys.modules.get("pint")
    return pint is not None and isinstance(value, pint.Quantity)


@functools.cache
def _listed(family: str) -> dict:
    """The units of the closed lists by what pint calls them."""
    return {registry().Unit(unit.pint): unit for unit in FAMILIES[family] if unit.pint}


def _is_reading(value) -> bool:
    """Whether a quantity is on a scale without an absolute zero, such as degrees Fahrenheit."""
    import pint  # noqa: PLC0415

    try:
        return str((value - value).units) != str(value.units)
    except pint.OffsetUnitCalculusError:
        return True


def from_quantity(value, kind: Kind, name: str):
    """A pint quantity as the plain number of a kind.

    Raises ``UnitError`` naming the argument and a unit that would do.  A temperature and a
    difference of temperatures are different kinds, though both are measured in degrees.
    """
    import pint  # noqa: PLC0415

    would_do = kind.shown("us").label or kind.plain.label or "a bare number"
    if not isinstance(value, registry().Quantity):  # made by a registry of the reader's own
        try:
            value = registry().Quantity(value.magnitude, format(value.units, "D"))
        except pint.UndefinedUnitError as wrong:
            raise UnitError(f"{name}: {wrong}; give it in {would_do}, for example.") from None
    units = str(value.units)
    if kind.family == "money":
        raise UnitError(f"{name} is money: give a plain number in the design's currency.")
    if kind.family == "temperature" and "delta_" in units:
        raise UnitError(
            f"{name} is a temperature, but {value} is a difference of temperatures:"
            f" give it in {would_do}, as a reading."
        )
    if kind.family == "temperature difference" and _is_reading(value):
        raise UnitError(
            f"{name} is a difference of temperatures, but {value} is a reading:"
            f" give it in {would_do}."
        )
    same = _listed(kind.family).get(value.units)
    if same is not None:  # by the factor of the closed lists: "3 ft" and 3 * ureg.ft are one number
        return to_plain(value.magnitude, same)
    try:
        return value.to(kind.plain.pint or "dimensionless").magnitude
    except pint.DimensionalityError:
        raise UnitError(
            f"{name} is a {kind.name}, but {value.units} is not a unit of that:"
            f" give it in {would_do}, for example."
        ) from None


def to_quantity(value, kind: Kind):
    """A plain number of a kind as a pint quantity."""
    if kind.family == "money":
        return value
    return registry().Quantity(value, kind.plain.pint or "dimensionless")


__all__ = [
    "FAMILIES",
    "KINDS",
    "SYSTEMS",
    "Kind",
    "Unit",
    "UnitError",
    "clipped",
    "digits",
    "example",
    "feet_and_inches",
    "from_plain",
    "from_quantity",
    "in_system",
    "is_quantity",
    "number",
    "parse",
    "quantity",
    "registry",
    "show",
    "to_plain",
    "to_quantity",
]
