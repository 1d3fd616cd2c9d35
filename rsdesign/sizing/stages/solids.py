"""Waste: what settles, what is drained, and what stays in the water and decays."""

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.solids import settling
from .loads import Loads, LoadsBeforeDecay
from .tank import Tank


@stage()
class Solids:
    """The settler and the second screen on the peak feed day."""

    settler_flow: kinds.Flow = figure("Flow through the settler")
    required: kinds.Area = figure("Settler area needed")
    rule: kinds.Area = figure("Settler area by the rule of thumb, half an hour of water")
    area: kinds.Area = figure("Settler area")
    across: kinds.Length = figure("Distance across a round settler")
    load: kinds.HydraulicLoad = figure("Flow over each area")
    detention: kinds.Minutes = figure("Time in the settler")
    ideal: kinds.Fraction = figure("Caught in an ideal settler")
    captured: kinds.Fraction = figure("Caught in this settler")
    drained: kinds.Fraction = figure("Caught waste that is drained before it dissolves")
    removed: kinds.SolidsLoad = figure("Dry waste drained")
    escaped: kinds.SolidsLoad = figure("Settleable waste that escapes and breaks up")
    suspended: kinds.SolidsLoad = figure("Fine waste that stays in the water")
    fines: kinds.Concentration = figure("Fine waste in the water")
    polished: kinds.SolidsLoad = figure("Fine waste caught by the second screen and rinsed away")
    exported: kinds.SolidsLoad = figure("Fine waste that leaves with the old water")
    rotting: kinds.SolidsLoad = figure("Waste that decays (rots) in the water or on the screen")
    sludge: kinds.DailyFlow = figure("Sludge")
    sludge_each_time: kinds.SmallVolume = figure("Sludge at each draining")


def planned_waste(design: Design, before: LoadsBeforeDecay, tank: Tank, flow, tables: Catalogue):
    """Decaying waste [kg/s] and fine waste that stays suspended [kg/s], with a settler as big as is needed."""
    area = settling.surface_area(_part(design, flow), design.solids.overflow_rate)
    return _waste(design, before, tank, flow, area, tables)


def decaying_waste(design: Design, before: LoadsBeforeDecay, tank: Tank, flow, tables: Catalogue):
    """Decaying waste [kg/s] at the flow and with the settler that are there."""
    return _waste(design, before, tank, flow, _area(design, flow), tables)[0]


def _waste(design: Design, before: LoadsBeforeDecay, tank: Tank, flow, area, tables: Catalogue):
    _, captured, drained = _capture(design, flow, area, tables)
    removed = eq.solids.waste_drained(before.settleable_solids, captured, drained)
    escaped = eq.solids.waste_left(before.settleable_solids, removed)
    suspended = eq.solids.waste_suspended(before.fine_solids, escaped)
    decaying = eq.solids.steady_decaying_solids(
        suspended, before.faecal_nitrogen, design.wastes.ammonia_freed, before.solids,
        before.ammonia, before.plants_nitrogen,
        design.keep.nitrate, design.source.nitrate, flow, tables.polishing.removal,
        tables.polishing.rinsed, design.wastes.solids_decay, tank.volume,
    )  # fmt: skip
    return decaying, suspended


def has_settler(design: Design) -> bool:
    """Whether there is a settler at all."""
    return design.solids.settler != "none"


def _part(design: Design, flow):
    """The flow that passes the settler."""
    return settling.settler_flow(flow, design.solids.share)


def _area(design: Design, flow):
    """The settler's area: as given, else for the flow that there is; none without a settler."""
    choice = design.solids
    if not has_settler(design):
        return 0.0 * flow
    if choice.area is not None:
        return choice.area
    return settling.surface_area(_part(design, flow), choice.overflow_rate)


def _capture(design: Design, flow, area, tables: Catalogue):
    """What an ideal settler catches, what this one does, and what of that is drained."""
    choice, part = design.solids, _part(design, flow)
    if not has_settler(design):
        return 0.0 * flow, 0.0 * flow, settling.drained_share(choice.drain_interval)
    ideal = settling.captured_fraction(part, area, tables.grain_velocities, tables.grain_shares)
    captured = settling.captured_share(ideal, tables.settler.effectiveness, choice.share)
    return ideal, captured, settling.drained_share(choice.drain_interval)


def solids(design: Design, loads: Loads, tank: Tank, flow, exchange, tables: Catalogue) -> Solids:
    """The fate of the waste at a flow [m³/s] and an exchange of water [m³/s]."""
    choice, wastes = design.solids, design.wastes
    part, area = _part(design, flow), _area(design, flow)
    ideal, captured, drained = _capture(design, flow, area, tables)
    removed = eq.solids.waste_drained(loads.settleable_solids, captured, drained)
    escaped = eq.solids.waste_left(loads.settleable_solids, removed)
    suspended = eq.solids.waste_suspended(loads.fine_solids, escaped)
    fines = settling.fines_concentration(
        suspended, exchange, flow, tables.polishing.removal, wastes.solids_decay, tank.volume
    )
    sludge = settling.sludge_volume(removed, choice.solids_content)
    there = has_settler(design)
    return Solids(
        settler_flow=part,
        required=settling.surface_area(part, choice.overflow_rate) if there else area,
        rule=eq.solids.settler_rule(part, choice.depth) if there else area,
        area=area,
        across=settling.settler_diameter(area),
        load=settling.overflow_rate(part, area) if there else area,
        detention=eq.solids.settler_detention(area, choice.depth, part),
        ideal=ideal,
        captured=captured,
        drained=drained,
        removed=removed,
        escaped=escaped,
        suspended=suspended,
        fines=fines,
        polished=eq.solids.waste_polished(
            fines, flow, tables.polishing.removal, tables.polishing.rinsed
        ),
        exported=eq.solids.waste_exported(fines, exchange),
        rotting=eq.solids.decaying_solids(
            fines,
            wastes.solids_decay,
            tank.volume,
            flow,
            tables.polishing.removal,
            tables.polishing.rinsed,
        ),
        sludge=sludge,
        sludge_each_time=eq.solids.sludge_each_time(sludge, choice.drain_interval),
    )
