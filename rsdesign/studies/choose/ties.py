"""What costs the same as a part of the cheapest design, within the doubt of the prices."""

from dataclasses import dataclass

import numpy as np

from ...sizing.system import Sizing
from .member import PARTS, Member, doubt_between, member, places_at, tied
from .money import unit_years
from .offers import Offers
from .search import Search

LOOKED_AT = 40
"""Designs near the cheapest that are looked at in full."""


@dataclass(frozen=True, eq=False)
class Tie:
    """One part of the cheapest design and another thing that would do for the same money.

    ``more``: what it costs more a year; less than the doubt of the two prices.
    """

    part: str
    name: str
    other: str
    more: float
    doubt: float


def ties(cheapest: Member, found: Search, sizing: Sizing) -> tuple[Tie, ...]:
    """For every part the other things on the list that cost the same, all else as it is."""
    rows = _alike(cheapest, found.shop.for_sale, sizing) + _swapped(cheapest, found)
    kept: dict[tuple, Tie] = {}
    for row in sorted(rows, key=lambda tie: tie.more):
        kept.setdefault((row.part, row.other), row)
    return tuple(sorted(kept.values(), key=lambda tie: (PARTS.index(tie.part), tie.more)))


def _alike(cheapest: Member, for_sale: Offers, sizing: Sizing) -> list[Tie]:
    """The same size of another make: it changes nothing but the money."""
    rows = []
    for part, mine in cheapest.offers.items():
        for other in for_sale.part(part):
            if other.physical != mine.physical or other.name == mine.name:
                continue
            here, there = (sum(unit_years(sizing.design, o)) for o in (mine, other))
            year = cheapest.years[part]
            more = year * (there / here - 1.0) if here else 0.0
            doubt = ((mine.doubt * year) ** 2 + (other.doubt * (year + more)) ** 2) ** 0.5
            if abs(more) <= doubt:
                rows.append(Tie(part, mine.name, other.name, more, doubt))
    return rows


def _swapped(cheapest: Member, found: Search) -> list[Tie]:
    """Designs near the cheapest in which one thing is another one."""
    block = found.best
    assert block is not None  # there is a cheapest one
    at = np.array([block.places[part] for part in PARTS])
    mine = np.array([[cheapest.places[part]] for part in PARTS])
    differs = at != mine
    one = np.flatnonzero(differs.sum(axis=0) == 1)
    one = one[np.argsort(block.goals["cost"][one], kind="stable")]
    rows: list = []
    seen: set = set()
    for row in one:
        part = PARTS[int(differs[:, row].argmax())]
        other = found.shop.for_sale.part(part)[int(block.places[part][row])]
        if other.name == cheapest.offers[part].name or (part, other.name) in seen:
            continue
        if len(seen) >= LOOKED_AT:
            break
        seen.add((part, other.name))
        made = member(found.sizing, found.shop, places_at(block, int(row)))
        if tied(cheapest, made):
            more = made.goals["cost"] - cheapest.goals["cost"]
            doubt = doubt_between(cheapest, made)
            rows.append(Tie(part, cheapest.offers[part].name, other.name, more, doubt))
    return rows
