"""What the section classes share: the dataclass form, names read from tables, common sources."""

import functools
import typing
from collections.abc import Callable
from dataclasses import dataclass

from ...core import tables

RULE = "common practice"
MEMORY = "from memory"

T = typing.TypeVar("T")


@typing.dataclass_transform(frozen_default=True, eq_default=False)
def section() -> Callable[[type[T]], type[T]]:
    """Make a frozen dataclass of the choices of one section of a design."""
    return dataclass(frozen=True, slots=True, eq=False)  # fields may be arrays: no ==


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
