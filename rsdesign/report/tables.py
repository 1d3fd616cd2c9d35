"""What every report is put together from: headings, aligned rows, figures as words, plain JSON values."""

import json
import math
from collections.abc import Sequence

import numpy as np

from ..core.figures import Figure, figures_of
from ..core.kinds import Kind
from ..core.units import in_system, number, show
from ..design.model import Design


def title(design: Design) -> str:
    """The name of a design, as the first line of a report."""
    return design.name or "Your design"


def heading(words: str) -> list[str]:
    """An empty line, the words, and a line below them."""
    return ["", words, "-" * len(words)]


def table_lines(rows: Sequence[tuple[str, ...]]) -> list[str]:
    """Rows of words in columns.

    >>> table_lines([("part", "feed"), ("filter", "2 lb")])
    ['part    feed', 'filter  2 lb']
    """
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def section(words: str, rows: Sequence[tuple[str, ...]]) -> list[str]:
    """A heading with a table below it."""
    return [*heading(words), *table_lines(rows)]


def value_text(value, kind: Kind | None, system: str) -> str:
    """A value as words with its unit; of many designs, the largest."""
    if value is None:
        return ""
    if kind is None or isinstance(value, str):
        return str(value)
    return show(float(np.max(value)), kind, system)


def _figures(thing) -> tuple[Figure, ...]:
    return figures_of("", thing.__class__)


def figure_text(thing, name: str, system: str) -> str:
    """One figure of a study's record as words; nothing where it has no value."""
    value = getattr(thing, name)
    kind = next(f.kind for f in _figures(thing) if f.name == name)
    if value is None or kind is None:
        return value or ""
    if kind.family == "days":
        return f"{number(value)} days"
    return show(value, kind, system).replace(" apart", "")


def figure_lines(thing, system: str) -> list[str]:
    """Every figure of a record that has a value, a line each."""
    known = [f for f in _figures(thing) if getattr(thing, f.name) is not None]
    return table_lines([(f.label, figure_text(thing, f.name, system)) for f in known])


def figure_table(things: Sequence, system: str, columns: dict[str, str] | None = None) -> list[str]:
    """A row for each record; ``columns`` gives the heading of each figure shown, else all are."""
    shown = columns or {f.name: f.label.lower() for f in _figures(things[0])}
    rows = [tuple(figure_text(thing, name, system) for name in shown) for thing in things]
    return table_lines([tuple(shown.values()), *rows])


# --- JSON ----------------------------------------------------------------------------------


def plain(value):
    """A value that JSON can hold; what is not finite becomes null.

    >>> plain(np.array([1.0, np.inf])), plain(np.True_), plain("no")
    ([1.0, None], True, 'no')
    """
    if isinstance(value, np.ndarray) and value.ndim:
        return [plain(v) for v in value.tolist()]
    if isinstance(value, np.ndarray):
        value = value.item()
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, float, np.number)):
        return float(value) if math.isfinite(value) else None
    return value


def cell(value, kind: Kind | None, system: str):
    """A value as shown, its unit, and the same in SI."""
    if value is None:
        return None
    if kind is None or isinstance(value, str):
        return {"value": value, "unit": "", "si": value}
    shown, unit = in_system(value, kind, system)
    return {"value": plain(shown), "unit": unit, "si": plain(value)}


def row_of(thing, system: str) -> dict:
    """Every figure of a record by its name; words as they are."""
    return {
        f.name: cell(getattr(thing, f.name), f.kind, system)
        for f in _figures(thing)
        if f.kind is not None or isinstance(getattr(thing, f.name), str)
    }


def csv_text(frame, names: Sequence[str] | None = None) -> str:
    """A frame with units in ``attrs`` as a table for a spreadsheet, a unit in each heading."""
    units = frame.attrs["units"]
    heads = {name: f"{name} [{units[name]}]" if units[name] else name for name in frame.columns}
    chosen = frame[list(names)] if names else frame
    return chosen.rename(columns=heads).to_csv(float_format="%.6g", lineterminator="\n")


def json_text(found) -> str:
    """Plain data as the JSON text that every report gives."""
    return json.dumps(found, ensure_ascii=False, indent=1, allow_nan=False)
