"""Figures printed by others beside those of the package, for a notebook."""

import importlib
import json
from dataclasses import dataclass

from ..core.choices import DesignError
from ..core.equation import Equation
from ..core.kinds import Kind
from ..core.notebook import Rows, few
from ..core.published import Check, checks
from ..core.units import show


@dataclass(frozen=True, slots=True)
class Beside:
    """One printed figure and ours; ``apart`` is our difference as a share of theirs."""

    check: Check
    printed: str
    ours: str
    apart: float

    @property
    def words(self) -> str:
        """The difference in percent."""
        return f"{100 * self.apart:+.2f} %"


class Published(Rows):
    """Printed figures and ours, with the source and why they differ."""

    head = ("printed", "the same here", "ours", "ours differs by", "source", "why")

    @staticmethod
    def row(item: Beside) -> tuple:
        """A printed figure as a row."""
        source = f"{item.check.source}: {item.check.place}"
        return item.check.printed, item.printed, item.ours, item.words, source, item.check.note

    def __repr__(self) -> str:
        return few([
            f"{x.check.printed} printed ({x.printed}), ours {x.ours}, {x.words}; {x.check.source}"
            for x in self
        ])  # fmt: skip


def published(*names: str, system: str = "us") -> Published:
    """What others printed beside what the package gives for the same numbers.

    Parameters:
        names: rows of ``data/published``, such as ``"solids-S001"``, or relations, such as
            ``"solids.settling.overflow_rate"``.
        system: "us" or "metric", the units of the figures.
    Returns: rows with both figures, the source and why they differ.
    Raises: ``DesignError`` for a name that is not there.
    Source: each row's own, in ``data/published``.

    >>> [(row.printed, row.ours, row.words) for row in published("solids-S001")]
    [('4.6 gpm/ft²', '4.56 gpm/ft²', '-0.76 %')]
    """
    found = []
    for name in names:
        rows = [check for check in checks() if name in (check.id, check.function.partition("[")[0])]
        if not rows:
            raise DesignError(f"{name!r} is neither a row of data/published nor a relation of it.")
        found += [_beside(check, system) for check in rows]
    return Published(found)


def _beside(check: Check, system: str) -> Beside:
    name, _, part = check.function.partition("[")
    module, _, relation = name.rpartition(".")
    function = getattr(importlib.import_module(f"rsdesign.equations.{module}"), relation)
    given = json.loads(check.arguments)
    ours = function(**{key: _law(value) for key, value in given.items()})
    about: Equation | None = getattr(function, "equation", None)
    kind = about.result if about else None
    if part:
        place = int(part.rstrip("]"))
        ours, kind = ours[place], kind[place] if isinstance(kind, tuple) else None
    theirs, ours = float(check.value), float(ours)
    apart = (ours - theirs) / theirs if theirs else 0.0

    def shown(value: float) -> str:
        return show(value, kind, system) if isinstance(kind, Kind) else f"{value:,.6g}"

    return Beside(check, shown(theirs), shown(ours), apart)


def _law(value):
    """A rate that falls in proportion to the level, where a row gives one; else the value."""
    if not isinstance(value, dict):
        return value
    each = value["first order"]
    return lambda level: each * level
