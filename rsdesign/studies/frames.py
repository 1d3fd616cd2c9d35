"""A choice swept over values of one's own, and what a change changed, as pandas frames with units."""

import numpy as np

from ..core.choices import DesignError, plain_value
from ..core.notebook import shown_in, unit_in
from ..design.model import FIELDS, Design, with_values
from ..design.possible import INSTEAD
from ..sizing.system import Sizing, figure_at, size, value_at
from ..sizing.system import figures as all_figures


def sweep(design: Design, path: str, values, figures=None, system: str = "us"):
    """The design at each value of one choice: a pandas frame, a row for each value.

    Parameters:
        design: the ``Design`` that is changed.
        path: the choice, such as ``"solids.overflow_rate"``.
        values: plain numbers (SI), texts with a unit or pint quantities, within the choice's range.
        figures: paths such as ``["solids.area"]``, else every figure that the choice moves.
        system: "us", "metric" or "si", the units of the frame.
    Returns: the frame; its index is the choice, and units stand in ``attrs["units"]``.
    Raises: ``DesignError`` with one sentence for a choice that cannot be swept, a value that is out
        of its range and a figure that is not there.
    Source: each figure's own, in the column ``source`` of ``Sizing.table``.

    >>> from rsdesign.design.model import Design
    >>> found = sweep(Design().with_(goal_fish=180), "tank.depth", ["2 ft", "3 ft"], ["tank.volume"])
    >>> found.attrs["units"]["tank.volume"], list(found.index.round(6))
    ('gal', [2.0, 3.0])
    """
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    entry = FIELDS.get(path)
    if entry is None or not entry.choice.sweep or entry.choice.low is None:
        raise DesignError(f"{path!r} is not a choice that can be swept.")
    unit_in(None, system)
    row = np.atleast_1d(np.asarray(plain_value(entry, values), float))
    if row.size == 0:
        raise DesignError(
            f"{path} ({entry.choice.label}) has no values to sweep; give at least one."
        )
    instead = dict.fromkeys(INSTEAD.get(path, ()))
    found = size(with_values(design, {path: row, **instead}))
    wanted = _moved(found) if figures is None else [_known(one) for one in figures]
    columns, units = {}, {}
    for name in wanted:
        number, units[name] = shown_in(value_at(found, name), figure_at(name).kind, system)
        columns[name] = np.broadcast_to(np.asarray(number), row.shape)
    index, units[path] = shown_in(row, entry.kind, system)
    frame = pd.DataFrame(columns, index=pd.Index(index, name=path))
    frame.attrs.update(units=units, system=system)
    return frame


def labeled(frame):
    """A swept frame for reading: headings in words, each with its unit.

    Parameters:
        frame: what ``rsdesign.sweep`` gave.
    Returns: a copy whose columns and index are named as choices and figures are, with their units.

    >>> from rsdesign.design.model import Design
    >>> found = sweep(Design().with_(goal_fish=180), "tank.depth", ["2 ft", "3 ft"], ["tank.volume"])
    >>> list(labeled(found).columns), labeled(found).index.name
    (['Water in all tanks, gal'], 'Water depth, ft')
    """
    units = frame.attrs.get("units", {})
    found = frame.rename(columns=lambda path: heading(path, units.get(path, "")))
    return found.rename_axis(index=heading(frame.index.name, units.get(frame.index.name, "")))


def heading(path: str, unit: str = "") -> str:
    """The words of a choice or a figure with its unit; any other name as it is."""
    try:
        words = FIELDS[path].choice.label if path in FIELDS else figure_at(path).label
    except (KeyError, AttributeError):
        words = str(path)
    return f"{words}, {unit}" if unit else words


def _moved(sizing: Sizing) -> list[str]:
    """The figures that are not the same along a sweep."""
    rows = [(figure.path, np.asarray(value)) for figure, value in all_figures(sizing)]
    return [path for path, value in rows if value.ndim and not _all_one(value)]


def _all_one(value: np.ndarray) -> bool:
    """Whether a row is one value, apart from the last bits of its arithmetic."""
    first = np.full_like(value, value[0])
    if value.dtype.kind != "f":
        return np.array_equal(value, first)
    return np.allclose(value, first, rtol=1e-12, atol=0.0, equal_nan=True)


def _known(path: str) -> str:
    try:
        return figure_at(path).path
    except (KeyError, AttributeError):
        raise DesignError(
            f"{path!r} is not a figure of a sizing; sizing.table() lists them."
        ) from None


def differences(before: Design | Sizing, after: Design | Sizing, figures=None, system: str = "us"):
    """What one change to a design changed: a pandas frame, a row for each figure.

    Parameters:
        before: a ``Design`` or its ``Sizing``.
        after: another one.
        figures: paths such as ``["tank.volume"]``, else every figure that is not the same.
        system: "us", "metric" or "si", the units of the frame.
    Returns: the frame; its column ``percent`` is the change as a share of what was before.
    Raises: ``DesignError`` for a figure that is not there.
    Source: each figure's own, in the column ``source`` of ``Sizing.table``.

    >>> from rsdesign.design.model import Design
    >>> one = Design().with_(goal_fish=180)
    >>> float(differences(one, one.with_(goal_fish=198), ["tank.required"]).percent.iloc[0].round(6))
    10.0
    """
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    one, other = (s if isinstance(s, Sizing) else size(s) for s in (before, after))
    paths = figures or [figure.path for figure, _ in all_figures(one)]
    rows = {}
    for path in map(_known, paths):
        kind = figure_at(path).kind
        was, unit = shown_in(value_at(one, path), kind, system)
        now, _ = shown_in(value_at(other, path), kind, system)
        if figures or not _same(was, now):
            percent = 100 * (now - was) / was if isinstance(was, float) and was else None
            rows[path] = (figure_at(path).label, was, now, unit, percent)
    return pd.DataFrame.from_dict(
        rows, "index", columns=["figure", "before", "after", "unit", "percent"]
    )


def _same(was, now) -> bool:
    """Whether two values are one, apart from the last bits of their arithmetic."""
    if isinstance(was, float) and isinstance(now, float):
        return bool(np.isclose(was, now, rtol=1e-12, atol=0.0, equal_nan=True))
    return was == now
