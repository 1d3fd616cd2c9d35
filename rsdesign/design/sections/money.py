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
from .section import section


@section()
class Prices:
    """What things cost here; each left out comes from the price list."""

    currency: str = choice("prices.currency")
    fish: PriceOfMass | None = choice("prices.fish")
    home_fish: PriceOfMass | None = choice("prices.home_fish")
    feed: PriceOfMass | None = choice("prices.feed")
    fingerling: Money | None = choice("prices.fingerling")
    electricity: PriceOfEnergy | None = choice("prices.electricity")
    wage: Wage | None = choice("prices.wage")
    water: PriceOfWater | None = choice("prices.water")
    discharge: PriceOfWater | None = choice("prices.discharge")
    base: PriceOfMass | None = choice("prices.base")
    dechlorinator: PriceOfWater | None = choice("prices.dechlorinator")
    ice: PriceOfMass | None = choice("prices.ice")
    test_kits: Money | None = choice("prices.test_kits")
    supplies: Money | None = choice("prices.supplies")
    permit: Money | None = choice("prices.permit")
    tank: PriceOfVolume | None = choice("prices.tank")
    settler: PriceOfArea | None = choice("prices.settler")
    media: PriceOfMedia | None = choice("prices.media")
    vessel: PriceOfMedia | None = choice("prices.vessel")
    air_machine: PriceOfPower | None = choice("prices.air_machine")
    stone: Money | None = choice("prices.stone")
    pump: PriceOfPower | None = choice("prices.pump")
    pipe: PriceOfLength | None = choice("prices.pipe")
    backup: Money | None = choice("prices.backup")
    meters: Money | None = choice("prices.meters")
    electrics: Money | None = choice("prices.electrics")


@section()
class Terms:
    """How long things last, what money costs, and what may go wrong."""

    rate: Fraction = choice("terms.rate")
    horizon: Years = choice("terms.horizon")
    home_share: Fraction = choice("terms.home_share")
    saleable: Fraction = choice("terms.saleable")
    loss_every: Years = choice("terms.loss_every")
    tied_up: Days = choice("terms.tied_up")
    insurance: Fraction = choice("terms.insurance")
    repairs: Fraction = choice("terms.repairs")
    salvage: Fraction = choice("terms.salvage")
    life_tank: Years = choice("terms.life_tank")
    life_settler: Years = choice("terms.life_settler")
    life_media: Years = choice("terms.life_media")
    life_vessel: Years = choice("terms.life_vessel")
    life_air: Years = choice("terms.life_air")
    life_stones: Years = choice("terms.life_stones")
    life_pump: Years = choice("terms.life_pump")
    life_pipe: Years = choice("terms.life_pipe")
    life_backup: Years = choice("terms.life_backup")
    life_meters: Years = choice("terms.life_meters")
    life_electrics: Years = choice("terms.life_electrics")
