"""Designs that stand in most draws: a quick forecast of each, by which the spread judges few of them in earnest.

The draws move the margins of one built design by certain ratios; to other designs of the same fish
they do nearly the same, where the filter is of one kind.  So one design with each filter is drawn, and
every margin of every design is multiplied by those ratios.  The forecast only orders what is judged; what is told is what the spread
finds for the very design.
"""

from dataclasses import dataclass

import numpy as np

from ...design.model import Design, with_values
from ...sizing.system import size
from ..spread.outcomes import NEAR
from ..spread.study import spread
from .costed import AFTER_FAILURE, Block, Shop, priced, under_lids
from .machines import cheapest_air
from .offers import Offer
from .sized import Placed, Wet, words

TO_STAND = 0.9
"""Share of the draws in which a design stands that is called sure: 9 in 10."""
LIKELY = 0.7
"""Forecasts below this are not judged in earnest: they fall short of what the spread finds by 0.05 to 0.17."""
DRAWS = 300
LEVELS = (LIKELY, 0.75, 0.8, 0.85, 0.9)
"""Forecasts from which a design is kept among those of its level."""
KEPT = 60
"""Designs kept of each level, the cheapest."""


def of_each_level(cost: np.ndarray, forecasts: np.ndarray) -> np.ndarray:
    """The places of the cheapest designs of each level of the forecast, all of them by cost."""
    level = np.searchsorted(LEVELS, forecasts, "right")
    order = np.argsort(cost, kind="stable")
    kept = [order[level[order] == k][:KEPT] for k in range(1, len(LEVELS) + 1)]
    found = np.concatenate(kept)
    return found[np.argsort(cost[found], kind="stable")]


@dataclass(frozen=True, eq=False)
class Forecast:
    """What each draw does to each margin, as ratios; and how much air is ample in nine draws of ten."""

    ratios: dict[str, np.ndarray]
    air: float

    def chances(self, margins: dict[str, np.ndarray]) -> np.ndarray:
        """The share of the draws in which every margin of a design stays enough."""
        count = len(next(iter(margins.values())))
        good = np.ones((count, DRAWS), bool)
        for name, ratio in self.ratios.items():
            if name not in margins:
                continue
            with np.errstate(divide="ignore"):  # a part that is not there falls short in every draw
                need = (1.0 - NEAR) / margins[name]
            some = np.flatnonzero(~(need <= ratio.min()))  # all others stand in every draw
            good[some] &= ratio >= need[some, None]
        return good.mean(axis=1)

    def may_stand(self, margins: dict[str, np.ndarray]) -> np.ndarray:
        """Whether no margin alone falls short in more draws than a forecast allows."""
        good = np.ones(len(next(iter(margins.values()))), bool)
        for name, ratio in self.ratios.items():
            if name in margins:
                good &= margins[name] * np.quantile(ratio, 1.0 - LIKELY) >= 1.0 - NEAR
        return good


def forecast(base: Design, filter_: Offer) -> Forecast:
    """The forecast that the draws of the open design with a filter allow, all else as the sizing takes it."""
    drawn = spread(size(with_values(base, words(filter_))), draws=DRAWS)
    found = {}
    for one in drawn.judged:
        if one.ratio and 0.0 < one.margin < np.inf:
            found[one.name] = drawn.outcomes.margins[one.name] / one.margin
    found[AFTER_FAILURE] = found["air"]
    return Forecast(found, float(1.0 / np.quantile(found["air"], 1.0 - TO_STAND)))


def likely(
    found: Wet, machines: list[Placed], days: float, shop: Shop, by: Forecast, failed: dict
) -> tuple[Block, np.ndarray] | None:
    """Designs that are likely to stand, each with the cheapest machine that gives ample air, and their forecasts."""
    block = priced(found, cheapest_air(found, machines, days, by.air), shop, failed)
    if block is None:
        return None
    block = block.rows(np.flatnonzero(by.may_stand(block.margins)))
    if not len(block):
        return None
    chances = by.chances(block.margins)
    good = np.flatnonzero(chances >= LIKELY)
    if not good.size:
        return None
    return block.rows(good), chances[good]


def cheapest_lid(block: Block, shop: Shop, design) -> Block:
    """Each design under the lid that costs least a year."""
    under = under_lids(block, shop, design)
    count = len(block)
    cost = under.goals["cost"].reshape(-1, count)
    return under.rows(cost.argmin(axis=0) * count + np.arange(count))
