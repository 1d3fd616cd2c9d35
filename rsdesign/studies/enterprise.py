"""The enterprise budget of a design: quantities from the sizing, prices from the design or the list."""

import functools
from dataclasses import dataclass

import numpy as np

from ..core.equation import sum_step, with_labels
from ..core.kinds import KINDS, Number
from ..core.unit_table import DAY
from ..design.model import FIELDS
from ..design.prices import prices_of
from ..equations import makeup
from ..equations.costs import annual, labour, year
from ..equations.costs.budget import Budget, budget, line, sold_weight
from ..equations.tank import vessel
from ..sizing.system import Sizing
from .budget_lines import AS_QUOTED, PRICED
from .fishyear import DAYS, Allowed, in_a_year, year_of_fish

MONEY, MASS, COUNT, SHARE = (KINDS[name] for name in ("money", "mass", "count", "fraction"))
AMOUNT_OF = {
    "price of mass": "mass", "price of volume": "volume", "price of water": "volume",
    "price of media": "media volume", "price of area": "area", "price of length": "length",
    "price of energy": "energy", "price of power": "power", "money": "count",
}  # fmt: skip
"""The kind of what is bought, by the kind of its price."""


@functools.cache
def priced(words: str, price: str):
    """The relation of a budget line, as its working shows it: what is bought, and its price."""
    about = FIELDS[f"prices.{price}"]
    return with_labels(
        line, f"{words}: quantity times price",
        quantity=(KINDS[AMOUNT_OF[about.measure.name]], words.lower()),
        price=(about.kind, about.choice.label.lower()),
    )  # fmt: skip


@functools.cache
def with_feed(words: str, pace: str, amount: str):
    """What runs at a pace on the biggest day comes to in a year."""
    return with_labels(year.over_feed, f"{words} in a year", KINDS[amount],
                   pace=(KINDS[pace], words.lower() + " on the biggest day"),
                   feed=(MASS, "feed in a year"))  # fmt: skip


_GOOD = with_labels(sold_weight, "Fish sold or eaten in a mean year, lost batches counted", MASS,
                harvest_weight=(MASS, "harvest in a year", "H"))  # fmt: skip
_HOME = with_labels(year.portion, "Fish eaten at home", MASS, whole=(MASS, "fish sold or eaten", "Y"),
                share=(SHARE, "share eaten at home"))  # fmt: skip
_SOLD = with_labels(year.rest, "Fish sold", MASS, whole=(MASS, "fish sold or eaten", "Y"),
                less=(MASS, "fish eaten at home", "Y_h"))  # fmt: skip
_STOCKED = with_labels(year.repeated, "Fingerlings in a year", COUNT,
                   each=(COUNT, "fingerlings for a batch"),
                   times=(COUNT, "batches in a year", "n_b"))  # fmt: skip
_END = with_labels(year.portion, "Worth at the end", MONEY, whole=(MONEY, "first cost", "P"),
               share=(SHARE, "worth at the end, share of first cost"))  # fmt: skip
_REPAIRS = with_labels(year.portion, "Repairs", MONEY, whole=(MONEY, "first cost of all parts", "P"),
                   share=(SHARE, "repairs, share of first cost a year"))  # fmt: skip
_INSURANCE = with_labels(year.portion, "Insurance", MONEY, whole=(MONEY, "first cost of all parts", "P"),
                     share=(SHARE, "insurance, share of first cost a year"))  # fmt: skip
_LABOUR = with_labels(labour.labour_cost, "Own labour: hours times wage",
                  time=(KINDS["hours"], "own work in a year"))  # fmt: skip
_MINUTES = with_labels(year.times_in, "Own work on a mean day", KINDS["minutes"],
                   time=(KINDS["hours"], "own work in a year"),
                   interval=(COUNT, "days in a year"))  # fmt: skip
_ENERGY = with_labels(year.repeated, "Electricity, air and water, in a year", KINDS["energy"],
                  each=(KINDS["energy"], "energy in a day"),
                  times=(KINDS["days"], "days in use"))  # fmt: skip
_ENERGY_EACH = with_labels(year.for_each, "Energy for each weight of fish", KINDS["energy per fish"],
                       costs=(KINDS["energy"], "energy in a year", "E"))  # fmt: skip


@functools.cache
def _annual(label: str):
    return with_labels(annual.equivalent_annual, f"{label}: equal cost a year, with interest",
                   rate=(SHARE, "interest a year", "i"))  # fmt: skip


