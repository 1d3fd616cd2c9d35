"""Plain numbers from pint quantities and back; pint is imported when the first one is made or met."""

import functools
import sys

from .kinds import FAMILIES, KINDS, Kind, Unit, UnitError, to_plain
from .typed_numbers import clipped


def registry():
    """pint's application registry, imported when first asked for.

    Returns: the registry, which quantities made elsewhere in a session fit too.

    >>> str(registry().Quantity(3, "ft"))
    '3 foot'
    """
    import pint  # noqa: PLC0415  (light import of the package)

    return pint.application_registry.get()


def quantity(value, unit: str | Unit):
    """A pint quantity from a number and a unit label of the closed lists.

    Parameters:
        value: a number or an array in ``unit``; any range.
        unit: a label such as ``"gpm/ft²"``, or a ``Unit``.
    Returns: the quantity.
    Raises: ``UnitError`` for a label that is on no list.

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


def is_quantity(value) -> bool:
    """Whether a value is a pint quantity, without importing pint to ask.

    Parameters:
        value: anything.
    Returns: True or False.

    >>> is_quantity(3.0), is_quantity(quantity(3, "ft"))
    (False, True)
    """
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

    A temperature and a difference of temperatures are different kinds, though both are in degrees.

    Parameters:
        value: the quantity, one number or an array; any range.
        kind: what sort of quantity is wanted, from ``KINDS``.
        name: the argument, as an error names it.
    Returns: the number in the plain (SI) unit of the kind.
    Raises: ``UnitError`` naming the argument and a unit that would do.

    >>> round(from_quantity(quantity(3, "ft"), KINDS["length"], "depth"), 4)
    0.9144
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
    """A plain number of a kind as a pint quantity; money stays a plain number.

    Parameters:
        value: a number or an array in the plain (SI) unit of the kind; any range.
        kind: what sort of quantity, from ``KINDS``.
    Returns: the quantity.

    >>> str(to_quantity(3.0, KINDS["length"]))
    '3.0 meter'
    """
    if kind.family == "money":
        return value
    return registry().Quantity(value, kind.plain.pint or "dimensionless")
