"""How many fish each part can carry by itself: the whole system as a ladder, the weakest part first.

Each part is asked alone: with how many fish is its margin 1, all other parts as they are held?  The
answer is a root found by ``studies.limits``.  Beside it stands the number by the rule of thumb, and
the design's own goal is one line through all rungs.
"""

from dataclasses import dataclass

import numpy as np

from ..core.kinds import KINDS
from ..core.units import show
from ..design.model import Design, with_values
from ..sizing.judging import Part
from ..sizing.system import Sizing, size, unchecked
from .limits import STAND_IN, crossing, first_below, roots, scaled
from .stacked import TODAY, TOLD, moves, ready

STEPS = 12
"""Scales in each step of ``SCALES``: a call of the sizing costs as much for fifty designs as for six hundred."""
FINE = np.geomspace(1e-2, 1e2, 48 * STEPS + 1)
"""Scales of the fish that are sized: a hundredth to a hundred times, 1.6 % apart."""
SCALES = FINE[::STEPS]
"""Those at which every part is looked at first."""
POINTS, SMOOTH = 129, 0.02
"""Points of a still finer look, where a margin falls at once; elsewhere 1.6 % are bridged by a power."""


@dataclass(frozen=True, slots=True)
class Rung:
    """One part: how many fish it carries, what they eat on the biggest day [kg/s], what a year yields [kg/s].

    ``fish`` is infinite where the part is not asked, or where more fish do not touch it.
    ``by_rule`` is the number by the rule of thumb, None where there is none or it does not hang on
    the fish.  ``margin`` and ``state`` are those of the goal; ``told`` says whether the design names
    the part.
    """

    part: str
    label: str
    fish: float
    feed: float
    harvest: float
    by_rule: float | None
    margin: float
    state: str
    told: bool


@dataclass(frozen=True, slots=True)
class Ladder:
    """Every part with what it carries, the weakest first; ``steady`` are those that no fish touch.

    The goal is that of the design; None where it names none.
    """

    rungs: tuple[Rung, ...]
    steady: tuple[Rung, ...]
    goal: float | None
    goal_feed: float | None
    goal_harvest: float | None
    hold: str

    @property
    def first(self) -> Rung | None:
        """The part that gives out first."""
        return self.rungs[0] if self.rungs else None

    def plain(self, system: str) -> dict:
        """The ladder as plain data for a page."""
        return {
            "hold": self.hold,
            "goal": self.goal,
            "goal_feed": _shown(self.goal_feed, "feed rate", system),
            "goal_harvest": _shown(self.goal_harvest, "harvest rate", system),
            "rungs": [_plain(rung, system) for rung in self.rungs],
            "steady": [_plain(rung, system) for rung in self.steady],
        }


def _shown(value: float | None, kind: str, system: str) -> str | None:
    return None if value is None or not np.isfinite(value) else show(value, KINDS[kind], system)


def _plain(rung: Rung, system: str) -> dict:
    return {
        "part": rung.part,
        "label": rung.label,
        "fish": rung.fish if np.isfinite(rung.fish) else None,
        "feed": _shown(rung.feed, "feed rate", system),
        "harvest": _shown(rung.harvest, "harvest rate", system),
        "by_rule": rung.by_rule,
        "margin": rung.margin if np.isfinite(rung.margin) else None,
        "state": rung.state,
        "told": rung.told,
    }


def ladder(design: Design | Sizing, hold: str = TOLD) -> Ladder:
    """What each part of one design can carry by itself.

    Parameters:
        design: one ``Design`` or its ``Sizing``; one without a goal is asked from a stand-in, on
            which the answers do not depend.
        hold: "told" asks the parts that the design names, since the sizing would fit the others to
            any number of fish; "today" asks every part at the size it has now.
    Returns: the ``Ladder``, the weakest part first, feed in kg/s.
    Raises: ``DesignError`` when the design cannot be computed.
    Source: the margins of ``size``; see ``limits``.

    >>> from rsdesign import load
    >>> len(ladder(load("family"), "today").rungs) >= 4
    True
    """
    given = design.design if isinstance(design, Sizing) else design
    planned = given.goal.fish is not None or given.goal.harvest is not None
    if not planned:
        design = with_values(given, {"goal.fish": STAND_IN})
    base = design if isinstance(design, Sizing) else size(design)
    held = ready(base, "", hold)
    asked = {p.name for p in base.parts if hold == TODAY or p.owned}
    looked = unchecked(scaled(held, FINE)).parts
    judged = {p.name: _row(p.margin) for p in looked if p.name in asked}
    judged = {name: row for name, row in judged.items() if moves(row[::STEPS])}
    rules = {
        p.name: _row(_over_rule(p))[::STEPS]
        for p in looked
        if p.name in judged and p.rule is not None
    }
    near = {name: _near(row) for name, row in judged.items()}
    grids = {name: FINE[places] for name, places in near.items()}
    margins = {name: judged[name][places] for name, places in near.items()}
    found = roots(held, grids, margins, lambda p: p.name in judged, POINTS, SMOOTH)
    rungs = [_rung(base, p, found.get(p.name, np.inf), rules.get(p.name)) for p in base.parts]
    rungs.sort(key=lambda rung: (rung.fish, rung.margin))
    return Ladder(
        rungs=tuple(r for r in rungs if np.isfinite(r.fish)),
        steady=tuple(r for r in rungs if not np.isfinite(r.fish)),
        goal=float(base.stock.fish) if planned else None,
        goal_feed=float(base.stock.peak_feed) if planned else None,
        goal_harvest=float(base.stock.harvest) if planned else None,
        hold=hold,
    )


def _near(margins: np.ndarray) -> slice:
    """Where the margin falls below 1: the fine scales in that step of ``SCALES``, else all of these."""
    low, high = crossing(SCALES, margins[::STEPS])
    if not 0 < low < high < np.inf:
        return slice(None, None, STEPS)
    start = STEPS * int(np.searchsorted(SCALES, low))
    return slice(start, start + STEPS + 1)


def _row(values) -> np.ndarray:
    return np.nan_to_num(np.broadcast_to(np.asarray(values, float), FINE.shape), nan=0.0)


def _over_rule(part: Part):
    """What is there over what the rule of thumb asks for."""
    with np.errstate(all="ignore"):
        return np.asarray(part.provided, float) / part.rule


def _rung(base: Sizing, part: Part, scale: float, rule: np.ndarray | None) -> Rung:
    by_rule = None if rule is None else first_below(SCALES, rule)
    scale = float(scale)
    return Rung(
        part=part.name,
        label=part.label,
        fish=_whole(float(base.stock.fish) * scale),
        feed=float(base.stock.peak_feed) * scale,
        harvest=float(base.stock.harvest) * scale,
        by_rule=None
        if not by_rule or not np.isfinite(by_rule)
        else _whole(float(base.stock.fish) * by_rule),
        margin=float(part.margin),
        state=part.word,
        told=part.owned,
    )


def _whole(fish: float) -> float:
    """Whole fish; a number that is whole but for rounding stays."""
    return float(np.floor(fish * (1 + 1e-6))) if np.isfinite(fish) else fish