@functools.cache
def _task(label: str):
    return with_labels(labour.task_time, f"{label}: hours in a year", KINDS["hours"])


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """One part bought: how much of it, first cost, life, worth at the end, and its cost a year."""

    name: str
    label: str
    quantity: Number
    kind: str
    cost: Number
    life: Number
    salvage: Number
    annual: Number
    straight: Number


@dataclass(frozen=True, slots=True, eq=False)
class Work:
    """One task of the year: how often, for how many, and its time."""

    label: str
    part: str
    times: Number
    count: Number
    time: Number
    basis: str


@dataclass(frozen=True, slots=True, eq=False)
class Enterprise:
    """What a design costs and brings in a full year."""

    sizing: Sizing
    budget: Budget
    items: tuple[Item, ...]
    work: tuple[Work, ...]
    batches: Number
    investment: Number
    energy: Number
    own_prices: tuple[str, ...]
    amounts: dict
    """For each line that is so much of a thing at its price: the quantity and the price's name."""
    harvest: Number
    """Fish harvested in a year [kg]."""
    feed: Number
    """Feed of a year [kg]."""
    allowed: Allowed | None
    """The season, where the weather decides."""

    @property
    def energy_for_each(self):
        """Energy at the wall for each kg sold or eaten [J/kg]: a figure to check by."""
        return _ENERGY_EACH(self.energy, self.budget.sold, self.budget.home)

    @property
    def minutes_a_day(self):
        """Own work on a mean day [s]."""
        return _MINUTES(self.budget.time, DAYS)


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
    ("lid", "lid", "Lid", "area", "life_lid"),
    ("meters", "meters", "Meters and nets", "count", "life_meters"),
    ("electrics", "electrics", "Electrician", "count", "life_electrics"),
)
"""Parts bought: name, its price, words, the kind of its quantity, its life in the terms."""


def quantities(sizing: Sizing) -> dict:
    """How much of each part a design takes, in the plain units of its price; None of what it has not."""
    s, design = sizing, sizing.design
    settler = s.solids.area  # the very number, so that its working goes on from here
    if np.any(design.solids.settler == "none"):
        settler = np.where(design.solids.settler == "none", 0.0, 1.0) * settler
    return {
        "tank": s.tank.volume,
        "settler": settler,
        "media": s.filter.media_volume,
        "vessel": s.filter.vessel,
        "air_machine": sum_step("Air machines to buy, spares too", KINDS["power"], {
            "For the tank": s.air.plate_watts, "For the filter": s.bed.wire_power,
        }),
        "stones": s.air.stones,
        "pump": s.pump.plate_watts,
        "pipe": sum_step("Pipe to buy", KINDS["length"], {
            "To the tank": design.pump.length, "From the drain": design.pump.drain_length,
        }),
        "backup": 0.0 if design.safety.backup == "none" else 1.0,
        "lid": None
        if design.climate.cover == "none"
        else vessel.lid_area(s.tank.floor, s.stock.tanks, design.climate.cover_share),
        "meters": 1.0,
        "electrics": 1.0,
    }  # fmt: skip


