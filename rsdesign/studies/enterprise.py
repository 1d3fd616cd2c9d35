"""The enterprise budget of a design: quantities from the sizing, prices from the design or the list."""

from dataclasses import dataclass

import numpy as np

from ..costs import annual, labour
from ..costs.budget import Budget, budget, line, sold_weight
from ..pricelist import prices_of
from ..sizing import Sizing
from ..unitlist import DAY

YEAR = 365.25 * DAY


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """One part bought: how much of it, first cost, life, worth at the end, and its cost a year."""

    name: str
    label: str
    quantity: object
    kind: str
    cost: object
    life: object
    salvage: object
    annual: object
    straight: object


@dataclass(frozen=True, slots=True, eq=False)
class Work:
    """One task of the year: how often, for how many, and its time."""

    label: str
    part: str
    times: object
    count: object
    time: object
    basis: str


@dataclass(frozen=True, slots=True, eq=False)
class Enterprise:
    """What a design costs and brings in a full year."""

    sizing: Sizing
    budget: Budget
    items: tuple[Item, ...]
    work: tuple[Work, ...]
    batches: object
    investment: object
    energy: object
    own_prices: tuple[str, ...]
    amounts: dict
    """For each line that is so much of a thing at its price: the quantity and the price's name."""

    @property
    def energy_for_each(self):
        """Energy at the wall for each kg sold or eaten [J/kg]: a figure to check by."""
        return self.energy / (self.budget.sold + self.budget.home)

    @property
    def minutes_a_day(self):
        """Own work on a mean day [s]."""
        return self.budget.time / 365.25


ITEMS = (
    ("tank", "tank", "Tank", "volume", "life_tank"),
    ("settler", "settler", "Settler", "area", "life_settler"),
    ("media", "media", "Media", "media volume", "life_media"),
    ("vessel", "vessel", "Filter vessel", "media volume", "life_vessel"),
    ("air_machine", "air_machine", "Air machines", "power", "life_air"),
    ("stones", "stone", "Stones", "count", "life_stones"),
    ("pump", "pump", "Pump", "power", "life_pump"),
    ("pipe", "pipe", "Pipe", "length", "life_pipe"),
    ("backup", "backup", "Backup air", "count", "life_backup"),
    ("meters", "meters", "Meters and nets", "count", "life_meters"),
    ("electrics", "electrics", "Electrician", "count", "life_electrics"),
)
"""Parts bought: name, its price, words, the kind of its quantity, its life in the terms."""


def quantities(sizing: Sizing) -> dict:
    """How much of each part a design takes, in the plain units of its price."""
    s, design = sizing, sizing.design
    settler = np.where(design.solids.settler == "none", 0.0, 1.0) * s.solids.area
    return {
        "tank": s.tank.volume,
        "settler": settler,
        "media": s.filter.media_volume,
        "vessel": s.filter.vessel,
        "air_machine": s.air.wire_power,
        "stones": s.air.stones,
        "pump": s.pump.plate_watts,
        "pipe": design.pump.length + design.pump.drain_length,
        "backup": 0.0 if design.safety.backup == "none" else 1.0,
        "meters": 1.0,
        "electrics": 1.0,
    }


def bought(sizing: Sizing) -> tuple[Item, ...]:
    """Every part with its first cost, life and cost for each year."""
    prices, terms = prices_of(sizing.design), sizing.design.terms
    found = []
    amounts = quantities(sizing)
    for name, price, label, kind, life in ITEMS:
        quantity = amounts[name]
        cost = line.bare(quantity, prices[price].value)
        years, end = getattr(terms, life), cost * terms.salvage
        found.append(Item(
            name, label, quantity, kind, cost, years, end,
            annual.equivalent_annual.bare(cost, years, terms.rate, end),
            annual.straight_line.bare(cost, years, end),
        ))  # fmt: skip
    return tuple(found)


def methods(sizing: Sizing) -> dict[str, str]:
    """The method of each part that brings work of its own."""
    design = sizing.design
    return {
        "settler": design.solids.settler,
        "second": design.solids.second,
        "filter": design.filter.type,
    }


def year_of_work(sizing: Sizing, batches) -> tuple[Work, ...]:
    """Every task of a year with its time."""
    tanks = sizing.stock.tanks
    found = []
    for task in labour.done_with(methods(sizing)):
        times = labour.times_a_year(task.when, sizing.design.solids.drain_interval, batches)
        count = tanks if task.each == "tank" else 1.0
        time = labour.task_time.bare(task.minutes, times, count)
        found.append(Work(task.label, task.part, times, count, time, task.basis))
    return tuple(found)


def enterprise(sizing: Sizing, heating_energy=0.0) -> Enterprise:
    """The budget of a full year.

    ``heating_energy``: energy bought for heat in a year [J], from the heat study; 0 where the
    water is not heated.  Takes designs with arrays; the lines are then arrays.
    """
    s, d = sizing, sizing.design
    found = prices_of(d)
    price = {name: p.value for name, p in found.items()}
    harvest = s.stock.harvest * YEAR
    batches = harvest / (s.stock.fish * d.goal.weight)
    good = sold_weight.bare(harvest, d.terms.saleable, d.terms.loss_every, batches)
    home = good * d.terms.home_share
    sold = good - home
    energy = s.standby.watts * YEAR
    share = s.stock.mean_feed / s.stock.peak_feed
    fill = s.tank.volume / s.stock.cohorts * batches  # a batch empties its own tanks
    water = s.water.exchange * YEAR * share + fill
    treated = 0.0 if d.source.disinfectant == "none" else water
    work = year_of_work(s, batches)
    time = sum(w.time for w in work)
    items = bought(s)
    investment = sum(i.cost for i in items)
    amounts = {
        "sales": (sold, "fish"),
        "home_use": (home, "home_fish"),
        "fingerlings": (s.stock.to_stock * batches, "fingerling"),
        "feed": (s.stock.mean_feed * YEAR, "feed"),
        "electricity": (energy, "electricity"),
        "heating": (heating_energy, "electricity"),
        "water": (water, "water"),
        "dechlorinator": (treated, "dechlorinator"),
        "discharge": (water, "discharge"),
        "base": (s.water.bicarbonate_net * YEAR * share, "base"),
        "test_kits": (1.0, "test_kits"),
        "ice": (sold, "ice"),
        "supplies": (1.0, "supplies"),
        "labour": (time, "wage"),
        "permit": (1.0, "permit"),
    }
    lines = budget(
        rate=d.terms.rate,
        tied_up=d.terms.tied_up,
        **{name: line.bare(much, price[at]) for name, (much, at) in amounts.items()},
        equipment=sum(i.annual for i in items),
        repairs=line.bare(investment, d.terms.repairs),
        insurance=line.bare(investment, d.terms.insurance),
        sold=sold,
        home=home,
        time=time,
    )
    own = tuple(p.name for p in found.values() if p.source == "the design")
    return Enterprise(
        s, lines, items, work, batches, investment, energy + heating_energy, own, amounts
    )
