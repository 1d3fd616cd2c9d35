"""Waste: what settles, what is drained, and what stays in the water and rots."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..kinds import (
    Area,
    Concentration,
    DailyFlow,
    Flow,
    Fraction,
    HydraulicLoad,
    Length,
    Minutes,
    SmallVolume,
    SolidsLoad,
)
from ..parts import settling
from .loads import Before, Loads
from .tank import Tank


@stage()
class Solids:
    """The settler and the second screen on the peak feed day."""

    settler_flow: Flow = figure("Flow through the settler")
    required: Area = figure("Settler area needed")
    rule: Area = figure("Settler area by the rule of thumb, half an hour of water")
    area: Area = figure("Settler area")
    across: Length = figure("Distance across a round settler")
    load: HydraulicLoad = figure("Flow over each area")
    detention: Minutes = figure("Time in the settler")
    ideal: Fraction = figure("Caught in an ideal settler")
    captured: Fraction = figure("Caught in this settler")
    drained: Fraction = figure("Caught waste that is drained before it dissolves")
    removed: SolidsLoad = figure("Dry waste drained")
    escaped: SolidsLoad = figure("Settleable waste that escapes and breaks up")
    suspended: SolidsLoad = figure("Fine waste that stays in the water")
    fines: Concentration = figure("Fine waste in the water")
    polished: SolidsLoad = figure("Fine waste caught by the second screen and rinsed away")
    exported: SolidsLoad = figure("Fine waste that leaves with the old water")
    rotting: SolidsLoad = figure("Waste that rots in the water or on the screen")
    sludge: DailyFlow = figure("Sludge")
    sludge_each_time: SmallVolume = figure("Sludge at each draining")


def rotting_waste(design: Design, before: Before, room: Tank, flow, tables: Catalogue):
    """Waste that rots in the water at a flow [kg/s], and waste that stays in it as fines."""
    _, _, _, captured, drained = _capture(design, flow, tables)
    removed = balance.waste_drained(before.settleable_solids, captured, drained)
    escaped = balance.waste_left(before.settleable_solids, removed)
    suspended = balance.waste_suspended(before.fine_solids, escaped)
    rots = balance.waste_that_rots(
        suspended, before.faecal_nitrogen, design.wastes.ammonia_freed, before.solids,
        before.ammonia, before.plants_nitrogen,
        design.keep.nitrate, design.source.nitrate, flow, tables.polishing.removal,
        tables.polishing.rinsed, design.wastes.solids_decay, room.volume,
    )  # fmt: skip
    return rots, suspended


def _capture(design: Design, flow, tables: Catalogue):
    """Flow through the settler, its area, and the shares caught and drained."""
    choice = design.solids
    part = settling.settler_flow(flow, choice.share)
    area = choice.area
    if area is None:
        area = settling.surface_area(part, choice.overflow_rate)
    ideal = settling.captured_fraction(part, area, tables.grain_velocities, tables.grain_shares)
    captured = settling.captured_share(ideal, tables.settler.effectiveness, choice.share)
    return part, area, ideal, captured, settling.drained_share(choice.drain_interval)


def solids(design: Design, loads: Loads, room: Tank, flow, exchange, tables: Catalogue) -> Solids:
    """The fate of the waste at a flow [m³/s] and an exchange of water [m³/s]."""
    choice, wastes = design.solids, design.wastes
    part, area, ideal, captured, drained = _capture(design, flow, tables)
    removed = balance.waste_drained(loads.settleable_solids, captured, drained)
    escaped = balance.waste_left(loads.settleable_solids, removed)
    suspended = balance.waste_suspended(loads.fine_solids, escaped)
    fines = settling.fines_concentration(
        suspended, exchange, flow, tables.polishing.removal, wastes.solids_decay, room.volume
    )
    sludge = settling.sludge_volume(removed, choice.solids_content)
    return Solids(
        settler_flow=part,
        required=settling.surface_area(part, choice.overflow_rate),
        rule=balance.settler_rule(part, choice.depth),
        area=area,
        across=settling.settler_diameter(area),
        load=settling.overflow_rate(part, area),
        detention=balance.settler_detention(area, choice.depth, part),
        ideal=ideal,
        captured=captured,
        drained=drained,
        removed=removed,
        escaped=escaped,
        suspended=suspended,
        fines=fines,
        polished=balance.waste_polished(
            fines, flow, tables.polishing.removal, tables.polishing.rinsed
        ),
        exported=balance.waste_exported(fines, exchange),
        rotting=balance.waste_rotting(
            fines,
            wastes.solids_decay,
            room.volume,
            flow,
            tables.polishing.removal,
            tables.polishing.rinsed,
        ),
        sludge=sludge,
        sludge_each_time=balance.sludge_each_time(sludge, choice.drain_interval),
    )
