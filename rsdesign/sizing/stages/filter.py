"""The biofilter: the media it needs, and what it does with the media and flow it has."""

from ... import equations as eq
from ...core import kinds
from ...core.arrays import least as smaller
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.biofilter import areas as biofilter
from ...equations.fish import loads as formulas
from ...equations.tank import vessel as vessels
from ...equations.water import ammonia as water
from .air import Air
from .gas import Gas
from .loads import Loads
from .stock import Stock


@stage()
class Filter:
    """The filter in the coldest week in which the fish are fed, at the peak load."""

    temperature: kinds.Temperature = figure("Coldest water used for the filter")
    load: kinds.AmmoniaLoad = figure("Ammonia for the media, beside what the old water takes")
    least_flow: kinds.Flow = figure("Least flow that can carry the ammonia")
    outlet_needed: kinds.Concentration = figure("Ammonia that must leave the filter at most")
    oxygen: kinds.Concentration = figure("Oxygen at the media")
    rate: kinds.ArealRate = figure("Ammonia that each area of media takes")
    rate_half_order: kinds.ArealRate = figure(
        "Clean film at that outlet, by the half-order relation"
    )
    rate_linear: kinds.ArealRate = figure("Clean film at that outlet, by the linear relation")
    required: kinds.Area = figure("Media surface needed")
    rule: kinds.Area = figure("Media surface by the rule of thumb")
    rule_rate: kinds.ArealRate = figure("What the rule of thumb asks of each area")
    surface: kinds.SpecificSurface = figure("Working surface for each volume of media")
    required_volume: kinds.MediaVolume = figure("Media needed")
    media_volume: kinds.MediaVolume = figure("Media")
    vessel: kinds.MediaVolume = figure("Room for the media")
    area: kinds.Area = figure("Media surface")
    flow_needed: kinds.Flow = figure("Flow that this surface needs")
    outlet: kinds.Concentration = figure("Ammonia leaving the filter")
    ammonia: kinds.Concentration = figure("Total ammonia in the tank")
    unionized: kinds.Concentration = figure("Un-ionised ammonia in the tank at the warmest hour")
    unionized_all_air: kinds.Concentration = figure("The same with all the air let in")
    removed: kinds.AmmoniaLoad = figure("Ammonia taken by the media")
    exported: kinds.AmmoniaLoad = figure("Ammonia that leaves with the old water")
    removal: kinds.Fraction = figure("Ammonia taken out in one pass")
    removal_cap: kinds.Fraction = figure("Most that the oxygen in the water allows in one pass")
    carried: kinds.Ratio = figure("What the media could take over what the flow brings")
    limited_by: kinds.Index = figure("What holds the filter back")
    vessels: kinds.Count = figure("Vessels side by side")
    cross_section: kinds.Area = figure("Cross-section of the filter, all vessels")
    across: kinds.Length = figure("Distance across one round vessel of that floor")
    depth: kinds.Length = figure("Depth of the filter")
    hydraulic_load: kinds.HydraulicLoad = figure("Flow over the cross-section")
    oxygen_use: kinds.OxygenRate = figure("Oxygen the filter uses")
    alkalinity_use: kinds.ChemicalDose = figure("Alkalinity the filter uses, textbook value")


