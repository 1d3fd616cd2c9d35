"""Columns of a log of water tests, as what kits report, and what a heading says of both."""

import functools
import re
from dataclasses import dataclass

from .. import equations
from ..core.kinds import KINDS, Kind, Unit, to_plain
from ..core.tables import SourcedRow, read
from ..core.unit_words import plain, unit_named
from ..core.units import parse

CALENDAR = ("date", "time", "note")
"""Columns that hold no number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column(SourcedRow):
    """A column of a log: how it is headed, what it holds and what a cell may say."""

    name: str
    heading: str
    words: str
    kind: str
    unit: str
    low: str
    high: str
    exact: str
    label: str
    help: str
    hint: str
    task: str

    @property
    def quantity(self) -> Kind:
        """The kind of its numbers."""
        return KINDS[self.kind]

    @property
    def span(self) -> tuple[float, float]:
        """The lowest and the highest number that a cell may say, plain."""
        return _span(self.low, self.high, self.kind)

    @property
    def units(self) -> tuple[Unit, ...]:
        """The units of a number that is written without one; none where one must be told."""
        return _units(self.unit, self.kind)


@functools.cache
def _span(low: str, high: str, kind: str) -> tuple[float, float]:
    return parse(low, KINDS[kind]), parse(high, KINDS[kind])


@functools.cache
def _units(labels: str, kind: str) -> tuple[Unit, ...]:
    if not KINDS[kind].plain.label:
        return (KINDS[kind].plain,)
    return tuple(KINDS[kind].unit(label) for label in labels.split("|") if label)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reported(SourcedRow):
    """As what a kit reports a level: as nitrogen, as the ion, in degrees."""

    column: str
    name: str
    words: str
    relation: str
    unit: str
    label: str

    @property
    def factor(self) -> float:
        """What is reported for one of what the log keeps, both plain."""
        return _factor(self.relation)


@functools.cache
def _factor(relation: str) -> float:
    if not relation:
        return 1.0
    subject, name = relation.split(".")
    return float(getattr(getattr(equations, subject), name).__wrapped__(1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartRow(SourcedRow):
    """A colour chart of ``data/kits.csv``."""

    name: str
    column: str
    label: str
    steps: str
    spread: str


@dataclass(frozen=True, slots=True)
class Kit:
    """How a column was tested: as what it is reported, in which unit, and off which colours."""

    column: str
    reported: str = ""
    """A name of ``data/kit_bases.csv``; empty for a column that is reported one way."""
    told: bool = False
    """Whether the log or the person said as what it is reported."""
    unit: Unit | None = None
    """Unit of a bare number; None where every cell must tell its own."""
    steps: tuple[float, ...] = ()
    """Colours of the chart as printed, in rising order; empty where digits are read."""
    spread: float = 0.0
    """How far two readers are apart, a share of the reading."""

    @property
    def factor(self) -> float:
        """What is reported for one of what the log keeps."""
        return reported(self.column, self.reported).factor if self.reported else 1.0


@functools.cache
def columns() -> dict[str, Column]:
    """Every column of a log by its name, in the order in which they are written."""
    return {row.name: row for row in read("log_columns", Column)}


@functools.cache
def measured() -> tuple[str, ...]:
    """The names of the columns that hold numbers."""
    return tuple(name for name in columns() if name not in CALENDAR)


@functools.cache
def bases(column: str) -> tuple[Reported, ...]:
    """As what a column may be reported; the first is how the log keeps it."""
    return tuple(row for row in read("kit_bases", Reported) if row.column == column)


@functools.cache
def reported(column: str, name: str) -> Reported:
    """One way of reporting a column.  Raises ``KeyError`` with a sentence."""
    for row in bases(column):
        if row.name == name:
            return row
    raise KeyError(f"{name!r} is no way to report {column}; choose {_names(column)}.")


def _names(column: str) -> str:
    return ", ".join(row.name for row in bases(column)) or "none"


@functools.cache
def charts() -> dict[str, ChartRow]:
    """The colour charts by the column that they are read for."""
    return {row.column: row for row in read("kits", ChartRow)}


def chart_steps(column: str) -> tuple[float, ...]:
    """The colours of the chart of a column, as a kit prints them.

    >>> chart_steps("nitrate")
    (0.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0)
    """
    return tuple(float(step) for step in charts()[column].steps.split())


@functools.cache
def _beginnings() -> tuple[tuple[str, str], ...]:
    """Every word with which a heading may begin, and its column, longest first."""
    pairs = [
        (plain(word), column.name)
        for column in columns().values()
        for word in (*column.words.split("|"), column.label, column.name)
    ]
    return tuple(sorted(pairs, key=lambda pair: -len(pair[0])))


def column_of(heading: str) -> tuple[str, str] | None:
    """The column that a heading names, and what else the heading says; None for another one.

    >>> column_of("NO2-N, mg/L"), column_of("Temp (°F)"), column_of("weather")
    (('nitrite', '-n, mg/l'), ('temperature', '(°f)'), None)
    """
    text = plain(heading)
    for word, name in _beginnings():
        rest = text[len(word) :]
        if text.startswith(word) and not (rest and (rest[0].isalnum() or rest[0] == "_")):
            return name, rest.strip()
    return None


def kit_of(name: str, rest: str) -> tuple[Kit, str]:
    """The kit that the rest of a heading tells of, and the words in it that say nothing known.

    >>> kit, left = kit_of("nitrite", "(mg/l as ion, colour chart)")
    >>> kit.reported, kit.steps, left
    ('ion', (0.0, 0.25, 0.5, 1.0, 2.0, 5.0), '')
    """
    text, spread = rest, 0.0
    steps: tuple[float, ...] = ()
    chart = re.search(
        r"\b(?:read )?(?:off )?(?:a )?colou?rs?\b(?: (?:chart|kit|steps|card))?", text
    )
    if chart and name in charts():
        steps, spread = chart_steps(name), float(charts()[name].spread)
        text = text[: chart.start()] + text[chart.end() :]
    way, told, text = _way_in(name, text)
    unit, text = _unit_in(name, way, text)
    return Kit(name, way, told, unit, steps, spread), text


def _way_in(name: str, text: str) -> tuple[str, bool, str]:
    """As what a heading says that a column is reported, whether it says so, and the rest."""
    ways = bases(name)
    pairs = sorted(((word, row) for row in ways for word in row.words.split("|")),
                   key=lambda pair: -len(pair[0]))  # fmt: skip
    for word, row in pairs:
        found = re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z0-9])", text)
        if found:
            return row.name, True, text[: found.start()] + " " + text[found.end() :]
    return (ways[0].name if ways else ""), len(ways) < 2, text


def _unit_in(name: str, way: str, text: str) -> tuple[Unit | None, str]:
    """The unit that is left of a heading, and what is no unit."""
    column = columns()[name]
    bare = re.sub(r"[\s()\[\],;:]+", " ", text).strip().removeprefix("in ").strip()
    unit = unit_named(bare, column.quantity) if bare else None
    if unit is not None:
        return unit, ""
    if way and reported(name, way).unit == "":
        return Unit("", 1.0, ""), bare
    return (column.units[0] if len(column.units) == 1 else None), bare


def kept(kit: Kit, value: float, unit: Unit) -> float:
    """A number as a kit reports it, as the log keeps it.

    >>> kit = Kit("nitrate", "ion")
    >>> round(kept(kit, 44.27, KINDS["concentration"].unit("mg/L")) * 1e3, 2)
    10.0
    """
    return float(to_plain(value, unit)) / kit.factor
