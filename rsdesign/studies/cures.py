"""What mends a check: the smallest change of one choice that a grower can really make.

``data/cures.csv`` names the choices for each check; it never names a limit, an alarm or a measured
fact.  All choices of a check are tried over their spans in stacked rows of designs, the step in which
each turns good is divided anew, and what is proposed is sized once more by itself, with all checks.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core.choices import DesignError
from ..core.units import from_plain, number, show, to_plain
from ..design.model import FIELDS, Design, problems, with_values
from ..sizing.judging import SHORT, TIGHT, Check
from ..sizing.margins import checks
from ..sizing.system import Sizing, figure_at, size, value_at
from .cure_search import GOALS, CureRow, Look, Search, finer, looked, nearer, rows_for, searches
from .enterprise import enterprise
from .heat.yearly import extras

HEADLINES = (
    "stock.peak_feed", "tank.volume", "standby.daily_energy", "standby.minutes_peak",
    "filter.ammonia", "air.peak_oxygen",
)  # fmt: skip
"""Figures shown before and after."""


@dataclass(frozen=True, slots=True)
class Changed:
    """A check that came out otherwise, or a figure that moved."""

    part: str
    label: str
    before: Any
    after: Any


@dataclass(frozen=True, slots=True, eq=False)
class Cure:
    """One change that mends a check: the design, its cost and what else it does.

    ``green``: whether the check is then neither failed nor tight.  ``yearly`` is what it costs in a
    mean year, own hours paid, with the season held as it is; ``first`` what it costs at once.
    ``reddened`` are the checks that pass now and would fail.
    """

    row: CureRow
    before: Any
    after: Any
    design: Design
    sizing: Sizing
    green: bool
    yearly: float
    first: float
    better: tuple[Changed, ...]
    worse: tuple[Changed, ...]
    reddened: tuple[Changed, ...]
    headline: tuple[Changed, ...]

    def sentence(self, system: str = "us") -> str:
        """What to do, what it costs and what turns bad, in words."""
        text = f"{self.change(system)} {self.yearly_words}".strip()
        if not self.green:
            text += " It is then tight."
        if self.reddened:
            text += f" But this fails then: {'; '.join(c.label for c in self.reddened)}."
        return text

    def change(self, system: str = "us") -> str:
        """What to do, with the value it takes and the one there is."""
        return f"{self.row.words} {self.values(system)}"

    def values(self, system: str = "us", when: str = "now") -> str:
        """The choice, the value it takes and the one before."""
        label = FIELDS[self.row.choice].choice.label
        after, before = self._said(self.after, system), self._said(self.before, system)
        return f"{label}: {after}, {when} {before}."

    @property
    def yearly_words(self) -> str:
        """What it costs or saves in a year, in words; nothing where it is under half a unit of money."""
        if abs(self.yearly) < 0.5:
            return ""
        much, mark = "costs" if self.yearly > 0 else "saves", self.design.prices.currency
        return f"It {much} about {mark}{number(abs(self.yearly), 2)} a year."

    def _said(self, value, system: str) -> str:
        if value is None:
            return "our choice"
        if isinstance(value, bool):
            return "yes" if value else "no"
        kind = FIELDS[self.row.choice].kind
        return str(value) if kind is None or isinstance(value, str) else show(value, kind, system)


@dataclass(frozen=True, slots=True, eq=False)
class Mend:
    """What was found for one check: cures, the best first; else advice, and what comes nearest."""

    check: Check
    cures: tuple[Cure, ...]
    advice: tuple[str, ...]
    nearest: tuple[CureRow, object, float] | None
    """Where nothing cures it: the row, the value and the margin that come nearest."""

    def sentence(self, system: str = "us") -> str:
        """The best cure in words; else that there is none, and what comes nearest."""
        if self.cures:
            return self.cures[0].sentence(system)
        if self.nearest is None:
            return " ".join(self.advice) or "No one change that we know of mends this."
        row, value, margin = self.nearest
        kind = FIELDS[row.choice].kind
        said = str(value) if kind is None or isinstance(value, str) else show(value, kind, system)
        return (
            f"No one change mends this. Nearest comes {FIELDS[row.choice].choice.label.lower()} of"
            f" {said}: {100 * margin:.0f} % of what is asked."
        )


def label_of(check: Check) -> str:
    """The name of a check: its words up to the number."""
    return check.words.split(":")[0].split(" (")[0].split(".")[0]


def is_green(check: Check) -> bool:
    """Whether a check neither fails nor is tight."""
    return bool(np.all(np.asarray(check.ok))) and check.word not in (SHORT, TIGHT)


def mend(sizing: Sizing, check: Check, system: str = "us") -> Mend:
    """What mends a failed or tight check of one design.

    Parameters:
        sizing: what ``size`` gives, of one design.
        check: one of ``sizing.checks``.
        system: "us" or "metric", the units in which proposed values are round.
    Returns: ``Mend``: cures, the best first; else advice, and what comes nearest.
    Raises: ``DesignError`` for a check that is neither failed nor tight.
    Source: each cure's row in ``data/cures.csv``; its effect is the sizing's own.

    Example: ``mend(sizing, sizing.checks[0]).sentence("us")``.
    """
    if is_green(check):
        raise DesignError(f"{label_of(check)} needs no mending.")
    rows = rows_for(check)
    tries = [t for row in rows if row.choice for t in searches(sizing, row)]
    found, nearest = [], None
    first = looked(check, tries)
    closer = [finer(t, look, check) for t, look in zip(tries, first, strict=True)]
    second = iter(looked(check, [f for f in closer if f is not None]))
    before, money = _judged(sizing), extras(sizing)
    for one, look, fine in zip(tries, first, closer, strict=True):
        if fine is None:
            nearest = nearer(nearest, one, look)
            continue
        cure = _proposed(sizing, check, fine, next(second), system, before, money)
        if cure is not None:
            found.append(cure)
    best = sorted(found, key=lambda cure: _rank(sizing, cure))
    return Mend(check, tuple(best), tuple(r.words for r in rows if not r.choice),
                None if best else nearest)  # fmt: skip


def _rank(sizing: Sizing, cure: Cure):
    """What keeps the goal and turns nothing bad comes first, then the cheapest."""
    return (cure.row.choice in GOALS, not cure.green, len(cure.reddened), round(cure.yearly, 2))


# --- what is proposed ------------------------------------------------------------------------


def _judged(sizing: Sizing) -> dict[tuple[str, str], Check]:
    """Every check by its part and name."""
    return {(c.part, label_of(c)): c for c in checks(sizing, "us")}


def _proposed(sizing, check, fine: Search, look: Look, system, before, money) -> Cure | None:
    """The first value that mends, rounded outward where that still mends; sized by itself."""
    passes = look.good if look.good.any() else look.ok
    places = np.flatnonzero(passes)
    if not places.size:
        return None
    value = fine.values[places[0]]
    for said in [*_rounded(fine, value, system), value, fine.values[-1]]:
        design = with_values(fine.design, {fine.row.choice: said})
        if problems(design):
            continue
        made = size(design)
        after = _judged(made)
        now = after.get((check.part, label_of(check)))
        if (
            now is None
            or not np.all(np.asarray(now.ok))
            or (check.word == TIGHT and not is_green(now))
        ):
            continue
        if is_green(now) or not look.good.any():
            return _cure(sizing, fine, said, made, before, after, is_green(now), money)
    return None


def _rounded(fine: Search, value, system: str) -> list:
    """The value in two and in three figures of the unit shown, on the far side of it."""
    kind, now = FIELDS[fine.row.choice].kind, fine.now
    if not isinstance(value, float) or kind is None or kind.name == "count":
        return []
    unit = kind.shown(system)
    shown, found = float(from_plain(value, unit)), []
    if shown == 0.0:
        return []
    for figures in (2, 3):
        step = 10.0 ** (np.floor(np.log10(abs(shown))) - figures + 1)
        turn = np.ceil if value > float(now) else np.floor
        found.append(float(to_plain(float(turn(shown / step) * step), unit)))
    return found


def _cure(sizing, fine: Search, value, made: Sizing, before, after, green: bool, money) -> Cure:
    old, new = enterprise(sizing, **money), enterprise(made, **money)
    changes = [
        Changed(part, label, before.get((part, label)), check)
        for (part, label), check in after.items()
    ]
    better, worse, reddened = [], [], []
    for one in changes:
        was, now = _standing(one.before), _standing(one.after)
        if now < was and one.before is not None:
            worse.append(one)
        elif now > was and one.before is not None:
            better.append(one)
        if now == 0 and was > 0:
            reddened.append(one)
    headline = tuple(
        Changed(path.partition(".")[0], figure_at(path).label, float(value_at(sizing, path)),
                float(value_at(made, path)))
        for path in HEADLINES
    )  # fmt: skip
    return Cure(
        row=fine.row, before=fine.now, after=value, design=made.design, sizing=made, green=green,
        yearly=float(old.budget.net - new.budget.net),
        first=float(np.subtract(new.investment, old.investment)),
        better=tuple(better), worse=tuple(worse), reddened=tuple(reddened), headline=headline,
    )  # fmt: skip


def _standing(check: Check | None) -> int:
    """0 failed, 1 tight, 2 good; a check that is not made is good."""
    if check is None or is_green(check):
        return 2
    return 1 if np.all(np.asarray(check.ok)) else 0
