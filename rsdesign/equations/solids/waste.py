"""Definitions for waste and the nitrogen in it."""

from ...core import kinds
from ...core.arrays import most, ratio
from ...core.equation import definition


@definition("x", example="part_of(1.0, 4.0) == 0.25")
def part_of(part: kinds.AmmoniaLoad, whole: kinds.AmmoniaLoad) -> kinds.Fraction:
    """A part over its whole, 0 of nothing."""
    return ratio(part, whole)


@definition(
    "P",
    "conservation of nitrogen: fecal nitrogen in proportion to the waste that decays, of which "
    "the bacteria keep the rest",
    example="ammonia_released(2.0, 0.5, 1.0, 4.0) == 0.25",
)
def ammonia_released(
    faecal_nitrogen: kinds.AmmoniaLoad,
    freed: kinds.Fraction,
    rotting: kinds.SolidsLoad,
    solids: kinds.SolidsLoad,
) -> kinds.AmmoniaLoad:
    """Ammonia nitrogen freed by the waste that decays in the water."""
    return most(faecal_nitrogen, 0.0) * freed * ratio(rotting, solids)


@definition("P", "conservation of mass", example="ammonia_made(1.0, 0.25) == 1.25")
def ammonia_made(ammonia: kinds.AmmoniaLoad, released: kinds.AmmoniaLoad) -> kinds.AmmoniaLoad:
    """Ammonia nitrogen from fish and decaying waste."""
    return ammonia + released


@definition(
    "P",
    "conservation of mass; never less than a share, since beds stand empty after a harvest",
    basis="common practice",
    example="ammonia_to_filter(1.0, 0.25, 0.5) == 0.75; ammonia_to_filter(1.0, 0.75, 0.5) == 0.5",
)
def ammonia_to_filter(
    made: kinds.AmmoniaLoad, beds_capacity: kinds.AmmoniaLoad, least_share: kinds.Fraction
) -> kinds.AmmoniaLoad:
    """Ammonia nitrogen that the filter must take beside the plant beds."""
    return most(made - beds_capacity, least_share * made)


@definition("P", "conservation of mass", example="ammonia_in_beds(1.0, 0.75) == 0.25")
def ammonia_in_beds(made: kinds.AmmoniaLoad, to_filter: kinds.AmmoniaLoad) -> kinds.AmmoniaLoad:
    """Ammonia nitrogen that turns to nitrate in the plant beds."""
    return made - to_filter


@definition(
    "N",
    "conservation of nitrogen: all that is nitrified, less what the plants take",
    example="nitrate_left(1.0, 0.25) == 0.75; nitrate_left(1.0, 2.0) == 0.0",
)
def nitrate_left(made: kinds.AmmoniaLoad, plants_nitrogen: kinds.AmmoniaLoad) -> kinds.AmmoniaLoad:
    """Nitrate nitrogen that the plants leave in the water."""
    return most(0.0, made - plants_nitrogen)


@definition("N", "conservation of nitrogen", example="nitrogen_in_plants(1.0, 0.75) == 0.25")
def nitrogen_in_plants(
    made: kinds.AmmoniaLoad, nitrate_load: kinds.AmmoniaLoad
) -> kinds.AmmoniaLoad:
    """Nitrogen that the plants really take: no more than there is."""
    return made - nitrate_load


@definition(
    "C",
    "conservation of mass: what the beds no longer take stays in the water",
    valid="the first day, with the filter taking what it took before",
    example="daily_ammonia_rise(0.125, 86400.0) == 0.125",
)
def daily_ammonia_rise(
    beds_ammonia: kinds.AmmoniaLoad, volume: kinds.Volume
) -> kinds.Concentration:
    """How much ammonia climbs in a day when the plant beds stop."""
    return 86400.0 * beds_ammonia / volume  # units of the source


