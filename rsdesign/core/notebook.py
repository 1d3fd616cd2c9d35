"""Results as a notebook shows them: tables in HTML without anything from outside, and quantities.

Every text is escaped.  Nothing here knows of designs; what a row says comes from the caller.
"""

import html
from collections.abc import Iterable
from typing import Any

import numpy as np

from .kinds import Kind, Unit, UnitError
from .units import SYSTEMS, from_plain, number, show, to_quantity

LINES = 10
"""Most lines of the plain text that stands for a design or a sizing at a prompt."""


def unit_in(kind: Kind | None, system: str) -> Unit | None:
    """The unit in which a table of a system shows a kind; ``"si"`` gives the unit of plain numbers.

    Raises ``UnitError`` for a system that is not there.
    """
    if system not in (*SYSTEMS, "si"):
        raise UnitError(f"{system!r} is not a system of units; choose 'us', 'metric' or 'si'.")
    if kind is None:
        return None
    return kind.plain if system == "si" else kind.shown(system)


def shown_in(value, kind: Kind | None, system: str):
    """A plain value as the number (or the word) that a table of a system holds, and its unit."""
    unit = unit_in(kind, system)
    if value is None or unit is None or isinstance(value, (str, bool)):
        return value, ""
    found = from_plain(np.asarray(value, float), unit)
    return (found if found.ndim else float(found)), unit.label


def quantity(value, kind: Kind | None):
    """A plain value as a pint quantity; words, money and what is left open stay as they are."""
    if value is None or kind is None or isinstance(value, (str, bool)):
        return value
    return to_quantity(value, kind)


def words(value, kind: Kind | None, system: str = "us") -> str:
    """A plain value as short text; of many designs, the span."""
    if value is None:
        return ""
    if kind is None or isinstance(value, (str, bool)):
        return str(value)
    low, high = float(np.min(value)), float(np.max(value))
    one = show(low, kind, system)
    return one if low == high else f"{one} to {show(high, kind, system)}"


def table(head: Iterable[str], rows: Iterable[Iterable[object]], caption: str = "") -> str:
    """An HTML table; numbers to four figures, every text escaped."""
    top = "".join(f"<th>{html.escape(cell)}</th>" for cell in head)
    body = "".join(f"<tr>{''.join(map(_cell, row))}</tr>" for row in rows)
    said = f"<caption>{html.escape(caption)}</caption>" if caption else ""
    return f"<table>{said}<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _cell(value) -> str:
    if isinstance(value, Markup):
        return f"<td>{value}</td>"
    text = number(value, 4) if isinstance(value, float) else str("" if value is None else value)
    return f"<td style='text-align:left'>{html.escape(text)}</td>"


class Markup(str):
    """Text that is HTML already, made by the package itself."""

    __slots__ = ()


def formula(latex: str) -> Markup:
    """A formula as MathML, which browsers draw without a library."""
    from latex2mathml.converter import convert  # noqa: PLC0415  (only who shows a formula needs it)

    return Markup(convert(latex.replace("@", "")))


class Rows(tuple):
    """A tuple of results that a notebook shows as a table, and a prompt in a few lines."""

    head: tuple[str, ...] = ()

    @staticmethod
    def row(item: Any) -> tuple:
        """What stands in the row of one result."""
        return (item,)

    def _repr_html_(self) -> str:
        return table(self.head, map(self.row, self))

    def __repr__(self) -> str:
        lines = [": ".join(str(x) for x in self.row(item)[:2]) for item in self]
        return few(lines) or "nothing"


def few(lines: list[str], most: int = LINES) -> str:
    """The first lines of a text, and how many more there are."""
    if len(lines) <= most:
        return "\n".join(lines)
    return "\n".join([*lines[: most - 1], f"... and {len(lines) - most + 1} more"])
