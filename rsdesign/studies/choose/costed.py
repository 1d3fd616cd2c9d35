"""What the designs that stand cost in a year, with the cheapest backup that will do and with each lid."""

from dataclasses import dataclass, fields, replace

import numpy as np

from ...core.unit_table import DAY
from ...design.model import Design, with_values
from ...design.prices import prices_of
from ...sizing.checks.forms import stands
from ...sizing.checks.rows import PartRow
from ...sizing.system import Sizing
from ..enterprise import DAYS
from ..growing import START_UP
from ..heat.brief import year_brief
from ..heat.season import YEAR as CALENDAR_DAYS
from ..heat.yearly import HEATED, NONE, NOT_KNOWN, UNSETTLED, WEATHER, Weathered, weathered
from . import feasible
from .feasible import margin_of, ratios
from .machines import Aired, built
from .money import goals, item_year, price_and_life, running_year
from .offers import PRICE, Offers
from .sized import Wet, picked, words

HAND, ITSELF = "by hand", "by itself"


@dataclass(frozen=True, eq=False)
class Year:
    """The year of the present design, which all designs are given, so that all grow the same fish.

    ``allowed`` is its season.  For each lid: what each area of water gives to the air in a year [m],
    and the heat bought for it [J/m²].
    """

    allowed: object
    evaporation: np.ndarray
    heating: np.ndarray


def year_of(sizing: Sizing, for_sale: Offers) -> Year:
    """The year of the present design under each lid, on the days of its own season."""
    now, lids = weathered(sizing), for_sale.part("lid")
    nothing = np.zeros(len(lids))
    if now.basis in (NOT_KNOWN, UNSETTLED) or sizing.design.climate.weather is None:
        return Year(now.allowed, nothing, nothing)
    held = now.basis in (HEATED, NONE)
    days = _days(sizing, now)
    surface = float(np.max(sizing.tank.floor * sizing.stock.tanks))
    under = [
        year_brief(replace(sizing, design=with_values(sizing.design, words(lid))), held)
        for lid in lids
    ]
    evaporation = [found.evaporation[days].sum() * DAY / surface for found in under]
    heat = [found.heat / surface if held else 0.0 for found in under]
    return Year(now.allowed, np.array(evaporation), np.array(heat))


def _days(sizing: Sizing, now: Weathered) -> np.ndarray:
    """The days of the year on which the tanks of the present design are full."""
    if now.basis != WEATHER or now.allowed is None or now.allowed.running >= DAYS:
        return np.arange(CALENDAR_DAYS)
    first = year_brief(sizing, False).run.first - int(START_UP)
    count = min(round(float(now.allowed.running)), CALENDAR_DAYS)
    return (first + np.arange(count)) % CALENDAR_DAYS


@dataclass(frozen=True, eq=False)
class Block:
    """Designs that stand: the places of their offers by part, and what each costs and gives."""

    places: dict[str, np.ndarray]
    goals: dict[str, np.ndarray]
    margins: dict[str, np.ndarray]
    surface: np.ndarray
    """Water surface of all tanks [m²]."""

    def __len__(self) -> int:
        return len(self.goals["cost"])

    def rows(self, places) -> "Block":
        """Some of its rows."""
        chosen, goals, margins = (
            {k: v[places] for k, v in d.items()} for d in (self.places, self.goals, self.margins)
        )
        return Block(chosen, goals, margins, self.surface[places])


def joined(blocks: list[Block]) -> Block:
    """Blocks as one."""
    first = blocks[0]
    places, goals, margins = (
        {k: np.concatenate([getattr(b, name)[k] for b in blocks]) for k in getattr(first, name)}
        for name in ("places", "goals", "margins")
    )
    return Block(places, goals, margins, np.concatenate([b.surface for b in blocks]))


@dataclass(frozen=True, eq=False)
class Pricing:
    """The price and the life of every offer, by part; of filters the vessel's too."""

    by_part: dict[str, dict[str, np.ndarray]]

    def values(self, places: dict) -> dict:
        """Prices and lives of the offers chosen, by their paths in a design; one number where all are alike."""
        found = {}
        for part, at in places.items():
            for path, column in self.by_part[part].items():
                chosen = np.asarray(column[at])
                same = chosen.ndim == 0 or (chosen == chosen[0]).all()
                found[path] = float(chosen.flat[0]) if same else chosen
        return found


def pricing(design: Design, for_sale: Offers) -> Pricing:
    """Prices and lives of everything for sale; those of the design where an offer names none."""
    found = {}
    for part, (price, life) in PRICE.items():
        both = np.array([price_and_life(design, o) for o in for_sale.part(part)], float)
        found[part] = {price: both[:, 0], life: both[:, 1]}
    for path in ("prices.vessel", "terms.life_vessel"):
        told = [o.values.get(path) for o in for_sale.part("filter")]
        if any(v is not None for v in told):
            given = _of_design(design, path)
            found["filter"][path] = np.array([given if v is None else v for v in told], float)
    return Pricing(found)


