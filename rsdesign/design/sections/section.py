"""The form of a section of a design: a frozen dataclass of choices, and names read from tables."""

import dataclasses
import functools
import typing
from collections.abc import Callable

import numpy as np

from ...core import tables

RULE = "common practice"
MEMORY = "from memory"

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


def names(table: str):
    """A function that reads the names in the first column of a table."""

    @functools.cache
    def read() -> tuple[str, ...]:
        text = (tables.data_folder() / f"{table}.csv").read_text(encoding="utf-8")
        rows = [line for line in text.splitlines() if line and not line.startswith("#")]
        return tuple(row.split(",", 1)[0].strip('"') for row in rows[1:])

    return read


def files(folder: str):
    """A function that reads the names of the tables in a folder of ``data/``."""

    @functools.cache
    def read() -> tuple[str, ...]:
        found = (tables.data_folder() / folder).glob("*.csv")
        return tuple(sorted(path.stem.replace("_", " ") for path in found))

    return read
