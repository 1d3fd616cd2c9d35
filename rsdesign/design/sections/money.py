"""Prices, lives and the terms of the money; a price left out is taken from the price list."""

from ...core.choices import choice
from ...core.kinds import (
    Days,
    Fraction,
    Money,
    PriceOfArea,
    PriceOfEnergy,
    PriceOfLength,
    PriceOfMass,
    PriceOfMedia,
    PriceOfPower,
    PriceOfVolume,
    PriceOfWater,
    Wage,
    Years,
)
from .section import RULE, section

QUOTE = "your quote; left out, the invented price list"


def _price(low: str, high: str, label: str, help: str = ""):
    return choice(None, low, high, label=label, help=help, source=QUOTE)


def _life(years: float, label: str):
    return choice(years, 0.5, 60.0, label=label, source=RULE)


@section()
class Prices:
    """What things cost here; each left out comes from the price list."""

    currency: str = choice("$", label="Currency", help="A label only.", source="the user")
    fish: PriceOfMass | None = _price("0 per lb", "500 per lb", "Price of fish sold")
    home_fish: PriceOfMass | None = _price(
        "0 per lb", "500 per lb", "What fish eaten at home would have cost"
    )
    feed: PriceOfMass | None = _price("0 per lb", "100 per lb", "Price of feed")
    fingerling: Money | None = choice(
        None, 0.0, 1000.0, label="Price of a fingerling", source=QUOTE
    )
    electricity: PriceOfEnergy | None = _price("0 per kWh", "10 per kWh", "Price of electricity")
    wage: Wage | None = _price(
        "0 per h",
        "1000 per h",
        "What an hour of work is worth",
        "Costs are shown with own hours unpaid too.",
    )
    water: PriceOfWater | None = _price("0 per 1000 gal", "1000 per 1000 gal", "Price of water")
    discharge: PriceOfWater | None = _price(
        "0 per 1000 gal", "1000 per 1000 gal", "Price of letting water go"
    )
    base: PriceOfMass | None = _price("0 per lb", "100 per lb", "Price of baking soda")
    dechlorinator: PriceOfWater | None = _price(
        "0 per 1000 gal", "1000 per 1000 gal", "Price of taking the chlorine out"
    )
    ice: PriceOfMass | None = _price("0 per lb", "100 per lb", "Ice for each weight of fish")
    test_kits: Money | None = choice(None, 0.0, 1e5, label="Test kits in a year", source=QUOTE)
    supplies: Money | None = choice(None, 0.0, 1e6, label="Small things in a year", source=QUOTE)
    permit: Money | None = choice(None, 0.0, 1e5, label="Permit in a year", source=QUOTE)
    tank: PriceOfVolume | None = _price("0 per gal", "1000 per gal", "Price of tank")
    settler: PriceOfArea | None = _price("0 per ft²", "10000 per ft²", "Price of settler")
    media: PriceOfMedia | None = _price("0 per ft³", "10000 per ft³", "Price of media")
    vessel: PriceOfMedia | None = _price("0 per ft³", "10000 per ft³", "Price of filter vessel")
    air_machine: PriceOfPower | None = _price("0 per W", "1000 per W", "Price of air machines")
    stone: Money | None = choice(None, 0.0, 1e4, label="Price of a stone", source=QUOTE)
    pump: PriceOfPower | None = _price("0 per W", "1000 per W", "Price of pumps")
    pipe: PriceOfLength | None = _price(
        "0 per ft", "10000 per ft", "Price of pipe with its fittings"
    )
    backup: Money | None = choice(None, 0.0, 1e6, label="Price of backup air", source=QUOTE)
    meters: Money | None = choice(None, 0.0, 1e6, label="Price of meters and nets", source=QUOTE)
    electrics: Money | None = choice(
        None, 0.0, 1e6, label="Price of the electrician's work", source=QUOTE
    )


@section()
class Terms:
    """How long things last, what money costs, and what may go wrong."""

    rate: Fraction = choice(
        0.08,
        0.0,
        0.5,
        label="Interest, real",
        help="With prices held still: the bank's rate less inflation.",
        source="5 to 12 % for teaching, common practice",
    )
    horizon: Years = choice(
        10.0, 3.0, 30.0, label="Years looked ahead", source="the user", sweep=False
    )
    home_share: Fraction = choice(
        0.0, 0.0, 1.0, label="Share of the fish eaten at home", source="the user"
    )
    saleable: Fraction = choice(
        0.97, 0.3, 1.0, label="Share of the harvest that can be sold or eaten", source=RULE
    )
    loss_every: Years = choice(
        5.0,
        1.0,
        100.0,
        label="Years between lost batches",
        source="one in five years, common practice",
    )
    tied_up: Days = choice(
        120.0, 0.0, 730.0, label="Days that running money is tied up", source=RULE
    )
    insurance: Fraction = choice(
        0.01, 0.0, 0.2, label="Insurance, share of first cost a year", source=RULE
    )
    repairs: Fraction = choice(
        0.03,
        0.0,
        0.5,
        label="Repairs, share of first cost a year",
        source="2 to 5 %, common practice",
    )
    salvage: Fraction = choice(
        0.05, 0.0, 0.9, label="Worth at the end, share of first cost", source=RULE
    )
    life_tank: Years = _life(15.0, "Life of a tank")
    life_settler: Years = _life(12.0, "Life of a settler")
    life_media: Years = _life(10.0, "Life of media")
    life_vessel: Years = _life(15.0, "Life of a filter vessel")
    life_air: Years = _life(5.0, "Life of an air machine")
    life_stones: Years = _life(2.0, "Life of stones")
    life_pump: Years = _life(4.0, "Life of a pump")
    life_pipe: Years = _life(10.0, "Life of pipe")
    life_backup: Years = _life(8.0, "Life of backup air")
    life_meters: Years = _life(3.0, "Life of meters and nets")
    life_electrics: Years = _life(15.0, "Life of the electrics")
