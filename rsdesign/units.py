"""Numbers with units, at the edge: read what people type, show what people read, meet pint.

The kinds and their closed lists of units are in ``kinds``; formula modules import from there and
never from here.  pint is imported when the first ``Quantity`` is made or met, and its registry is
pint's application registry, so that quantities made elsewhere in a session fit.
"""

import re
import sys

import numpy as np

from .kinds import FAMILIES, KINDS, Kind, Unit, UnitError

SYSTEMS = ("us", "metric")
"""The two display systems: US customary and metric."""

_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
_LONGEST = 80


def parse(text: str, kind: Kind) -> float:
    """A typed number with its unit, as the plain number of its kind.

    Parameters: ``text`` such as ``"40 lb/week"`` or ``"82 °F"``; ``kind`` from ``kinds.KINDS``.
    Only a point marks decimals here, because ``1,500`` means two different numbers to two people.
    Raises ``UnitError`` with one sentence that says what to write instead.

    >>> round(parse("3 ft", KINDS["length"]), 4)
    0.9144
    """
    shown = clipped(text)
    stripped = text.strip().replace("−", "-")
    if len(stripped) > _LONGEST:
        raise UnitError(f"{shown} is too long for a number and its unit.")
    match = _NUMBER.match(stripped)
    if not match:
        raise UnitError(f"{shown} does not start with a number. {example(kind)}")
    rest = stripped[match.end() :].strip()
    if rest.startswith(","):
        with_point = stripped.replace(",", ".", 1)
        without = stripped.replace(",", "")
        raise UnitError(
            f"{shown} has a comma, which could mean two numbers: write {clipped(with_point)}"
            f" or {clipped(without)}."
        )
    if not rest and kind.plain.label:
        raise UnitError(f"{shown} has no unit. {example(kind)}")
    unit = kind.unit(rest)
    value = float(match.group())
    if not np.isfinite(value):
        raise UnitError(f"{shown} is not a finite number. {example(kind)}")
    return to_plain(value, unit)


def example(kind: Kind) -> str:
    """A sentence that shows how a value of this kind is written."""
    us, metric = kind.shown("us").label, kind.shown("metric").label
    if not us and not metric:
        return "Write a bare number, for example 7."
    if us == metric:
        return f"Write a number and a unit, for example '7 {us}'."
    return f"Write a number and a unit, for example '7 {us}' or '7 {metric}'."


def clipped(value: object, most: int = 40) -> str:
    """A value as it is repeated in a message: quoted, printable, never long."""
    text = "".join(c if c.isprintable() else "�" for c in str(value)[: most + 1])
    return f"'{text[:most]}…'" if len(text) > most else f"'{text}'"


def to_plain(value, unit: Unit):
    """A number in a typed unit as the plain number of its kind."""
    return value * unit.factor + unit.offset


def from_plain(value, unit: Unit):
    """A plain number as the number in a typed unit."""
    return (value - unit.offset) / unit.factor


def number(value: float, figures: int = 3) -> str:
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
    if not -5 < size < 9:
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


def from_quantity(value, kind: Kind, name: str):
    """A pint quantity as the plain number of a kind.

    Raises ``UnitError`` naming the argument and a unit that would do.  A temperature and a
    difference of temperatures are different kinds, though both are measured in degrees.
    """
    import pint  # noqa: PLC0415

    would_do = kind.shown("us").label or kind.plain.label or "a bare number"
    units = str(value.units)
    if kind.family == "money":
        raise UnitError(f"{name} is money: give a plain number in the design's currency.")
    if kind.family == "temperature" and "delta_" in units:
        raise UnitError(
            f"{name} is a temperature, but {value} is a difference of temperatures:"
            f" give it in {would_do}, as a reading."
        )
    if kind.family == "temperature difference" and not value._is_multiplicative:
        raise UnitError(
            f"{name} is a difference of temperatures, but {value} is a reading:"
            f" give it in {would_do}."
        )
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
