"""``study``: what to buy; the cheapest that stands, the cheapest that is sure, and what more money brings."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...core.choices import DesignError
from ...design.model import Design, arrays_of
from ...sizing.checks.rows import check_rows
from ...sizing.system import Sizing, size
from ..heat.yearly import weathered
from ..spread.study import spread
from .costed import Block, Shop
from .feasible import mended, stood
from .front import front
from .member import Member, member, parts_stand, places_at, tied
from .money import goals
from .offers import Offers, offers
from .search import GOALS, Cancelled, Search, search
from .sure import TO_STAND
from .ties import Tie, ties

STEPS = {"minutes": 60.0, "water": 0.02, "labour": 365.25 * 60.0}
"""What tells two designs apart in a goal: a minute to act, two parts in a hundred of water, a minute of work a day."""
SHOWN, AS_DEAR = 8, 1.6
"""Designs shown of a front at most, and how many times the cost of the cheapest they may cost."""
JUDGED = 60
"""Designs that are judged by draws at most in search of a sure one."""
PATIENCE, GOOD = 40, 0.85
"""After so many that were judged in vain, only designs with so good a forecast are judged."""
NEARLY = 0.02
"""How far a chance told by few draws may lie from that of many."""


@dataclass(frozen=True, eq=False)
class Present:
    """The design as it is: what it costs and gives, and what falls short in it that parts could mend."""

    goals: dict[str, float]
    chance: float
    short: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Choice:
    """What to buy for one design.

    ``cheapest`` stands as planned and costs least a year; ``sure`` costs least of those that were
    found to stand in nine draws of ten.  None where there is none.
    """

    sizing: Sizing
    shop: Shop
    present: Present
    cheapest: Member | None
    sure: Member | None
    fronts: dict[str, tuple[Member, ...]]
    """For each goal the designs that no other one beats in cost and that goal, the cheapest first."""
    ties: tuple[Tie, ...]
    """What costs the same as the parts of the cheapest, within the doubt of the prices."""
    combined: int
    """Designs that can be put together."""
    sized: int
    """Designs sized as a whole; all others fell with a part."""
    stood: int
    """Designs that stand."""
    judged: int
    """Designs judged by draws in search of a sure one."""
    refused: dict[str, int]
    """How often each margin or check refused parts or designs."""
    unmended: tuple[str, ...]
    """Checks that fail and that nothing for sale mends."""

    @property
    def members(self) -> tuple[Member, ...]:
        """The cheapest, the sure one, and all members of the fronts, each once, by cost."""
        found: dict[tuple, Member] = {}
        picks = [m for m in (self.cheapest, self.sure) if m is not None]
        for one in (*picks, *(m for front_ in self.fronts.values() for m in front_)):
            found.setdefault(tuple(sorted(one.places.items())), one)
        return tuple(sorted(found.values(), key=lambda m: m.goals["cost"]))

    def same_as_cheapest(self, one: Member) -> bool:
        """Whether a design costs the same as the cheapest, as far as the prices are known."""
        return self.cheapest is not None and tied(self.cheapest, one)


def study(
    design: Design | Sizing,
    for_sale: Offers | None = None,
    progress: Callable[[float, str], Any] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Choice:
    """What to buy for a design: every combination of the parts for sale, by what it costs in a year.

    Fish, place, season and the number of tanks are those of the design; everything that is for sale
    is chosen anew.  A combination counts where every margin and check stands that parts can change,
    and where a backup is there in time.  Cost is that of the budget of a full year, own hours paid.

    Parameters:
        design: one ``Design`` (no arrays) or its ``Sizing``.
        for_sale: what ``offers`` gives; None for the invented list.
        progress: called with the share that is done, from 0 to 1, and what is done now, in words.
        cancelled: asked between chunks; the study ends with ``Cancelled`` where it is true.
    Returns: the ``Choice``.
    Raises: ``DesignError`` with one sentence; ``Cancelled``.

    Example: ``study(load("family")).cheapest.goals["cost"]``.
    """
    sizing = size(design) if isinstance(design, Design) else design
    if arrays_of(sizing.design):
        raise DesignError("What to buy is asked of one design, not of a row of them.")
    for_sale = for_sale or offers()
    shared = (lambda at, words: progress(0.8 * at, words)) if progress else None
    found = search(sizing, for_sale, shared, cancelled)

    def step(at: float, words: str) -> None:
        if cancelled is not None and cancelled():
            raise Cancelled
        if progress is not None:
            progress(0.8 + 0.2 * at, words)

    cheapest = _cheapest(found)
    sure, judged = _sure(found, cheapest, step)
    step(0.8, "What more money brings")
    fronts = {name: _front(found, name) for name in GOALS}
    return Choice(
        sizing=sizing, shop=found.shop, present=_present(sizing, found.shop), cheapest=cheapest, sure=sure,
        fronts=fronts, ties=() if cheapest is None else ties(cheapest, found, sizing),
        combined=for_sale.combinations, sized=found.sized, stood=found.stood, judged=judged,
        refused=dict(sorted(found.failed.items(), key=lambda pair: -pair[1])),
        unmended=_unmended(sizing),
    )  # fmt: skip


def _member(found: Search, block: Block, row: int) -> Member:
    return member(found.sizing, found.shop, places_at(block, int(row)))


def _cheapest(found: Search) -> Member | None:
    if found.best is None:
        return None
    return _member(found, found.best, int(found.best.goals["cost"].argmin()))


def _sure(found: Search, cheapest: Member | None, step) -> tuple[Member | None, int]:
    """The cheapest design found that stands in nine draws of ten, and how many were judged.

    By cost, as long as not too many were judged in vain; after that only those of which the forecast is
    good.
    """
    if cheapest is None:
        return None, 0
    if cheapest.chance >= TO_STAND:
        return cheapest, 1
    if found.sure is None:
        return None, 1
    judged = 1
    for row in range(len(found.sure)):
        if judged > PATIENCE and found.forecasts[row] < GOOD:
            continue
        if judged > JUDGED:
            break
        step(0.8 * judged / JUDGED, "Judged by draws")
        one, judged = _member(found, found.sure, row), judged + 1
        if one.quick_chance >= TO_STAND - NEARLY and one.chance >= TO_STAND:
            return one, judged
    return None, judged


def _front(found: Search, name: str) -> tuple[Member, ...]:
    """The members of a front that can be told apart, the cheapest first."""
    if found.best is None:
        return ()
    block, more = found.best, GOALS[name]
    value = block.goals[name]
    step = STEPS[name] if name != "water" else STEPS[name] * float(value.min())
    seen = np.floor(value / step + 1e-9) if more else np.ceil(value / step - 1e-9)
    rows = front(block.goals["cost"], seen, more)
    rows = rows[block.goals["cost"][rows] <= AS_DEAR * block.goals["cost"][rows[0]]]
    if len(rows) > SHOWN:
        rows = rows[np.unique(np.round(np.linspace(0, len(rows) - 1, SHOWN)).astype(int))]
    return tuple(_member(found, block, row) for row in rows)


def _present(sizing: Sizing, shop: Shop) -> Present:
    """The design as it stands, in the year that all designs are given."""
    year = weathered(sizing)
    reached = goals(sizing, year.heating_energy, year.evaporation, shop.year.allowed)
    short = [part.label for part in sizing.parts if part.margin < 1.0 - 1e-9]
    for row in check_rows():
        if mended(row) and not np.all(stood(sizing, row)):
            short.append(row.label.partition(" (")[0])
    return Present(
        {k: float(v) for k, v in reached.items()}, parts_stand(spread(sizing)), tuple(short)
    )


def _unmended(sizing: Sizing) -> tuple[str, ...]:
    """What fails in the design and would fail with any parts: it follows from fish, water or wiring."""
    rows = [row for row in check_rows() if not mended(row) and row.form != "notice"]
    failing = [row for row in rows if not np.all(stood(sizing, row))]
    words = {check.words for check in sizing.checks if not np.all(check.ok)}
    return tuple(
        next((w for w in words if w.startswith(row.label.partition("{")[0])), row.label)
        for row in failing
    )