@definition("R", "conservation of mass", example="breathing_oxygen(1.0, 0.5) == 1.5")
def breathing_oxygen(
    fish_oxygen: kinds.OxygenRate, heterotroph_oxygen: kinds.OxygenRate
) -> kinds.OxygenRate:
    """Oxygen whose use makes carbon dioxide."""
    return fish_oxygen + heterotroph_oxygen


@definition("P", "conservation of mass", example="carbon_dioxide_made(1.0, 0.5) == 1.5")
def carbon_dioxide_made(respired: kinds.OxygenRate, freed: kinds.OxygenRate) -> kinds.OxygenRate:
    """Carbon dioxide breathed out and freed from alkalinity."""
    return respired + freed


@definition(
    "A",
    "half an hour for a settler that works alone, Kansas State University extension",
    valid="small systems",
    basis="seen",
    example="round(settler_rule(0.001, 0.9), 9) == 2.0",
)
def settler_rule(flow: kinds.Flow, depth: kinds.Length, time: kinds.Minutes = 1800.0) -> kinds.Area:
    """Settler area that holds the flow for half an hour."""
    return flow * time / depth


@definition("t", example="settler_detention(2.0, 0.9, 0.001) == 1800.0")
def settler_detention(area: kinds.Area, depth: kinds.Length, flow: kinds.Flow) -> kinds.Minutes:
    """Mean time that water stays in the settler."""
    return area * depth / flow


@definition("M", "conservation of mass", example="waste_drained(1.0, 0.5, 0.5) == 0.25")
def waste_drained(
    settleable_solids: kinds.SolidsLoad, captured: kinds.Fraction, drained: kinds.Fraction
) -> kinds.SolidsLoad:
    """Dry waste that leaves by the drain of the settler."""
    return settleable_solids * captured * drained


@definition("M", "conservation of mass", example="waste_left(1.0, 0.25) == 0.75")
def waste_left(settleable_solids: kinds.SolidsLoad, removed: kinds.SolidsLoad) -> kinds.SolidsLoad:
    """Settleable waste that escapes and breaks up."""
    return settleable_solids - removed


@definition("M", "conservation of mass", example="waste_suspended(0.25, 0.75) == 1.0")
def waste_suspended(fine_solids: kinds.SolidsLoad, escaped: kinds.SolidsLoad) -> kinds.SolidsLoad:
    """Waste that stays in the water as fine particles."""
    return fine_solids + escaped


@definition("M", "conservation of mass", example="waste_polished(0.5, 2.0, 0.25, 0.5) == 0.125")
def waste_polished(
    fines: kinds.Concentration, flow: kinds.Flow, removal: kinds.Fraction, rinsed: kinds.Fraction
) -> kinds.SolidsLoad:
    """Fine waste that a second screen catches and that is rinsed away before it decays."""
    return fines * flow * removal * rinsed


@definition(
    "M",
    "first-order decay in the water; all that stays on the screen",
    basis="common practice",
    example="decaying_solids(0.5, 0.25, 2.0, 2.0, 0.25, 0.5) == 0.375",
)
def decaying_solids(
    fines: kinds.Concentration,
    decay: kinds.RatePerTime,
    volume: kinds.Volume,
    flow: kinds.Flow,
    removal: kinds.Fraction,
    rinsed: kinds.Fraction,
) -> kinds.SolidsLoad:
    """Waste that decays in the water and on the second screen."""
    return fines * (decay * volume + flow * removal * (1.0 - rinsed))


@definition("M", "conservation of mass", example="waste_exported(0.5, 0.5) == 0.25")
def waste_exported(fines: kinds.Concentration, exchange: kinds.DailyFlow) -> kinds.SolidsLoad:
    """Fine waste that leaves with the water exchanged."""
    return fines * exchange


@definition("V", example="sludge_each_time(0.5, 4.0) == 2.0")
def sludge_each_time(sludge: kinds.DailyFlow, drain_interval: kinds.Hours) -> kinds.SmallVolume:
    """Sludge let out at each draining."""
    return sludge * drain_interval
