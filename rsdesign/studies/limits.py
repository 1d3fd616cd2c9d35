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

LOWEST, HIGHEST, POINTS, FINE = 1e-4, 1e4, 97, 33
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
    bearings = _exact(design, base)
    return Limits(
        sizing=base,
        bearings=bearings,
        chosen=tuple(p.label for p in base.parts if p.capacity and not p.owned),
        buys=_buys(design, base, budget),
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


def _exact(design: Design, base: Sizing) -> tuple[Bearing, ...]:
    """Every part's root: a coarse grid for all parts, then a finer one for each, in one call."""
    coarse = np.geomspace(LOWEST, HIGHEST, POINTS)
    around = {name: _crossing(coarse, m) for name, m in _sizes(design, coarse).items()}
    for _ in range(4):
        fine = {n: np.geomspace(*x, FINE) for n, x in around.items() if 0 < x[0] < x[1] < np.inf}
        if not fine:
            break
        margins = _sizes(design, np.concatenate(list(fine.values())))
        for place, (name, grid) in enumerate(fine.items()):
            part = margins[name][place * FINE : (place + 1) * FINE]
            around[name] = _crossing(grid, part)
    found = [_bearing(base, name, low) for name, (low, _) in around.items()]
    return tuple(sorted(found, key=lambda bearing: bearing.feed))


def _quick(design: Design, changes: dict[str, np.ndarray] | None = None) -> list[tuple]:
    """The smallest scale at which a margin falls to 1, from one grid, and the part it is.

    ``changes`` hold choices as arrays of K; all K designs are computed in one call, and K pairs of scale
    and part come back (one, without changes).
    """
    count = len(next(iter(changes.values()))) if changes else 1
    scales = np.geomspace(LOWEST, HIGHEST, POINTS)
    if changes:
        design = with_values(design, {path: np.repeat(v, POINTS) for path, v in changes.items()})
    found = [(np.inf, "")] * count
    for name, margins in _sizes(design, np.tile(scales, count)).items():
        for place, row in enumerate(margins.reshape(count, POINTS)):
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


def _buys(design: Design, base: Sizing, budget: float | None) -> tuple[NextBuy, ...]:
    """For each purchase, the number that gains most feed for the money."""
    now = _quick(design)[0][0]
    found = []
    for purchase in purchases():
        counts = [n for n in COUNTS if budget is None or purchase.price * n <= budget]
        each = [bought(base, purchase, n) for n in counts]
        if not each or each[0] is None:
            continue
        best = None
        for count, (scale, then) in zip(counts, _quick(*_together(design, each)), strict=True):
            cost = purchase.price * count
            gain = float(base.stock.peak_feed * (scale - now)) if np.isfinite(scale) else 0.0
            if best is None or gain / cost > best.gain_for_money * (1 + 1e-9):
                best = NextBuy(purchase, count, cost, gain, gain / cost, then)
        if best is not None and best.gain > 1e-12:
            found.append(best)
    return tuple(sorted(found, key=lambda buy: -buy.gain_for_money))


def _together(design: Design, each: list[dict]) -> tuple[Design, dict[str, np.ndarray]]:
    """The design with what all changes share, and the numbers in which they differ."""
    numbers = {
        p: np.array([e[p] for e in each], float) for p, v in each[0].items() if v is not None
    }
    shared = {path: None for path, value in each[0].items() if value is None}
    return with_values(design, shared), numbers
