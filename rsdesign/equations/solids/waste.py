"""Definitions for waste and the nitrogen in it."""

from ...core.arrays import most, ratio
from ...core.equation import definition
from ...core.kinds import (
    AmmoniaLoad,
    Area,
    Concentration,
    DailyFlow,
    Flow,
    Fraction,
    Hours,
    Length,
    Minutes,
    OxygenRate,
    RatePerTime,
    SmallVolume,
    SolidsLoad,
    Volume,
)


@definition("x", example="part_of(1.0, 4.0) == 0.25")
def part_of(part: AmmoniaLoad, whole: AmmoniaLoad) -> Fraction:
    """A part over its whole, 0 of nothing."""
    return ratio(part, whole)


@definition(
    "P",
    "conservation of nitrogen: fecal nitrogen in proportion to the waste that decays, of which "
    "the bacteria keep the rest",
    example="ammonia_released(2.0, 0.5, 1.0, 4.0) == 0.25",
)
def ammonia_released(
    faecal_nitrogen: AmmoniaLoad, freed: Fraction, rotting: SolidsLoad, solids: SolidsLoad
) -> AmmoniaLoad:
    """Ammonia nitrogen freed by the waste that decays in the water."""
    return most(faecal_nitrogen, 0.0) * freed * ratio(rotting, solids)


@definition("P", "conservation of mass", example="ammonia_made(1.0, 0.25) == 1.25")
def ammonia_made(ammonia: AmmoniaLoad, released: AmmoniaLoad) -> AmmoniaLoad:
    """Ammonia nitrogen from fish and decaying waste."""
    return ammonia + released


@definition(
    "P",
    "conservation of mass; never less than a share, since beds stand empty after a harvest",
    basis="common practice",
    example="ammonia_to_filter(1.0, 0.25, 0.5) == 0.75; ammonia_to_filter(1.0, 0.75, 0.5) == 0.5",
)
def ammonia_to_filter(
    made: AmmoniaLoad, beds_capacity: AmmoniaLoad, least_share: Fraction
) -> AmmoniaLoad:
    """Ammonia nitrogen that the filter must take beside the plant beds."""
    return most(made - beds_capacity, least_share * made)


@definition("P", "conservation of mass", example="ammonia_in_beds(1.0, 0.75) == 0.25")
def ammonia_in_beds(made: AmmoniaLoad, to_filter: AmmoniaLoad) -> AmmoniaLoad:
    """Ammonia nitrogen that turns to nitrate in the plant beds."""
    return made - to_filter


@definition(
    "N",
    "conservation of nitrogen: all that is nitrified, less what the plants take",
    example="nitrate_left(1.0, 0.25) == 0.75; nitrate_left(1.0, 2.0) == 0.0",
)
def nitrate_left(made: AmmoniaLoad, plants_nitrogen: AmmoniaLoad) -> AmmoniaLoad:
    """Nitrate nitrogen that the plants leave in the water."""
    return most(0.0, made - plants_nitrogen)


@definition("N", "conservation of nitrogen", example="nitrogen_in_plants(1.0, 0.75) == 0.25")
def nitrogen_in_plants(made: AmmoniaLoad, nitrate_load: AmmoniaLoad) -> AmmoniaLoad:
    """Nitrogen that the plants really take: no more than there is."""
    return made - nitrate_load


@definition(
    "C",
    "conservation of mass: what the beds no longer take stays in the water",
    valid="the first day, with the filter taking what it took before",
    example="daily_ammonia_rise(0.125, 86400.0) == 0.125",
)
def daily_ammonia_rise(beds_ammonia: AmmoniaLoad, volume: Volume) -> Concentration:
    """How much ammonia climbs in a day when the plant beds stop."""
    return 86400.0 * beds_ammonia / volume  # units of the source


@definition("R", "conservation of mass", example="breathing_oxygen(1.0, 0.5) == 1.5")
def breathing_oxygen(fish_oxygen: OxygenRate, heterotroph_oxygen: OxygenRate) -> OxygenRate:
    """Oxygen whose use makes carbon dioxide."""
    return fish_oxygen + heterotroph_oxygen


@definition("P", "conservation of mass", example="carbon_dioxide_made(1.0, 0.5) == 1.5")
def carbon_dioxide_made(respired: OxygenRate, freed: OxygenRate) -> OxygenRate:
    """Carbon dioxide breathed out and freed from alkalinity."""
    return respired + freed


@definition(
    "A",
    "half an hour for a settler that works alone, Kansas State University extension",
    valid="small systems",
    basis="seen",
    example="round(settler_rule(0.001, 0.9), 9) == 2.0",
)
def settler_rule(flow: Flow, depth: Length, time: Minutes = 1800.0) -> Area:
    """Settler area that holds the flow for half an hour."""
    return flow * time / depth


@definition("t", example="settler_detention(2.0, 0.9, 0.001) == 1800.0")
def settler_detention(area: Area, depth: Length, flow: Flow) -> Minutes:
    """Mean time that water stays in the settler."""
    return area * depth / flow


@definition("M", "conservation of mass", example="waste_drained(1.0, 0.5, 0.5) == 0.25")
def waste_drained(
    settleable_solids: SolidsLoad, captured: Fraction, drained: Fraction
) -> SolidsLoad:
    """Dry waste that leaves by the drain of the settler."""
    return settleable_solids * captured * drained


@definition("M", "conservation of mass", example="waste_left(1.0, 0.25) == 0.75")
def waste_left(settleable_solids: SolidsLoad, removed: SolidsLoad) -> SolidsLoad:
    """Settleable waste that escapes and breaks up."""
    return settleable_solids - removed


@definition("M", "conservation of mass", example="waste_suspended(0.25, 0.75) == 1.0")
def waste_suspended(fine_solids: SolidsLoad, escaped: SolidsLoad) -> SolidsLoad:
    """Waste that stays in the water as fine particles."""
    return fine_solids + escaped


@definition("M", "conservation of mass", example="waste_polished(0.5, 2.0, 0.25, 0.5) == 0.125")
def waste_polished(
    fines: Concentration, flow: Flow, removal: Fraction, rinsed: Fraction
) -> SolidsLoad:
    """Fine waste that a second screen catches and that is rinsed away before it decays."""
    return fines * flow * removal * rinsed


@definition(
    "M",
    "first-order decay in the water; all that stays on the screen",
    basis="common practice",
    example="decaying_solids(0.5, 0.25, 2.0, 2.0, 0.25, 0.5) == 0.375",
)
def decaying_solids(
    fines: Concentration,
    decay: RatePerTime,
    volume: Volume,
    flow: Flow,
    removal: Fraction,
    rinsed: Fraction,
) -> SolidsLoad:
    """Waste that decays in the water and on the second screen."""
    return fines * (decay * volume + flow * removal * (1.0 - rinsed))


@definition("M", "conservation of mass", example="waste_exported(0.5, 0.5) == 0.25")
def waste_exported(fines: Concentration, exchange: DailyFlow) -> SolidsLoad:
    """Fine waste that leaves with the water exchanged."""
    return fines * exchange


@definition("V", example="sludge_each_time(0.5, 4.0) == 2.0")
def sludge_each_time(sludge: DailyFlow, drain_interval: Hours) -> SmallVolume:
    """Sludge let out at each draining."""
    return sludge * drain_interval