def filter_stage(
    design: Design, stock: Stock, loads: Loads, oxygen: Air, gas: Gas, flow, exchange,
    tables: Catalogue,
) -> Filter:  # fmt: skip
    """The filter at a flow [m³/s]."""
    choice, kind = design.filter, tables.filter_type
    temperature = design.site.coldest_feeding_water
    if temperature is None:
        temperature = design.site.water_temperature
    brought = eq.biofilter.load_for_media(loads.ammonia_to_filter, choice.passive)
    load = eq.biofilter.ammonia_beside_exchange(brought, exchange, gas.ammonia_limit)
    at_media = eq.biofilter.oxygen_at_media(
        oxygen.saturation, design.keep.oxygen, kind.self_aerated
    )

    chemistry = (at_media, temperature, gas.ph, design.keep.alkalinity, choice.derate)
    least = biofilter.least_flow(load, gas.ammonia_limit)
    needed = biofilter.outlet_for(load, flow, gas.ammonia_limit)
    rate, areal, required, chemistry = _rates(
        design, (load, flow, gas.ammonia_limit), least, needed, chemistry, bool(kind.mixed)
    )
    media = _media(choice, stock, required, tables)
    rule, area = media["rule"], media["area"]
    outlet = biofilter.loop_outlet(brought, flow, area, rate, exchange, 0.0, bool(kind.mixed))
    level = biofilter.tank_ammonia(brought, flow, outlet, exchange, 0.0)
    removed = biofilter.removal(flow, level, outlet)
    count, section, depth = _shape(choice, media["vessel"], flow, tables)
    at_tank = biofilter.areal_rate(level, *chemistry)
    carried = biofilter.damkohler(area, at_tank, flow, level)
    return Filter(
        temperature=temperature,
        load=load,
        least_flow=least,
        outlet_needed=needed,
        oxygen=at_media,
        rate=areal,
        rate_half_order=biofilter.half_order_rate(needed, temperature),
        rate_linear=biofilter.linear_rate(needed, temperature),
        required=required,
        rule_rate=biofilter.implied_rate(loads.ammonia_to_filter, rule),
        flow_needed=biofilter.flow_required(load, area, gas.ammonia_limit, rate, bool(kind.mixed)),
        outlet=outlet,
        ammonia=level,
        unionized=water.unionized_ammonia(level, gas.unionized_fraction),
        unionized_all_air=water.unionized_ammonia(level, gas.unionized_fraction_all_air),
        removed=removed,
        exported=eq.biofilter.ammonia_exported(level, exchange),
        removal=biofilter.removal_per_pass(level, outlet),
        removal_cap=biofilter.oxygen_cap(at_media, level),
        carried=carried,
        limited_by=biofilter.limited_by(carried),
        vessels=count,
        cross_section=section,
        across=vessels.equivalent_diameter(biofilter.floor_of_one(section, count)),
        depth=depth,
        hydraulic_load=biofilter.hydraulic_load(flow, section),
        oxygen_use=formulas.nitrifier_oxygen(removed),
        alkalinity_use=biofilter.alkalinity_use(removed),
        **media,
    )


def _rates(design: Design, carried, least, needed, chemistry, mixed: bool):
    """Rate law, rate of each area, area required, and the chemistry as derated by a given rate.

    ``carried`` is the ammonia load, the flow and the ammonia limit.
    """
    load, flow, ammonia_limit = carried
    choice = design.filter
    rate = biofilter.rate_law(*chemistry)
    if mixed:
        areal = biofilter.areal_rate(needed, *chemistry)
        required = eq.biofilter.area_where_flow_allows(load, areal, flow, least)
    else:
        required = biofilter.area_required(load, flow, ammonia_limit, rate, False)
        areal = biofilter.implied_rate(load, required)
    if choice.rate is not None:
        chemistry = (*chemistry[:-1], biofilter.derate_for(choice.derate, choice.rate, areal))
        rate = biofilter.rate_law(*chemistry)
        areal = choice.rate
        required = eq.biofilter.area_where_flow_allows(load, areal, flow, least)
    return rate, areal, required, chemistry


def _media(choice, stock: Stock, required, tables: Catalogue) -> dict:
    """The media: as given, else what the area required takes; and the vessel volume for it."""
    medium = tables.medium
    surface = eq.biofilter.working_surface(medium.specific_surface, medium.usable_fraction)
    required_volume = biofilter.media_volume(required, surface)
    rule = biofilter.rule_area(stock.peak_feed)
    volume = choice.media_volume
    if volume is None:
        volume = eq.biofilter.media_bought(required_volume, biofilter.media_volume(rule, surface))
    return {
        "rule": rule,
        "surface": surface,
        "required_volume": required_volume,
        "media_volume": volume,
        "vessel": eq.biofilter.media_vessel_volume(volume, tables.filter_type.fill),
        "area": eq.biofilter.media_surface(volume, surface),
    }


def _shape(choice, vessel_volume, flow, tables: Catalogue):
    """How many vessels, their cross-section together, and how deep they are filled."""
    kind, owned = tables.filter_type, tables.vessel
    if owned.floor > 0.0:
        deep = owned.depth if choice.depth is None else smaller(choice.depth, owned.depth)
        count = choice.vessels
        if count is None:
            count = biofilter.vessels_needed(vessel_volume, owned.floor, deep)
        section = biofilter.floors_together(owned.floor, count)
        return count, section, biofilter.filter_depth(vessel_volume, section)
    depth = choice.depth
    if depth is None:
        depth = biofilter.wall_depth(
            vessel_volume, flow, kind.depth, kind.hydraulic_low, kind.hydraulic_high, kind.depth_low,
            kind.depth_high,
        )  # fmt: skip
    section = biofilter.cross_section(vessel_volume, depth)
    count = choice.vessels
    if count is None:
        count = biofilter.vessels_needed(vessel_volume, section, depth)
    return count, section, depth
