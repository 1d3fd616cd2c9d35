"""One design of the search in full: the design itself, its sizing, what each part costs a year, and its doubt."""

import functools
from dataclasses import dataclass

import numpy as np

from ...design.model import Design, value_of, with_values
from ...sizing.system import Sizing, size
from ..enterprise import bought
from ..spread.study import Spread, spread
from . import levels
from .costed import Block, Shop
from .feasible import WATTS, mended
from .money import goals
from .offers import PRICE, SETS, Offer
from .sized import words

ITEMS_OF = {
    "tank": ("tank",), "settler": ("settler",), "filter": ("media", "vessel"), "air": ("air_machine",),
    "pump": ("pump",), "pipe": ("pipe",), "backup": ("backup",), "lid": ("lid",),
}  # fmt: skip
"""The lines of the budget that stand for each part."""
PARTS = tuple(SETS)
"""Every part, in the order of the water."""


@dataclass(frozen=True, eq=False)
class Member:
    """One design put together of parts for sale."""

    places: dict[str, int]
    offers: dict[str, Offer]
    design: Design
    sizing: Sizing
    goals: dict[str, float]
    """Cost a year [money], minutes to act [s], water bought in a year [m³], own work in a year [s], first cost."""
    years: dict[str, float]
    """What each part costs a year: loss of value with interest, repairs and insurance [money]."""

    @functools.cached_property
    def chance(self) -> float:
        """Share of the draws of a spread in which everything keeps standing that what is bought can change."""
        return parts_stand(spread(self.sizing))

    @functools.cached_property
    def quick_chance(self) -> float:
        """The same by fewer draws."""
        return parts_stand(spread(self.sizing, draws=FEW))


FEW = 500
"""Draws of a quick chance."""


def parts_stand(found: Spread) -> float:
    """The share of the draws in which every margin and check keeps standing that parts can change.

    A check that asks what the power costs is none of them: the cost of a year tells that.
    """
    judged = [
        found.outcomes.stands[one.name]
        for one in found.judged
        if one.stands and (one.row is None or (mended(one.row) and one.row.figure != WATTS))
    ]
    return float(np.all(judged, axis=0).mean())


def member(sizing: Sizing, shop: Shop, places: dict[str, int]) -> Member:
    """The design of some places among the offers, for the fish and the place of a sizing."""
    offers = {part: shop.for_sale.part(part)[place] for part, place in places.items()}
    design = design_of(sizing, shop, places, offers)
    found = size(design)
    surface = float(found.tank.floor * found.stock.tanks)
    lid, year = places["lid"], shop.year
    reached = goals(
        found,
        float(year.heating[lid]) * surface,
        float(year.evaporation[lid]) * surface,
        year.allowed,
    )
    return Member(
        places, offers, design, found, {k: float(v) for k, v in reached.items()}, years_of(found)
    )


def design_of(
    sizing: Sizing, shop: Shop, places: dict[str, int], offers: dict[str, Offer]
) -> Design:
    """The design with these parts told, their prices and lives with them; what is built to measure in its size."""
    values: dict = {}
    for offer in offers.values():
        values |= words(offer)
    values |= shop.pricing.values({part: np.array(place) for part, place in places.items()})
    open_ = with_values(levels.opened(sizing), values)
    if open_.solids.settler != "none":
        area = float(size(open_).solids.required) * offers["settler"].times
        open_ = with_values(open_, {"solids.area": area})
    media = float(size(open_).filter.media_volume) * offers["filter"].times
    return with_values(open_, {"filter.media_volume": media})


def places_at(block: Block, row: int) -> dict[str, int]:
    """The places of one design of a block."""
    return {part: int(block.places[part][row]) for part in PARTS}


def years_of(sizing: Sizing) -> dict[str, float]:
    """What each part of a design costs in a year."""
    terms, items = sizing.design.terms, {item.name: item for item in bought(sizing)}
    shares = terms.repairs + terms.insurance
    found = {}
    for part, names in ITEMS_OF.items():
        there = [items[name] for name in names if name in items]
        found[part] = float(sum(item.annual + item.cost * shares for item in there))
    return found


def doubt_between(one: Member, other: Member) -> float:
    """How far the difference of two costs is in doubt, by the doubt of prices alone [money a year].

    A price that both pay falls out but for the amounts in which they differ; prices of different things
    are in doubt apart from each other, so their doubts add as squares.
    """
    total = 0.0
    for part in PARTS:
        a, b = one.offers[part], other.offers[part]
        if same_price(a, b):
            total += (a.doubt * (one.years[part] - other.years[part])) ** 2
        else:
            total += (a.doubt * one.years[part]) ** 2 + (b.doubt * other.years[part]) ** 2
    return total**0.5


def same_price(a: Offer, b: Offer) -> bool:
    """Whether two offers are sizes of one thing at one price."""
    price, _ = PRICE[a.part]
    return a.name == b.name and a.values.get(price) == b.values.get(price)


def tied(one: Member, other: Member) -> bool:
    """Whether two designs cost the same, as far as their prices are known."""
    return abs(one.goals["cost"] - other.goals["cost"]) <= doubt_between(one, other)


def changed(present: Design, design: Design) -> dict:
    """The choices in which a design differs from the present one, prices and lives left out, as pairs."""
    from ...design.model import FIELDS  # noqa: PLC0415

    found = {}
    for path in FIELDS:
        before, after = value_of(present, path), value_of(design, path)
        if before != after and not path.startswith(("prices.", "terms.", "name", "note")):
            found[path] = (before, after)
    return found
