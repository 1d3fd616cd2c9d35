"""Every combination of what is for sale, a chunk at a time: what stands, and the fronts of cost against each goal."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ...sizing.system import Sizing
from . import levels
from .costed import Block, Shop, joined, priced, pricing, under_lids, year_of
from .front import front
from .machines import cheapest_air
from .money import cheapest_alike, days_of
from .offers import Offers
from .sized import wet
from .sure import cheapest_lid, forecast, likely, of_each_level

GOALS = {"minutes": True, "water": False, "labour": False}
"""What stands against the cost of a year, and whether more of it is better."""
KEPT = 1000
"""Designs kept beside the fronts: the cheapest, in order of their cost, for the draws to judge."""


class Cancelled(Exception):  # noqa: N818  (a wish, not an error)
    """Whoever asked for the study wants it no longer."""


@dataclass(eq=False)
class Search:
    """What a search has found so far."""

    sizing: Sizing
    shop: Shop
    best: Block | None = None
    """Members of any front, and the cheapest designs, each once."""
    stood: int = 0
    """Designs that stand, with the air machine and the backup that cost least, each lid counted."""
    sized: int = 0
    """Designs sized as a whole."""
    sure: Block | None = None
    """Designs that are likely to stand in nine draws of ten, by cost, and the forecast of each."""
    forecasts: np.ndarray = field(default_factory=lambda: np.zeros(0))
    failed: dict[str, int] = field(default_factory=dict)
    """How often each margin or check refused a part or a design."""

    def take(self, block: Block) -> None:
        """Put designs beside those found before, and keep what may still be wanted."""
        self.stood += len(block)
        block = keep(block)
        self.best = keep(block if self.best is None else joined([self.best, block]))

    def take_likely(self, block: Block, chances: np.ndarray) -> None:
        """Put designs that are likely to stand beside those found before, and keep the cheapest."""
        if self.sure is not None:
            block = joined([self.sure, block])
            chances = np.concatenate([self.forecasts, chances])
        order = of_each_level(block.goals["cost"], chances)
        self.sure, self.forecasts = block.rows(order), chances[order]


def keep(block: Block, most: int = KEPT) -> Block:
    """The members of the fronts and the cheapest designs; of one design under several lids the cheapest."""
    cost = block.goals["cost"]
    wanted = [front(cost, block.goals[name], more) for name, more in GOALS.items()]
    wanted.append(np.argsort(cost, kind="stable")[:most])
    return block.rows(np.unique(np.concatenate(wanted)))


def search(
    sizing: Sizing,
    for_sale: Offers,
    progress: Callable[[float, str], Any] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Search:
    """Every combination of parts for one design.

    Parameters:
        sizing: what ``size`` gives, of one design.
        for_sale: what ``offers`` gives.
        progress: called with the share that is done, from 0 to 1, and what is done now, in words.
        cancelled: asked between chunks; the search ends with ``Cancelled`` where it is true.
    Returns: the ``Search``.
    """
    shop = Shop(for_sale, pricing(sizing.design, for_sale), year_of(sizing, for_sale))
    found = Search(sizing, shop)
    for share, words in steps(found):
        if cancelled is not None and cancelled():
            raise Cancelled
        if progress is not None:
            progress(share, words)
    return found


def steps(found: Search) -> Iterator[tuple[float, str]]:
    """The search, a chunk between two steps."""
    for_sale = found.shop.for_sale
    base, failed = levels.opened(found.sizing), found.failed
    yield 0.0, "Tanks and pumps"
    of_tanks = levels.tanks(base, for_sale, failed)
    with_pumps = levels.pumps(base, for_sale, failed)
    by = {}
    days = days_of(found.shop.year.allowed)
    settlers = _placed(base, for_sale, "settler")
    filters = _by_medium(_placed(base, for_sale, "filter"))
    machines = _placed(base, for_sale, "air")
    rounds = [(t, s, f) for t in of_tanks for s in settlers for f in filters]
    for done, (of, settler, sizes) in enumerate(rounds):
        yield done / len(rounds), f"{settler[1].name}, {sizes[0][1].name}"
        pairs = levels.pairs(of, with_pumps, failed)
        for part in wet(of, with_pumps, pairs, settler, sizes, failed):
            if part is not None:
                found.sized += len(part)
                block = priced(part, cheapest_air(part, machines, days), found.shop, failed)
                if block is not None:
                    found.take(under_lids(block, found.shop, base))
                key = sizes[0][0]
                if key not in by:
                    by[key] = forecast(base, sizes[0][1])
                sure = likely(part, machines, days, found.shop, by[key], {})
                if sure is not None:
                    found.take_likely(cheapest_lid(sure[0], found.shop, base), sure[1])
            yield done / len(rounds), f"{settler[1].name}, {sizes[0][1].name}"
    yield 1.0, "The front"


def _placed(base, for_sale: Offers, part: str) -> list:
    every = for_sale.part(part)
    return [(place, every[place]) for place in cheapest_alike(base, every)]


def _by_medium(placed: list) -> list[list]:
    """Filters of one kind and medium together: they differ in size."""
    groups: dict[tuple, list] = {}
    for place, offer in placed:
        key = (offer.name, offer.values.get("filter.type"), offer.values["filter.medium"])
        groups.setdefault(key, []).append((place, offer))
    return list(groups.values())
