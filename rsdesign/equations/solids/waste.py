"""Small sums of waste and the nitrogen in it."""

from ...core.arrays import most, ratio
from ...core.equation import equation
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


@equation(
    latex=r"x = \frac{@part}{@whole}",
    source="definition",
    valid="any",
    basis="derived",
)
def part_of(part: AmmoniaLoad, whole: AmmoniaLoad) -> Fraction:
    """A part over its whole, 0 of nothing.

    Floats or arrays that broadcast.

    >>> part_of(1.0, 4.0)
    0.25
    """
    return ratio(part, whole)


@equation(
    latex=r"P = \max\left(@faecal_nitrogen, 0\right) \cdot @freed \cdot \frac{@rotting}{@solids}",
    source="conservation of nitrogen: dung nitrogen in step with the waste that rots, of which"
    " the bacteria keep the rest",
    valid="any",
    basis="derived",
)
def ammonia_released(
    faecal_nitrogen: AmmoniaLoad, freed: Fraction, rotting: SolidsLoad, solids: SolidsLoad
) -> AmmoniaLoad:
    """Ammonia nitrogen freed by the waste that rots in the water.

    Floats or arrays that broadcast.

    >>> ammonia_released(2.0, 0.5, 1.0, 4.0)
    0.25
    """
    return most(faecal_nitrogen, 0.0) * freed * ratio(rotting, solids)


