"""Up to five designs side by side: the choices that differ, and the figures that differ, with share."""

from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import Kind
from ..core.units import in_system, number, show
from ..design.model import FIELDS, value_of
from ..sizing.system import Sizing, figure_at, value_at
from ..sizing.taken import shown_value
from .costfigures import COST_FIGURES, shown_cost
from .heat.yearly import full_year

MOST = 5
"""Designs side by side: one and four that are kept."""
SAME = 1e-6
"""Relative difference below which two figures are the same."""
FIGURES = (
    "stock.fish", "stock.peak_feed", "cost.harvest", "tank.volume", "filter.area", "air.provided",
    "pump.flow", "standby.daily_energy", "standby.minutes_peak", "cost.investment", "cost.net",
)  # fmt: skip
"""What is compared where nothing else is asked for."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One row: the value of every design, its change from the first, and that as a share of the first.

    Changes and shares are None for words, and a share where the first is nothing.  ``chosen`` says
    for each design whether the sizing took the value because the design is silent.
    """

    path: str
    label: str
    kind: Kind | None
    values: tuple
    changes: tuple[float | None, ...]
    shares: tuple[float | None, ...]
    chosen: tuple[bool, ...]

    def words(self, system: str, currency: str = "$") -> tuple[str, ...]:
        """Every value as a report writes it, those after the first with sign and share."""
        found = [self._said(v, system, currency) for v in self.values]
        for k, share in enumerate(self.shares):
            if k and share is not None and abs(share) > SAME:
                found[k] += f" ({'+' if share > 0 else '−'}{number(abs(100 * share), 2)} %)"
        return tuple(found)

    def _said(self, value, system: str, currency: str) -> str:
        if value is None:
            return "not told"
        if isinstance(value, bool):
            return "yes" if value else "no"
        if self.kind is None or isinstance(value, str):
            return str(value).replace("_", " ")
        if self.kind.family.startswith("money"):
            return " ".join(part for part in shown_cost(value, self.kind, system, currency) if part)
        return show(value, self.kind, system)

    def plain(self, system: str, currency: str = "$") -> dict:
        """The row as plain data, numbers in the units shown."""

        def typed(value):
            if self.kind is None or value is None or isinstance(value, (str, bool)):
                return value
            return float(in_system(value, self.kind, system)[0])

        return {
            "path": self.path,
            "label": self.label,
            "values": [typed(v) for v in self.values],
            "words": list(self.words(system, currency)),
            "shares": list(self.shares),
            "chosen": list(self.chosen),
        }


@dataclass(frozen=True, slots=True)
class Differences:
    """What differs among designs: choices first, then figures."""

    choices: tuple[Difference, ...]
    figures: tuple[Difference, ...]


def differences(sizings: list[Sizing], figures: tuple[str, ...] = FIGURES) -> Differences:
    """What differs among two to five designs; the first is what the others are measured by.

    ``figures`` are paths of the sizing such as ``tank.volume`` or of the budget such as ``cost.net``.
    Raises ``DesignError`` for fewer or more designs.
    """
    if not 2 <= len(sizings) <= MOST:
        raise DesignError(f"{len(sizings)} designs are given; put 2 to {MOST} side by side.")
    choices = [_choice(sizings, path) for path in FIELDS if path not in ("name", "note")]
    rows = [_figure(sizings, path) for path in figures]
    return Differences(
        tuple(row for row in choices if row is not None),
        tuple(row for row in rows if _differs(row.values)),
    )


def _choice(sizings, path: str) -> Difference | None:
    """A choice, where the designs do not tell the same."""
    told = [value_of(s.design, path) for s in sizings]
    if not _differs(told):
        return None
    entry = FIELDS[path]
    values = [shown_value(s, path) if v is None else v for s, v in zip(sizings, told, strict=True)]
    chosen = tuple(v is None for v in told)
    return _row(path, entry.choice.label, entry.kind, values, chosen)


def _figure(sizings, path: str) -> Difference:
    if path in COST_FIGURES:
        about = COST_FIGURES[path]
        values = [about.of(full_year(s)) for s in sizings]
        return _row(path, about.label, about.kind, values)
    about = figure_at(path)
    return _row(path, about.label, about.kind, [value_at(s, path) for s in sizings])


def _row(path, label, kind, values, chosen=None) -> Difference:
    values = [float(v) if isinstance(v, (np.floating, np.ndarray)) else v for v in values]
    changes = [_change(values[0], v) for v in values]
    shares = [
        None if change is None or not values[0] else change / abs(values[0]) for change in changes
    ]
    if kind is not None and kind.family in ("temperature", "ph"):
        shares = [None] * len(values)  # their nought is no nothing
    return Difference(path, label, kind, tuple(values), tuple(changes), tuple(shares),
                      chosen or (False,) * len(values))  # fmt: skip


def _change(first, value) -> float | None:
    numbers = all(isinstance(v, (int, float)) and not isinstance(v, bool) for v in (first, value))
    return float(value - first) if numbers and np.isfinite([first, value]).all() else None


def _differs(values) -> bool:
    first = values[0]
    for value in values[1:]:
        change = _change(first, value)
        if change is None:
            if str(value) != str(first):
                return True
        elif abs(change) > SAME * max(abs(first), abs(value)):
            return True
    return False
