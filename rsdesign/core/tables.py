"""Read the tables in ``data/``: one row class a table, SI inside, every row with its source.

A table is a CSV file.  Lines that start with ``#`` stand above its header: ``# unit COLUMN: UNIT``
for each number that has a unit, and words on where the table comes from.  The row class says the
kind of every number, so a wrong unit in a header is an error, not a silent factor.
"""

import csv
import functools
import typing
from dataclasses import dataclass, fields
from pathlib import Path

import numpy as np

from .folders import data_folder
from .kinds import Kind, UnitError
from .units import to_plain

BASES = ("seen", "derived", "computed", "common practice", "from memory", "invented")
"""Where a number may come from, said in the ``basis`` column of every row."""


class TableError(ValueError):
    """A table in ``data/`` that does not keep its own rules."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcedRow:
    """A row of a table, with where its numbers come from and for what they hold."""

    source: str
    place: str
    basis: str
    range: str


def read(name: str, row_class: type) -> tuple:
    """Every row of ``data/NAME.csv`` as a ``row_class``, numbers in the plain units of their kinds.

    ``name`` may hold a folder, such as ``published/water``.  Raises ``TableError`` naming the
    file, the line and the column.
    """
    return read_file(data_folder() / f"{name}.csv", row_class)


@functools.cache
def read_file(path: Path, row_class: type) -> tuple:
    """Every row of a CSV file as a ``row_class``; see ``read``."""
    with path.open(encoding="utf-8", newline="") as file:
        lines = file.read().splitlines()
    comments = [line for line in lines if line.startswith("#")]
    table = csv.DictReader(line for line in lines if line and not line.startswith("#"))
    columns = _columns(path, row_class, comments, table.fieldnames or ())
    rows = []
    for line, cells in enumerate(table, start=2):
        values = {}
        for name, convert in columns.items():
            try:
                values[name] = convert(cells[name])
            except (ValueError, TypeError, KeyError) as wrong:
                raise TableError(f"{path.name}, row {line}, column {name}: {wrong}") from None
        rows.append(row_class(**values))
    return tuple(rows)


def _columns(path: Path, row_class: type, comments: list[str], header) -> dict:
    """A converter for every field of the row class."""
    wanted = typing.get_type_hints(row_class, include_extras=True)
    missing = [f.name for f in fields(row_class) if f.name not in header]
    spare = [name for name in header if name not in wanted]
    if missing or spare:
        raise TableError(f"{path.name}: columns missing {missing}, not known {spare}")
    declared = {}
    for line in comments:
        if line.startswith("# unit ") and ":" in line:
            name, label = line.removeprefix("# unit ").split(":", 1)
            declared[name.strip()] = label.strip()
    return {name: _converter(path, name, wanted[name], declared.get(name)) for name in wanted}


def _converter(path: Path, name: str, annotation, label: str | None):
    kind = next((m for m in getattr(annotation, "__metadata__", ()) if isinstance(m, Kind)), None)
    optional = type(None) in typing.get_args(annotation)
    if kind is None:
        for part in typing.get_args(annotation):
            kind = next((m for m in getattr(part, "__metadata__", ()) if isinstance(m, Kind)), kind)
    if kind is None:
        plain = float if annotation is float else int if annotation is int else str
        return lambda text: plain(text.strip())
    if label is None and kind.plain.label:
        raise TableError(f"{path.name}: no '# unit {name}: …' line above the header")
    try:
        unit = kind.unit(label or "")
    except UnitError as wrong:
        raise TableError(f"{path.name}, column {name}: {wrong}") from None

    def convert(text: str):
        if optional and not text.strip():
            return None
        value = float(text)
        if not np.isfinite(value):
            raise ValueError(f"{text!r} is not a finite number")
        return to_plain(value, unit)

    return convert


def named(rows: tuple, name: str, what: str):
    """The row whose ``name`` is this one.

    Raises ``KeyError`` with a sentence listing the names there are.
    """
    for row in rows:
        if row.name == name:
            return row
    raise KeyError(f"{name!r} is not a {what}; there are {', '.join(r.name for r in rows)}")


@functools.cache
def first_column(name: str) -> tuple[str, ...]:
    """The names in the first column of ``data/NAME.csv``."""
    text = (data_folder() / f"{name}.csv").read_text(encoding="utf-8")
    rows = [line for line in text.splitlines() if line and not line.startswith("#")]
    return tuple(row.split(",", 1)[0].strip('"') for row in rows[1:])


@functools.cache
def names_in(folder: str) -> tuple[str, ...]:
    """The names of the tables in a folder of ``data/``."""
    found = (data_folder() / folder).glob("*.csv")
    return tuple(sorted(path.stem.replace("_", " ") for path in found))