@equation(
    latex=r"P = @ammonia + @released",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def ammonia_made(ammonia: AmmoniaLoad, released: AmmoniaLoad) -> AmmoniaLoad:
    """Ammonia nitrogen from fish and rotting waste.

    Floats or arrays that broadcast.

    >>> ammonia_made(1.0, 0.25)
    1.25
    """
    return ammonia + released


@equation(
    latex=r"P = \max\left(@made - @beds_capacity, @least_share \cdot @made\right)",
    source="conservation of mass; never less than a share, since beds stand empty after a harvest",
    valid="any",
    basis="common practice",
)
def ammonia_to_filter(
    made: AmmoniaLoad, beds_capacity: AmmoniaLoad, least_share: Fraction
) -> AmmoniaLoad:
    """Ammonia nitrogen that the filter must take beside the plant beds.

    Floats or arrays that broadcast.

    >>> ammonia_to_filter(1.0, 0.25, 0.5), ammonia_to_filter(1.0, 0.75, 0.5)
    (0.75, 0.5)
    """
    return most(made - beds_capacity, least_share * made)


@equation(
    latex=r"P = @made - @to_filter",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def ammonia_in_beds(made: AmmoniaLoad, to_filter: AmmoniaLoad) -> AmmoniaLoad:
    """Ammonia nitrogen that turns to nitrate in the plant beds.

    Floats or arrays that broadcast.

    >>> ammonia_in_beds(1.0, 0.75)
    0.25
    """
    return made - to_filter


@equation(
    latex=r"N = \max\left(0, @made - @plants_nitrogen\right)",
    source="conservation of nitrogen: all that is nitrified, less what the plants take",
    valid="any",
    basis="derived",
)
def nitrate_left(made: AmmoniaLoad, plants_nitrogen: AmmoniaLoad) -> AmmoniaLoad:
    """Nitrate nitrogen that the plants leave in the water.

    Floats or arrays that broadcast.

    >>> nitrate_left(1.0, 0.25), nitrate_left(1.0, 2.0)
    (0.75, 0.0)
    """
    return most(0.0, made - plants_nitrogen)


@equation(
    latex=r"N = @made - @nitrate_load",
    source="conservation of nitrogen",
    valid="any",
    basis="derived",
)
def nitrogen_in_plants(made: AmmoniaLoad, nitrate_load: AmmoniaLoad) -> AmmoniaLoad:
    """Nitrogen that the plants really take: no more than there is.

    Floats or arrays that broadcast.

    >>> nitrogen_in_plants(1.0, 0.75)
    0.25
    """
    return made - nitrate_load


@equation(
    latex=r"C = 86400 \cdot \frac{@beds_ammonia}{@volume}",
    source="conservation of mass: what the beds no longer take stays in the water",
    valid="the first day, with the filter taking what it took before",
    basis="derived",
)
def climb_in_a_day(beds_ammonia: AmmoniaLoad, volume: Volume) -> Concentration:
    """How much ammonia climbs in a day when the plant beds stop.

    Floats or arrays that broadcast.

    >>> climb_in_a_day(0.125, 86400.0)
    0.125
    """
    return 86400.0 * beds_ammonia / volume  # units of the source


@equation(
    latex=r"R = @fish_oxygen + @heterotroph_oxygen",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def breathing_oxygen(fish_oxygen: OxygenRate, heterotroph_oxygen: OxygenRate) -> OxygenRate:
    """Oxygen whose use makes carbon dioxide.

    Floats or arrays that broadcast.

    >>> breathing_oxygen(1.0, 0.5)
    1.5
    """
    return fish_oxygen + heterotroph_oxygen


@equation(
    latex=r"P = @respired + @freed",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def carbon_dioxide_made(respired: OxygenRate, freed: OxygenRate) -> OxygenRate:
    """Carbon dioxide breathed out and freed from alkalinity.

    Floats or arrays that broadcast.

    >>> carbon_dioxide_made(1.0, 0.5)
    1.5
    """
    return respired + freed


@equation(
    latex=r"A = \frac{@flow \cdot @time}{@depth}",
    source="half an hour for a settler that works alone, Kansas State University extension",
    valid="small systems",
)
def settler_rule(flow: Flow, depth: Length, time: Minutes = 1800.0) -> Area:
    """Settler area that holds the flow for half an hour.

    Floats or arrays that broadcast.

    >>> round(settler_rule(0.001, 0.9), 9)
    2.0
    """
    return flow * time / depth


@equation(
    latex=r"t = \frac{@area \cdot @depth}{@flow}",
    source="definition",
    valid="any",
    basis="derived",
)
def settler_detention(area: Area, depth: Length, flow: Flow) -> Minutes:
    """Mean time that water stays in the settler.

    Floats or arrays that broadcast.

    >>> settler_detention(2.0, 0.9, 0.001)
    1800.0
    """
    return area * depth / flow


@equation(
    latex=r"M = @settleable_solids \cdot @captured \cdot @drained",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def waste_drained(
    settleable_solids: SolidsLoad, captured: Fraction, drained: Fraction
) -> SolidsLoad:
    """Dry waste that leaves by the drain of the settler.

    Floats or arrays that broadcast.

    >>> waste_drained(1.0, 0.5, 0.5)
    0.25
    """
    return settleable_solids * captured * drained


@equation(
    latex=r"M = @settleable_solids - @removed",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def waste_left(settleable_solids: SolidsLoad, removed: SolidsLoad) -> SolidsLoad:
    """Settleable waste that escapes and breaks up.

    Floats or arrays that broadcast.

    >>> waste_left(1.0, 0.25)
    0.75
    """
    return settleable_solids - removed


@equation(
    latex=r"M = @fine_solids + @escaped",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def waste_suspended(fine_solids: SolidsLoad, escaped: SolidsLoad) -> SolidsLoad:
    """Waste that stays in the water as fine particles.

    Floats or arrays that broadcast.

    >>> waste_suspended(0.25, 0.75)
    1.0
    """
    return fine_solids + escaped


@equation(
    latex=r"M = @fines \cdot @flow \cdot @removal \cdot @rinsed",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def waste_polished(
    fines: Concentration, flow: Flow, removal: Fraction, rinsed: Fraction
) -> SolidsLoad:
    """Fine waste that a second screen catches and that is rinsed away before it rots.

    Floats or arrays that broadcast.

    >>> waste_polished(0.5, 2.0, 0.25, 0.5)
    0.125
    """
    return fines * flow * removal * rinsed


@equation(
    latex=r"M = @fines \cdot \left(@decay \cdot @volume"
    r" + @flow \cdot @removal \cdot \left(1 - @rinsed\right)\right)",
    source="first-order decay in the water; all that stays on the screen",
    valid="any",
    basis="common practice",
)
def waste_rotting(
    fines: Concentration,
    decay: RatePerTime,
    volume: Volume,
    flow: Flow,
    removal: Fraction,
    rinsed: Fraction,
) -> SolidsLoad:
    """Waste that rots in the water and on the second screen.

    Floats or arrays that broadcast.

    >>> waste_rotting(0.5, 0.25, 2.0, 2.0, 0.25, 0.5)
    0.375
    """
    return fines * (decay * volume + flow * removal * (1.0 - rinsed))


@equation(
    latex=r"M = @fines \cdot @exchange",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def waste_exported(fines: Concentration, exchange: DailyFlow) -> SolidsLoad:
    """Fine waste that leaves with the old water.

    Floats or arrays that broadcast.

    >>> waste_exported(0.5, 0.5)
    0.25
    """
    return fines * exchange


@equation(
    latex=r"V = @sludge \cdot @drain_interval",
    source="definition",
    valid="any",
    basis="derived",
)
def sludge_each_time(sludge: DailyFlow, drain_interval: Hours) -> SmallVolume:
    """Sludge let out at each draining.

    Floats or arrays that broadcast.

    >>> sludge_each_time(0.5, 4.0)
    2.0
    """
    return sludge * drain_interval
