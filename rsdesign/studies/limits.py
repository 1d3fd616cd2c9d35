"""What one already owns: the feed each part can bear, the smallest first, and what to buy next.

A part's capacity is the feed at which its margin is 1.  Many margins are not linear in feed, so
it is found as a root: the number of fish is scaled and the whole sizing computed, for all scales
in one call.  Parts that the sizing itself chose grow with the load and are never the limit.
"""

from dataclasses import dataclass

import numpy as np

from ..assumptions import assumptions
from ..choices import DesignError
from ..design import Design, arrays_of, check, with_values
from ..parts.biofilter import LIMITED_BY
from ..sizing import Sizing, size
from .purchases import Purchase, bought, purchases

COARSE = np.geomspace(1e-4, 1e4, 97)
"""Scales of the fish at which every part is looked at first."""
FINE = 33
"""Points into which the step in which a margin falls below 1 is divided anew."""
SMOOTH, NARROW, FALL = 1e-3, 1e-6, 0.1
"""A step no wider than the first is bridged by a power; where the margin falls by so much at once, the second."""
TIE = 1e-3
"""Parts whose feeds differ by less than this give out together."""


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
    cost: float
    gain: float
    gain_for_money: float
    then: str


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """Every owned part with the feed it can bear, smallest first; what to buy next."""

    sizing: Sizing
    bearings: tuple[Bearing, ...]
    chosen: tuple[str, ...]
    buys: tuple[NextBuy, ...]
    assumed: tuple[str, ...]

    @property
    def first(self) -> Bearing:
        """The part that gives out first."""
        return self.bearings[0]

    @property
    def ties(self) -> tuple[str, ...]:
        """The words of all parts that give out together with the first."""
        edge = self.first.feed * (1 + TIE) + 1e-15
        return tuple(b.words for b in self.bearings if b.feed <= edge)


def limits(design: Design, budget: float | None = None) -> Limits:
    """The carrying capacity of what one owns, and what to buy next within a budget.

    Takes one design (no arrays); ``budget`` in the money of the price table, None for no limit.
    Raises ``DesignError`` when the design cannot be computed.
    """
    check(design)
    if arrays_of(design):
        raise DesignError("What limits is asked of one design, not of a row of them.")
    base = size(design)
    margins = _sizes(design, COARSE)
    return Limits(
        sizing=base,
        bearings=_exact(design, base, margins),
        chosen=tuple(p.label for p in base.parts if p.capacity and not p.owned),
        buys=_buys(design, base, budget, _quick(COARSE, margins)[0][0]),
        assumed=assumptions(base),
    )


def scaled(design: Design, scales: np.ndarray) -> Design:
    """The design with its fish scaled, as an array of designs."""
    path = "goal.fish" if design.goal.fish is not None else "goal.harvest"
    value = design.goal.fish if path == "goal.fish" else design.goal.harvest
    return with_values(design, {path: value * scales})


def _sizes(design: Design, scales: np.ndarray) -> dict[str, np.ndarray]:
    """Margins of every owned part that bears feed, at each scale."""
    from ..sizing import unchecked  # noqa: PLC0415  (scales may leave the range of the choice)

    parts = unchecked(scaled(design, scales)).parts
    return {
        p.name: np.nan_to_num(np.broadcast_to(p.margin, scales.shape), nan=0.0)
        for p in parts
        if p.capacity and p.owned
    }


def _crossing(scales: np.ndarray, margins: np.ndarray) -> tuple[float, float]:
    """The two scales between which a margin falls below 1; both 0 or both infinite outside."""
    bad = np.flatnonzero(margins < 1.0)
    if bad.size == 0:
        return np.inf, np.inf
    if bad[0] == 0:
        return 0.0, 0.0
    return float(scales[bad[0] - 1]), float(scales[bad[0]])


def _exact(design: Design, base: Sizing, margins: dict[str, np.ndarray]) -> tuple[Bearing, ...]:
    """Every part's root: finer and finer grids for all parts in one call, from the coarse one's margins."""
    grids = dict.fromkeys(margins, COARSE)
    found: dict[str, float] = {}
    while True:
        fine = {}
        for name, grid in grids.items():
            low, high = around = _crossing(grid, margins[name])
            found[name] = _first_below(grid, margins[name])
            if 0 < low < high < np.inf:
                step = margins[name][np.searchsorted(grid, around)]
                if high / low > 1 + (SMOOTH if step[0] - step[1] < FALL else NARROW):
                    fine[name] = np.geomspace(low, high, FINE)
        if not fine:
            break
        together = _sizes(design, np.concatenate(list(fine.values())))
        margins = {
            name: together[name][place * FINE : (place + 1) * FINE]
            for place, name in enumerate(fine)
        }
        grids = fine
    return tuple(
        sorted((_bearing(base, *pair) for pair in found.items()), key=lambda bearing: bearing.feed)
    )


def _quick(scales: np.ndarray, margins: dict[str, np.ndarray]) -> list[tuple[float, str]]:
    """The smallest scale at which a margin falls to 1, and the part it is, for each row of margins."""
    count = len(next(iter(margins.values()), ())) // len(scales) or 1
    found = [(np.inf, "")] * count
    for name, margin in margins.items():
        for place, row in enumerate(margin.reshape(count, len(scales))):
            low = _first_below(scales, row)
            if low < found[place][0]:
                found[place] = low, name
    return found


def _first_below(scales: np.ndarray, margins: np.ndarray) -> float:
    """The scale at which a margin falls to 1, between two points by the powers that join them."""
    low, high = _crossing(scales, margins)
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
        margins = _sizes(*_together(design, [changes for *_, changes in offers], scales))
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
            if changes is not None and (budget is None or purchase.price * count <= budget):
                offers.setdefault(tuple(changes), []).append((purchase, count, changes))
    return list(offers.values())


def _together(design: Design, each: list[dict], scales: np.ndarray) -> tuple[Design, np.ndarray]:
    """One design as an array, each change at all scales in turn, and those scales."""
    changes = {
        path: None if value is None else np.repeat([float(e[path]) for e in each], len(scales))
        for path, value in each[0].items()
    }
    return with_values(design, changes), np.tile(scales, len(each))
