"""Read the tables of checks and of judged parts, and work out what their cells ask of a sizing.

A cell holds a number in the unit of its row, a path (``tank.depth`` is a figure,
``design.keep.oxygen`` a choice, ``tables.species.lethal_high`` a cell of another table), two of
them with ``*`` or ``/``, or the name of a computed figure.  A condition compares a path with a number or
a word, asks whether a choice is given, or names a truth value; ``and`` binds before ``or``.
"""

import functools
import operator
import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...core.kinds import KINDS, Kind
from ...core.tables import SourcedRow, TableError, read
from ...core.units import to_plain
from .computed import COMPUTED

FORMS = ("at least", "at most", "inside", "under", "over", "lives under", "lives over", "yes",
         "notice")  # fmt: skip
"""What a check may ask of its figure."""

LOW_FORMS = ("at least", "inside", "over", "lives over")
HIGH_FORMS = ("at most", "inside", "under", "lives under")

_OPERATORS = {
    "=": operator.eq,
    "!=": operator.ne,
    ">": operator.gt,
    ">=": operator.ge,
    "<=": operator.le,
}


@dataclass(frozen=True, slots=True)
class CheckRow(SourcedRow):
    """One check of ``data/checks.csv``: what is compared with what, what to do, and the source."""

    part: str
    label: str
    figure: str
    form: str
    low: str
    high: str
    kind: str
    unit: str
    when: str
    advice: str
    advice_above: str
    remark: str
    kept: str
    sized: str
    let_in: str

    def __post_init__(self):
        """Raises ``ValueError`` for a form that is not known or a limit that is missing."""
        if self.form not in FORMS:
            raise TableError(f"checks.csv, {self.label!r}: {self.form!r} is not a form: {FORMS}")
        if (self.form in LOW_FORMS and not self.low) or (self.form in HIGH_FORMS and not self.high):
            raise TableError(f"checks.csv, {self.label!r}: {self.form!r} needs a limit")

    @property
    def quantity(self) -> Kind:
        """The kind of the figure and its limits."""
        return KINDS[self.kind]

    def limit(self, sizing, cell: str):
        """The value of a cell of this row, such as ``low``, in plain SI; None where it is empty."""
        return _limit(sizing, cell, self.kind, self.unit)


@dataclass(frozen=True, slots=True)
class PartRow(SourcedRow):
    """One judged part: its need and what is there, as paths, and whether the user gave it."""

    name: str
    label: str
    kind: str
    form: str
    required: str
    provided: str
    rule: str
    owned: str
    capacity: str
    when: str
    remark: str


def check_rows() -> tuple[CheckRow, ...]:
    """Every check, in the order in which they are judged."""
    return read("checks", CheckRow)


def part_rows() -> tuple[PartRow, ...]:
    """Every part that has a margin."""
    return read("judged_parts", PartRow)


def _limit(sizing, cell: str, kind: str, unit: str):
    if not cell:
        return None
    number = _number(cell)
    if number is not None:
        return to_plain(number, KINDS[kind].unit(unit))
    return value(sizing, cell)


@functools.cache
def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def value(sizing, cell: str) -> Any:
    """The value of a path, a computed name, a number, or two of them with ``*`` or ``/``."""
    first, *rest = cell.split()
    result = _operand(sizing, first)
    if not rest:
        return result
    other = _operand(sizing, rest[1])
    return result * other if rest[0] == "*" else result / other


def _operand(sizing, text: str) -> Any:
    if text in COMPUTED:
        return COMPUTED[text](sizing)
    number = _number(text)
    return functools.reduce(getattr, text.split("."), sizing) if number is None else number


def holds(sizing, condition: str) -> Any:
    """Whether a condition holds, or an array of answers; an empty one always does."""
    if not condition:
        return True
    answers = (
        functools.reduce(operator.and_, (_compared(sizing, one) for one in each.split(" and ")))
        for each in condition.split(" or ")
    )
    return functools.reduce(operator.or_, answers)


def _compared(sizing, text: str) -> Any:
    if text == "always":
        return True
    if " " not in text:
        return value(sizing, text)
    path, word, *rest = text.split(" ", 2)
    if text == f"{path} given":
        return value(sizing, path) is not None
    if text == f"{path} not given":
        return value(sizing, path) is None
    number = _number(rest[0])
    return _OPERATORS[word](value(sizing, path), rest[0] if number is None else number)


def applies(sizing, condition: str) -> bool:
    """Whether a check applies: where its condition holds for any of the designs."""
    return bool(np.any(holds(sizing, condition)))


NAMED = re.compile(r"\{([^{}:]+)(?::([^{}]+))?\}")
"""A value to put into words: its path, and its kind where it is a quantity."""
