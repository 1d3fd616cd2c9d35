"""What a choice costs in a year: parts that do not touch each other add up; the whole by the enterprise budget."""

import numpy as np

from ...core.unit_table import DAY
from ...design.model import Design, with_values
from ...design.prices import prices_of
from ...equations.costs import annual
from ...equations.costs.budget import operating_interest
from ...equations.costs.year import portion
from ..enterprise import DAYS, enterprise
from .offers import PRICE, Offer


def item_year(design: Design, cost, life):
    """What a thing bought costs in a year: its loss of value with interest, repairs and insurance.  Arrays broadcast."""
    t = design.terms
    end = portion.__wrapped__(cost, t.salvage)
    return (
        annual.equivalent_annual.__wrapped__(cost, life, t.rate, end)
        + portion.__wrapped__(cost, t.repairs)
        + portion.__wrapped__(cost, t.insurance)
    )


def running_year(design: Design, money):
    """What running money costs, with the interest on it."""
    return money + operating_interest.__wrapped__(money, design.terms.rate, design.terms.tied_up)


def power_year(design: Design, watts, days: float):
    """What a draw at the wall costs over the days of a year in use."""
    return running_year(design, watts * DAY * days * prices_of(design)["electricity"].value)


def price_and_life(design: Design, offer: Offer) -> tuple[float, float]:
    """The price and the life of a thing: its own, else those of the design."""
    price, life = PRICE[offer.part]
    _, _, name = price.partition(".")
    found = offer.values.get(price)
    if found is None:
        found = prices_of(design)[name].value
    years = offer.values.get(life)
    return float(found), float(
        getattr(design.terms, life.partition(".")[2]) if years is None else years
    )


def unit_years(design: Design, offer: Offer) -> tuple[float, ...]:
    """What each unit of a thing costs in a year; a filter's media and vessel stand apart."""
    own = with_values(
        design, {p: v for p, v in offer.values.items() if p.startswith(("prices", "terms"))}
    )
    found = [float(item_year(own, *price_and_life(own, offer)))]
    if offer.part == "filter":
        found.append(float(item_year(own, prices_of(own)["vessel"].value, own.terms.life_vessel)))
    return tuple(found)


def cheapest_alike(design: Design, offers: tuple[Offer, ...]) -> list[int]:
    """The places of the offers that no other one undercuts which is the same thing: only these enter a product."""
    alike: dict[tuple, list[int]] = {}
    for place, offer in enumerate(offers):
        alike.setdefault(offer.physical, []).append(place)
    kept: list[int] = []
    for places in alike.values():
        years = {i: unit_years(design, offers[i]) for i in places} if len(places) > 1 else {}
        kept += [i for i in places if not any(_undercut(years, i, j) for j in places if j != i)]
    return sorted(kept)


def _undercut(years: dict[int, tuple[float, ...]], place: int, by: int) -> bool:
    """Whether one thing costs no more than another in anything, and less in something or stands before it."""
    mine, other = years[place], years[by]
    return all(a <= b for a, b in zip(other, mine, strict=True)) and (other != mine or by < place)


def goals(sizing, heating, evaporation, allowed) -> dict[str, np.ndarray]:
    """Cost a year, minutes to act, water bought a year and own work a year of many designs, in plain units."""
    found = enterprise(sizing, heating, evaporation, allowed)
    return {
        "cost": found.budget.costs,
        "minutes": sizing.standby.minutes_peak,
        "water": found.amounts["water"][0],
        "labour": found.budget.time,
        "investment": found.investment,
    }


def days_of(allowed) -> float:
    """Days of a year in use."""
    return DAYS if allowed is None else allowed.running