def _of_design(design: Design, path: str) -> float:
    section, _, name = path.partition(".")
    return float(
        prices_of(design)[name].value if section == "prices" else getattr(design.terms, name)
    )


def cheapest_backup(sizing: Sizing, for_sale: Offers, failed: dict) -> np.ndarray:
    """For each design the place of the backup that costs least a year and will do; -1 where none does.

    One that a hand must open will do only where someone stands at the tank within the short end of the
    minutes to act: money is never saved at the cost of the backup.
    """
    offers = for_sale.part("backup")
    count = len(np.atleast_1d(sizing.tank.volume))
    will_do = {}
    for word in (HAND, ITSELF):
        said = replace(sizing, design=with_values(sizing.design, {"safety.backup": word}))
        will_do[word] = feasible.all_stand(said, feasible.BACKUP, count)
        if word == HAND:
            will_do[word] &= np.asarray(sizing.standby.minutes_low >= sizing.design.safety.answer)
    best, least = np.full(count, -1), np.full(count, np.inf)
    for place, offer in enumerate(offers):
        cost = float(item_year(sizing.design, *price_and_life(sizing.design, offer)))
        less = will_do[offer.values["safety.backup"]] & (cost < least)
        best[less], least[less] = place, cost
    if (best < 0).any():
        label = "A backup that is there in time"
        failed[label] = failed.get(label, 0) + int((best < 0).sum())
    return best


@dataclass(frozen=True, eq=False)
class Shop:
    """What is for sale, its prices, and the year that all designs are given."""

    for_sale: Offers
    pricing: Pricing
    year: Year


def priced(found: Wet, machine: Aired, shop: Shop, failed: dict) -> Block | None:
    """The designs with their air machines, the cheapest backup that will do, and no lid.

    ``None`` where no machine or no backup will do for any.
    """
    some = np.flatnonzero(machine.place >= 0)
    if not some.size:
        return None
    part = found.rows(some)
    aired = replace(machine, **{f.name: getattr(machine, f.name)[some] for f in fields(machine)})
    made = built(part, aired)
    backup = cheapest_backup(made, shop.for_sale, failed)
    good = np.flatnonzero(backup >= 0)
    if not good.size:
        return None
    made = picked(made, good)
    places = {k: x[good] for k, x in part.places.items()}
    places |= {"air": aired.place[good], "backup": backup[good]}
    values = shop.pricing.values(places) | {"safety.backup": ITSELF, "climate.cover": "none"}
    made = replace(made, design=with_values(made.design, values))  # any backup is one thing bought
    count = len(good)
    found_goals = goals(made, 0.0, 0.0, shop.year.allowed)
    off = aired.after_failure[good] / (made.air.required * made.air.mean_demand / made.air.demand)
    return Block(
        {k: np.asarray(v, np.int32) for k, v in places.items()},
        {k: np.broadcast_to(np.asarray(v, float), (count,)) for k, v in found_goals.items()},
        {**margins_of(made), AFTER_FAILURE: np.asarray(off)},
        np.broadcast_to(np.asarray(made.tank.floor * made.stock.tanks, float), (count,)),
    )


AFTER_FAILURE = "air after a failure"
"""A margin beside those of parts and checks: air with the largest machine off over the mean need."""


def margins_of(sizing: Sizing) -> dict[str, np.ndarray]:
    """Every margin that is a ratio and that draws may move, by the name that draws know it by."""
    found = {}
    count = len(np.atleast_1d(sizing.tank.volume))
    for name, row in ratios():
        margin = (
            margin_of(sizing, row)
            if isinstance(row, PartRow)
            else (stands(sizing, row) or (True, np.inf))[1]
        )
        found[name] = np.broadcast_to(np.asarray(margin, float), (count,))
    return found


def under_lids(block: Block, shop: Shop, design: Design) -> Block:
    """The same designs under each lid: what it costs, and what it saves of water and heat, adds up."""
    year, blocks = shop.year, []
    price = {name: p.value for name, p in prices_of(design).items()}
    treated = 0.0 if design.source.disinfectant == "none" else price["dechlorinator"]
    share = design.climate.cover_share
    for lid, offer in enumerate(shop.for_sale.part("lid")):
        none = offer.values["climate.cover"] == "none"
        cost, life = price_and_life(design, offer)
        bought = 0.0 * block.surface if none else cost * block.surface * share
        water = year.evaporation[lid] * block.surface
        heat = year.heating[lid] * block.surface
        running = running_year(
            design, water * (price["water"] + treated) + heat * price["electricity"]
        )
        more = {
            "cost": item_year(design, bought, life) + running,
            "water": water,
            "investment": bought,
        }
        blocks.append(
            replace(
                block,
                places=block.places | {"lid": np.full(len(block), lid, np.int32)},
                goals={k: v + more.get(k, 0.0) for k, v in block.goals.items()},
            )
        )
    return joined(blocks)
