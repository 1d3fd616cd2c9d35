"""What one already owns: the feed each part can bear, the smallest first, and what to buy next.

A part's capacity is the feed at which its margin is 1.  Many margins are not linear in feed, so
it is found as a root: the number of fish is scaled and the whole sizing computed, for all scales
in one call.  Parts that the sizing itself chose grow with the load and are never the limit.
"""

from dataclasses import dataclass

import numpy as np

from ..design import Design, check, with_values
from ..sizing import Sizing, _size, size

LOWEST, HIGHEST = 1e-4, 1e4
COARSE, FINE, ROUNDS = 65, 17, 6
TIE = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """What one part can bear: feed for each time [kg/s], and the fish that eat it."""

    part: str
    label: str
    feed: float
    fish: float
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """Every owned part with the feed it can bear, smallest first."""

    sizing: Sizing
    bearings: tuple[Bearing, ...]
    chosen: tuple[str, ...]
    assumed: tuple[str, ...]

    @property
    def first(self) -> Bearing | None:
        """The part that gives out first; None when nothing is owned."""
        return self.bearings[0] if self.bearings else None

    @property
    def ties(self) -> tuple[str, ...]:
        """The labels of all parts that give out together with the first."""
        if not self.bearings:
            return ()
        edge = self.first.feed * (1 + TIE) + 1e-15
        return tuple(b.label for b in self.bearings if b.feed <= edge)


def limits(design: Design) -> Limits:
    """The carrying capacity of what one owns.

    Takes one design (no arrays).  Raises ``DesignError`` when it cannot be computed.
    """
    check(design)
    base = size(design)
    names = [part.name for part in base.parts if part.capacity and part.owned]
    with np.errstate(all="ignore"):
        found = [_bearing(design, base, name) for name in names]
    chosen = tuple(p.label for p in base.parts if p.capacity and not p.owned)
    return Limits(
        base,
        tuple(sorted(found, key=lambda bearing: bearing.feed)),
        chosen,
        assumed(base),
    )


def scaled(design: Design, scales: np.ndarray) -> Design:
    """The design with its fish scaled, as an array of designs."""
    path = "goal.fish" if design.goal.fish is not None else "goal.harvest"
    value = design.goal.fish if path == "goal.fish" else design.goal.harvest
    return with_values(design, {path: value * scales})


def _margins(design: Design, name: str, scales: np.ndarray) -> np.ndarray:
    part = next(p for p in _size(scaled(design, scales)).parts if p.name == name)
    return np.broadcast_to(part.margin, scales.shape)


def _bearing(design: Design, base: Sizing, name: str) -> Bearing:
    """The scale at which a part's margin falls to 1, in rounds of a finer and finer grid."""
    part = next(p for p in base.parts if p.name == name)
    low, high = LOWEST, HIGHEST
    count = COARSE
    for _ in range(ROUNDS):
        scales = np.geomspace(low, high, count)
        good = np.nan_to_num(_margins(design, name, scales), nan=0.0) >= 1.0
        last = int(np.argmin(good)) - 1 if not good.all() else count - 1
        if last < 0:
            return _found(part, base, 0.0)
        if last == count - 1:
            return _found(part, base, np.inf)
        low, high = scales[last], scales[last + 1]
        count = FINE
    return _found(part, base, float(np.sqrt(low * high)))


def _found(part, base: Sizing, scale: float) -> Bearing:
    feed, fish = base.stock.peak_feed * scale, base.stock.fish * scale
    words = part.label
    if part.name == "filter" and scale > 0:
        words = f"{part.label} ({held_back(base)})"
    return Bearing(part.name, part.label, float(feed), float(np.floor(fish + 1e-9)), words)


def held_back(sizing: Sizing) -> str:
    """What holds the filter back, in words."""
    from ..parts.biofilter import LIMITED_BY  # noqa: PLC0415

    what = LIMITED_BY[int(np.max(sizing.filter.limited_by))]
    return {"area": "its surface", "flow": "the flow to it", "both": "surface and flow"}[what]


def assumed(sizing: Sizing) -> tuple[str, ...]:
    """What the sizing took where the design says nothing: a sentence each."""
    from ..assumptions import assumptions  # noqa: PLC0415

    return assumptions(sizing)
