"""What one already owns: the feed each part can bear, the smallest first, and what to buy next.

A part's capacity is the feed at which its margin is 1.  Many margins are not linear in feed, so
it is found as a root: the number of fish is scaled and the whole sizing computed, for all scales
in one call.  Parts that the sizing itself chose grow with the load and are never the limit; so a
capacity of the whole is an answer only where the design gives tank, flow, filter and air.
"""

from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import Number
from ..design.model import Design, arrays_of, check, value_of, with_values
from ..equations.biofilter.areas import LIMITED_BY
from ..sizing.assumptions import assumptions
from ..sizing.margins import SLACK, Part
from ..sizing.system import Sizing, size
from .purchases import Purchase, bought, purchases

COARSE = np.geomspace(1e-4, 1e4, 97)
"""Scales of the fish at which every part is looked at first."""
FINE = 33
"""Points into which the step in which a margin falls below 1 is divided anew."""
SMOOTH, NARROW, FALL = 1e-3, 1e-6, 0.1
"""A step no wider than the first is bridged by a power; where the margin falls by so much at once, the second."""
TIE = 1e-3
"""Parts whose feeds differ by less than this give out together."""
MAIN = ("tank", "pump", "filter", "air")
"""The parts without which no fish are kept: the design gives all of them before a capacity is an answer."""
STAND_IN = 100.0
"""Fish of a batch from which the search starts where no goal is said; the answer does not depend on it."""


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """What one part can bear: feed for each time [kg/s], and the fish of a batch that eat it."""

    part: str
    label: str
    feed: float
    fish: float
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class NextBuy:
    """One purchase: how many, what it costs, the feed it gains and that for each money."""

    purchase: Purchase
    count: int
    cost: Number
    gain: float
    gain_for_money: Number
    then: str


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """Every owned part with the feed it can bear, smallest first; what to buy next.

    ``told`` and ``untold`` part the main parts by whether the design says what is owned; ``chosen``
    are the labels of all parts that the sizing took.  ``planned`` says whether the design names a
    goal of its own; if not, ``sizing`` is the system for what the given parts carry.  ``needs`` are
    the parts of that system that the design does not give, with what would have to be there.
    """

    sizing: Sizing
    bearings: tuple[Bearing, ...]
    told: tuple[str, ...]
    untold: tuple[str, ...]
    chosen: tuple[str, ...]
    needs: tuple[Part, ...]
    buys: tuple[NextBuy, ...]
    assumed: tuple[str, ...]
    planned: bool

    @property
    def complete(self) -> bool:
        """Whether the design gives tank, flow, filter and air, so that there is a capacity."""
        return not self.untold

    @property
    def main(self) -> tuple[Bearing, ...]:
        """What the given main parts bear, and what depends on them; new water is everybody's."""
        return tuple(b for b in self.bearings if b.part != "water")

    @property
    def first(self) -> Bearing | None:
        """The part that gives out first: of all parts where all are given, else of the given ones."""
        found = self.bearings if self.complete else self.main
        return found[0] if found and self.told else None

    @property
    def none(self) -> bool:
        """Whether the design says that a part is not there at all, so that no fish are kept whatever else is."""
        return self.first is not None and self.first.feed <= 0

    @property
    def tied(self) -> tuple[Bearing, ...]:
        """All parts that give out together with the first."""
        if self.first is None:
            return ()
        edge = self.first.feed * (1 + TIE) + 1e-15
        return tuple(b for b in self.bearings if b.feed <= edge)

    @property
    def ties(self) -> tuple[str, ...]:
        """The words of all parts that give out together with the first."""
        return tuple(b.words for b in self.tied)


