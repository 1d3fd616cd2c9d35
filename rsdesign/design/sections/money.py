"""Prices, lives and the terms of the money; a price left out is taken from the price list."""

from ...core import kinds
from ...core.choices import choice
from .section import section


@section()
class Prices:
    """What things cost here; each left out comes from the price list."""

    currency: str = choice("prices.currency")
    fish: kinds.PriceOfMass | None = choice("prices.fish")
    home_fish: kinds.PriceOfMass | None = choice("prices.home_fish")
    feed: kinds.PriceOfMass | None = choice("prices.feed")
    fingerling: kinds.Money | None = choice("prices.fingerling")
    electricity: kinds.PriceOfEnergy | None = choice("prices.electricity")
    wage: kinds.Wage | None = choice("prices.wage")
    water: kinds.PriceOfWater | None = choice("prices.water")
    discharge: kinds.PriceOfWater | None = choice("prices.discharge")
    base: kinds.PriceOfMass | None = choice("prices.base")
    dechlorinator: kinds.PriceOfWater | None = choice("prices.dechlorinator")
    ice: kinds.PriceOfMass | None = choice("prices.ice")
    test_kits: kinds.Money | None = choice("prices.test_kits")
    supplies: kinds.Money | None = choice("prices.supplies")
    permit: kinds.Money | None = choice("prices.permit")
    tank: kinds.PriceOfVolume | None = choice("prices.tank")
    settler: kinds.PriceOfArea | None = choice("prices.settler")
    media: kinds.PriceOfMedia | None = choice("prices.media")
    vessel: kinds.PriceOfMedia | None = choice("prices.vessel")
    air_machine: kinds.PriceOfPower | None = choice("prices.air_machine")
    stone: kinds.Money | None = choice("prices.stone")
    pump: kinds.PriceOfPower | None = choice("prices.pump")
    pipe: kinds.PriceOfLength | None = choice("prices.pipe")
    backup: kinds.Money | None = choice("prices.backup")
    lid: kinds.PriceOfArea | None = choice("prices.lid")
    meters: kinds.Money | None = choice("prices.meters")
    electrics: kinds.Money | None = choice("prices.electrics")


@section()
class Terms:
    """How long things last, what money costs, and what may go wrong."""

    rate: kinds.Fraction = choice("terms.rate")
    horizon: kinds.Years = choice("terms.horizon")
    home_share: kinds.Fraction = choice("terms.home_share")
    saleable: kinds.Fraction = choice("terms.saleable")
    loss_every: kinds.Years = choice("terms.loss_every")
    tied_up: kinds.Days = choice("terms.tied_up")
    insurance: kinds.Fraction = choice("terms.insurance")
    repairs: kinds.Fraction = choice("terms.repairs")
    salvage: kinds.Fraction = choice("terms.salvage")
    life_tank: kinds.Years = choice("terms.life_tank")
    life_settler: kinds.Years = choice("terms.life_settler")
    life_media: kinds.Years = choice("terms.life_media")
    life_vessel: kinds.Years = choice("terms.life_vessel")
    life_air: kinds.Years = choice("terms.life_air")
    life_stones: kinds.Years = choice("terms.life_stones")
    life_pump: kinds.Years = choice("terms.life_pump")
    life_pipe: kinds.Years = choice("terms.life_pipe")
    life_backup: kinds.Years = choice("terms.life_backup")
    life_lid: kinds.Years = choice("terms.life_lid")
    life_meters: kinds.Years = choice("terms.life_meters")
    life_electrics: kinds.Years = choice("terms.life_electrics")
