"""The form of a section of a design: a frozen dataclass of choices."""

import dataclasses
import typing
from collections.abc import Callable

import numpy as np

Made = typing.TypeVar("Made")


@typing.dataclass_transform(frozen_default=True, field_specifiers=(dataclasses.field,))
def section() -> Callable[[type[Made]], type[Made]]:
    """The decorator of a section: frozen, equal to another with the same values, arrays included."""
    return _section


def _section(made: type[Made]) -> type[Made]:
    found = dataclasses.dataclass(frozen=True, slots=True, eq=False)(made)
    setattr(found, "__eq__", _equal)  # noqa: B010  (a method that is given, not overridden)
    setattr(found, "__hash__", _hash)  # noqa: B010
    return found


def _equal(one, other):
    if type(one) is not type(other):
        return NotImplemented
    names = type(one).__dataclass_fields__
    return all(_same(getattr(one, name), getattr(other, name)) for name in names)


def _same(value, other) -> bool:
    if isinstance(value, np.ndarray) or isinstance(other, np.ndarray):
        return np.array_equal(value, other)
    return value == other


def _hash(one) -> int:
    """Equal designs have one hash; a design that holds arrays has none, as arrays have none."""
    return hash(tuple(getattr(one, name) for name in type(one).__dataclass_fields__))