def bought(sizing: Sizing) -> tuple[Item, ...]:
    """Every part with its first cost, life and cost for each year."""
    prices, terms = prices_of(sizing.design), sizing.design.terms
    found = []
    amounts = quantities(sizing)
    for name, price, label, kind, life in ITEMS:
        quantity = amounts[name]
        if quantity is None:
            continue
        cost = priced(label, price)(quantity, prices[price].value)
        years, end = getattr(terms, life), _END(cost, terms.salvage)
        found.append(Item(
            name, label, quantity, kind, cost, years, end,
            _annual(label)(cost, years, terms.rate, end),
            annual.straight_line(cost, years, end),
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


def year_of_work(sizing: Sizing, batches, running=DAYS) -> tuple[Work, ...]:
    """Every task of a year with its time; ``running``: days of the year in use."""
    tanks = sizing.stock.tanks
    found = []
    for task in labour.done_with(methods(sizing)):
        times = labour.times_a_year(
            task.when, sizing.design.solids.drain_interval, batches, running
        )
        count = tanks if task.each == "tank" else 1.0
        time = _task(task.label)(task.minutes, times, count)
        found.append(Work(task.label, task.part, times, count, time, task.basis))
    return tuple(found)


def enterprise(
    sizing: Sizing, heating_energy=0.0, evaporation=0.0, allowed: Allowed | None = None
) -> Enterprise:
    """The budget of a full year; designs with arrays give lines with arrays.

    Parameters:
        sizing: what ``size`` gives.
        heating_energy: energy bought for heat in a year [J], 0 or more, from the heat study.
        evaporation: water that a year takes into the air [m³], 0 or more, from the same.
        allowed: the season, where the weather decides; None keeps the water all year as warm as the
            design says.  ``studies.heat.yearly.full_year`` gives all three.
    Returns: ``Enterprise``: items, work and budget, in money and plain (SI) numbers.
    Source: ``equations.costs``; prices of ``data/prices.toml`` (invented) or the user's own, times
        of ``data/tasks.csv``.

    >>> from rsdesign import load, size
    >>> len(enterprise(size(load("family"))).items) >= 4
    True
    """
    s, d = sizing, sizing.design
    found = prices_of(d)
    days = DAYS if allowed is None else allowed.running
    harvest, batches, feed = year_of_fish(s, allowed)
    good = _GOOD(harvest, d.terms.saleable, d.terms.loss_every, batches)
    home = _HOME(good, d.terms.home_share)
    sold = _SOLD(good, home)
    energy = _ENERGY(s.standby.daily_energy, days)
    base = with_feed("Baking soda", "chemical dose", "mass")(
        s.water.bicarbonate_book, feed, s.stock.peak_feed
    )
    through, new = _year_of_water(s, feed, batches, days, evaporation)
    work = year_of_work(s, batches, days)
    time = sum_step("Own work in a year", KINDS["hours"], {w.label: w.time for w in work})
    items = bought(s)
    investment = sum_step("First cost", MONEY, {i.label: i.cost for i in items})
    amounts = {
        "sales": (sold, "fish"),
        "home_use": (home, "home_fish"),
        "fingerlings": (_STOCKED(s.stock.to_stock, batches), "fingerling"),
        "feed": (feed, "feed"),
        "electricity": (energy, "electricity"),
        "heating": (heating_energy, "electricity"),
        "water": (new, "water"),
        "dechlorinator": (0.0 if d.source.disinfectant == "none" else new, "dechlorinator"),
        "discharge": (through, "discharge"),
        "base": (base, "base"),
        "test_kits": (1.0, "test_kits"),
        "ice": (sold, "ice"),
        "supplies": (1.0, "supplies"),
        "labour": (time, "wage"),
        "permit": (1.0, "permit"),
    }
    lines = _lines(s, found, amounts, items, investment)
    every = sum_step(
        "Energy in a year", KINDS["energy"], {"Air and water": energy, "Heat": heating_energy}
    )
    own = tuple(p.name for p in found.values() if p.source == "the design")
    return Enterprise(
        s, lines, items, work, batches, investment, every, own, amounts, harvest, feed, allowed
    )


def _lines(s: Sizing, found, amounts: dict, items, investment) -> Budget:
    """The budget of the amounts of a year at their prices."""
    terms, price = s.design.terms, {name: p.value for name, p in found.items()}
    time = amounts["labour"][0]
    return budget(
        rate=terms.rate,
        tied_up=terms.tied_up,
        equipment=sum_step(
            "Equipment, each at its life", MONEY, {i.label: i.annual for i in items}
        ),
        repairs=_REPAIRS(investment, terms.repairs),
        insurance=_INSURANCE(investment, terms.insurance),
        labour=_LABOUR(time, price["wage"]),
        sold=amounts["sales"][0],
        home=amounts["home_use"][0],
        time=time,
        **{name: price[name] for name in AS_QUOTED},
        **{
            name: priced(words, kind)(amounts[name][0], price[kind]) for name, words, kind in PRICED
        },
    )


def _year_of_water(s: Sizing, feed, batches, days, evaporation):
    """Water that goes through in a year, and all that is bought."""
    through = sum_step("Water in a year", KINDS["volume"], {
        "New water": with_feed("New water", "daily flow", "volume")(
            s.water.exchange, feed, s.stock.peak_feed
        ),
        "Filling the tanks again": year.fillings(s.tank.volume, s.stock.cohorts, batches),
    })  # fmt: skip
    drops = in_a_year("Drops and leaks", "daily flow", "volume")(
        makeup.splash(s.tank.volume, s.design.makeup.splash), days * DAY
    )
    new = sum_step("Water bought in a year", KINDS["volume"], {
        "Water that goes through": through, "Water lost to the air": evaporation,
        "Water lost in drops and leaks": drops,
    })  # fmt: skip
    return through, new