def limits(design: Design, budget: float | None = None, planned: bool = True) -> Limits:
    """The carrying capacity of what one owns, and what to buy next within a budget.

    The goal is no part of the question: with none, or not ``planned``, the rest of the system is
    sized for what the given parts carry.

    Parameters:
        design: one ``Design`` (no arrays) that says what is owned.
        budget: the most to spend [money of the price table], 0 or more; None for no limit.
        planned: False leaves the goal of the design aside.
    Returns: ``Limits``, every owned part with the feed it can bear [kg/s], smallest first.
    Raises: ``DesignError`` when the design cannot be computed.
    Source: the margins of ``size``, each of relations that name their source.

    >>> from rsdesign import load
    >>> limits(load("family")).complete  # it names no pump: a bound for what is owned, no capacity
    False
    """
    if design.goal.fish is None and design.goal.harvest is None:
        design, planned = with_values(design, {"goal.fish": STAND_IN}), False
    check(design)
    if arrays_of(design):
        raise DesignError("What limits is asked of one design, not of a row of them.")
    base = size(design)
    margins = margins_at(design, COARSE)
    bearings = _exact(design, base, margins)
    if design.pump.none:
        none = Bearing("pump", "Flow", 0.0, 0.0, "Flow")
        bearings = (none, *(b for b in bearings if b.part != "pump"))
    owned = {p.name for p in base.parts if p.owned} | ({"pump"} if design.pump.none else set())
    told = tuple(name for name in MAIN if name in owned)
    untold = tuple(name for name in MAIN if name not in owned)
    carried = [b.feed for b in bearings if b.part != "water" and 0 < b.feed < np.inf]
    shown = base
    if carried and told:
        scale = carried[0] / float(base.stock.peak_feed)
        at_capacity = _unchecked(scaled(design, scale))
        needs = tuple(p for p in at_capacity.parts if p.name in untold)
        shown = base if planned else at_capacity
    else:
        needs = ()
    return Limits(
        sizing=shown,
        bearings=bearings,
        told=told,
        untold=untold,
        chosen=tuple(
            p.label for p in base.parts if p.capacity and p.name not in owned and not p.owned
        ),
        needs=needs,
        buys=() if untold else _buys(design, base, budget, _now(design, margins)),
        assumed=assumptions(shown),
        planned=planned,
    )


def _now(design: Design, margins: dict[str, np.ndarray]) -> float:
    """The scale of the fish that is borne now."""
    return 0.0 if design.pump.none else _quick(COARSE, margins)[0][0]


def scaled(design: Design, scales: Number) -> Design:
    """The design with its fish scaled, as an array of designs."""
    path = "goal.fish" if design.goal.fish is not None else "goal.harvest"
    return with_values(design, {path: value_of(design, path) * scales})


def bears_feed(part: Part) -> bool:
    """Whether a part is owned and bears feed."""
    return part.capacity and part.owned


def margins_at(design: Design, scales: np.ndarray, judged=bears_feed) -> dict[str, np.ndarray]:
    """Margins at each scale of the fish of every part that is ``judged``."""
    parts = _unchecked(scaled(design, scales)).parts
    return {
        p.name: np.nan_to_num(np.broadcast_to(p.margin, scales.shape), nan=0.0)
        for p in parts
        if judged(p)
    }


def _unchecked(design: Design) -> Sizing:
    from ..sizing.system import unchecked  # noqa: PLC0415  (scales may leave the range of the choice)

    return unchecked(design)


def crossing(scales: np.ndarray, margins: np.ndarray) -> tuple[float, float]:
    """The two scales between which a margin falls below 1; both 0 or both infinite outside."""
    bad = np.flatnonzero(margins < 1.0 - SLACK)
    if bad.size == 0:
        return np.inf, np.inf
    if bad[0] == 0:
        return 0.0, 0.0
    return float(scales[bad[0] - 1]), float(scales[bad[0]])


def roots(
    design: Design,
    scales: np.ndarray | dict[str, np.ndarray],
    margins: dict[str, np.ndarray],
    judged=bears_feed,
    points: int = FINE,
    smooth: float = SMOOTH,
) -> dict[str, float]:
    """The scale of the fish at which each part's margin falls to 1.

    Finer and finer grids of ``points`` for all parts in one call, from the ``margins`` on the first
    one, ``scales``, of all parts or of each; a step no wider than ``smooth`` is bridged by a power.
    """
    grids = scales if isinstance(scales, dict) else dict.fromkeys(margins, scales)
    found: dict[str, float] = {}
    while True:
        fine = {}
        for name, grid in grids.items():
            low, high = around = crossing(grid, margins[name])
            found[name] = first_below(grid, margins[name])
            if 0 < low < high < np.inf:
                step = margins[name][np.searchsorted(grid, around)]
                if high / low > 1 + (smooth if step[0] - step[1] < FALL else NARROW):
                    fine[name] = np.geomspace(low, high, points)
        if not fine:
            return found
        together = margins_at(design, np.concatenate(list(fine.values())), judged)
        margins = {
            name: together[name][place * points : (place + 1) * points]
            for place, name in enumerate(fine)
        }
        grids = fine


def _exact(design: Design, base: Sizing, margins: dict[str, np.ndarray]) -> tuple[Bearing, ...]:
    """What every owned part can bear, the least first."""
    found = roots(design, COARSE, margins)
    return tuple(
        sorted((_bearing(base, *pair) for pair in found.items()), key=lambda bearing: bearing.feed)
    )


def _quick(scales: np.ndarray, margins: dict[str, np.ndarray]) -> list[tuple[float, str]]:
    """The smallest scale at which a margin falls to 1, and the part it is, for each row of margins."""
    count = len(next(iter(margins.values()), ())) // len(scales) or 1
    found = [(np.inf, "")] * count
    for name, margin in margins.items():
        for place, row in enumerate(margin.reshape(count, len(scales))):
            low = first_below(scales, row)
            if low < found[place][0]:
                found[place] = low, name
    return found


def first_below(scales: np.ndarray, margins: np.ndarray) -> float:
    """The scale at which a margin falls to 1, between two points by the powers that join them."""
    low, high = crossing(scales, margins)
    if 0 < low < high < np.inf:
        a, b = (margins[np.searchsorted(scales, x)] for x in (low, high))
        share = np.log(a) / (np.log(a) - np.log(b)) if b > 0 else 0.0
        low = low * (high / low) ** share
    return low


def _bearing(base: Sizing, name: str, scale: float) -> Bearing:
    part = next(p for p in base.parts if p.name == name)
    words = part.label
    if name == "filter" and scale > 0:
        words = f"{part.label} ({held_back(base)})"
    fish = float(base.stock.fish * scale)
    fish = np.floor(fish * (1 + 1e-6)) if np.isfinite(fish) else fish
    return Bearing(name, part.label, float(base.stock.peak_feed * scale), float(fish), words)


def held_back(sizing: Sizing) -> str:
    """What holds the filter back, in words."""
    what = LIMITED_BY[int(np.max(sizing.filter.limited_by))]
    return {"area": "its surface", "flow": "the flow to it", "both": "surface and flow"}[what]


COUNTS = (1, 2, 3, 5, 8, 12, 20, 40)
"""How many of one thing are tried."""


def _buys(design: Design, base: Sizing, budget: float | None, now: float) -> tuple[NextBuy, ...]:
    """For each purchase, the number that gains most feed for the money; ``now`` is the scale borne now."""
    # Below what is borne now a purchase gains nothing: the grid begins one step below it.
    scales = COARSE[max(0, np.searchsorted(COARSE, now) - 1) :]
    best: dict[str, NextBuy] = {}
    for offers in _alike(base, budget):
        margins = margins_at(*_together(design, [changes for *_, changes in offers], scales))
        for (purchase, count, _), (scale, then) in zip(
            offers, _quick(scales, margins), strict=True
        ):
            cost = purchase.price * count
            gain = float(base.stock.peak_feed * (scale - now)) if np.isfinite(scale) else 0.0
            so_far = best.get(purchase.name)
            if so_far is None or gain / cost > so_far.gain_for_money * (1 + 1e-9):
                best[purchase.name] = NextBuy(purchase, count, cost, gain, gain / cost, then)
    found = [best[p.name] for p in purchases() if p.name in best and best[p.name].gain > 1e-12]
    return tuple(sorted(found, key=lambda buy: -buy.gain_for_money))


def _alike(base: Sizing, budget: float | None) -> list[list[tuple[Purchase, int, dict]]]:
    """Purchases, counts and the choices they change; those that change the same ones stand together."""
    offers: dict[tuple, list] = {}
    for purchase in purchases():
        for count in COUNTS:
            changes = bought(base, purchase, count)
            if base.design.pump.none and "pump.none" not in (changes or ()):
                continue  # without a pump nothing else adds feed
            if changes is not None and (budget is None or purchase.price * count <= budget):
                offers.setdefault(tuple(changes), []).append((purchase, count, changes))
    return list(offers.values())


def _together(design: Design, each: list[dict], scales: np.ndarray) -> tuple[Design, np.ndarray]:
    """One design as an array, each change at all scales in turn, and those scales."""
    changes = {
        path: value
        if value is None or isinstance(value, bool)
        else np.repeat([float(e[path]) for e in each], len(scales))
        for path, value in each[0].items()
    }
    return with_values(design, changes), np.tile(scales, len(each))
