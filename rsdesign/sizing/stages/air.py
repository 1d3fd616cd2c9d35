"""Oxygen: what the tanks use, what the air brings, and the machine that brings it."""

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.air import aeration
from ...equations.water import oxygen, properties
from .loads import LoadsAfterDecay
from .machines import air_line, machines
from .stock import Stock
from .tank import Tank

AT_SURFACE = 0.0
"""Depth of air saturation [m]: the surface, the safe side; at 0.7 m it would be 3 % more."""


@stage()
class Air:
    """Air and oxygen at the warmest week, on the peak day.

    What is let in is what is needed, or all there is where that is less; the rest is let out.
    Figures that end in ``all_air`` are the other end: everything is let in.
    """

    temperature: kinds.Temperature = figure("Warmest water")
    pressure: kinds.Pressure = figure("Air pressure at the site")
    saturation: kinds.Concentration = figure("Oxygen that full water holds")
    mean_demand: kinds.OxygenRate = figure("Oxygen to bring, mean of the day")
    demand: kinds.OxygenRate = figure("Oxygen to bring in the busiest hour")
    tank_demand: kinds.OxygenRate = figure("The same in the fullest tank")
    stone_depth: kinds.Length = figure("Depth of the stones")
    field_factor: kinds.Ratio = figure("Transfer here over transfer on the plate")
    standard_needed: kinds.OxygenRate = figure("Plate transfer needed")
    per_depth: kinds.EfficiencyPerDepth = figure("Oxygen caught from the air, for each depth")
    efficiency: kinds.Fraction = figure("Oxygen caught from the air, clean water")
    required: kinds.AirFlow = figure("Air needed")
    tank_required: kinds.AirFlow = figure("Air needed in the fullest tank")
    sea_level_ratio: kinds.Ratio = figure("Air needed over that at sea level")
    sea_level_oxygen: kinds.Concentration = figure("Oxygen that the same air holds as at sea level")
    to_airlifts: kinds.AirFlow = figure("Air that the airlifts take")
    in_all: kinds.AirFlow = figure("Air the machines must give")
    lines: kinds.Count = figure("Air pipes side by side")
    line_diameter: kinds.PipeDiameter = figure("Air pipe inside")
    line_loss: kinds.Pressure = figure("Pressure lost in the air pipe")
    discharge_pressure: kinds.Pressure = figure("Pressure the machine must give")
    adiabatic_power: kinds.Power = figure("Least power for that air, by physics")
    wire_needed: kinds.Power = figure("Power at the wall for the air needed")
    kind: str = figure("Kind of machine")
    device: str = figure("Machine")
    curve_pressure: kinds.Pressure = figure("Pressure at which its curve is read")
    most_pressure: kinds.Pressure = figure("Most pressure it gives here")
    suits_from: kinds.Pressure = figure("Least pressure that suits its kind")
    suits_to: kinds.Pressure = figure("Most pressure that suits its kind")
    device_flow: kinds.AirFlow = figure("Air from one machine at that pressure")
    count: kinds.Count = figure("Machines running in the busiest hour")
    spare: kinds.Count = figure("Spare machines that stand still")
    total: kinds.AirFlow = figure("Air from the machines running")
    provided: kinds.AirFlow = figure("Air given")
    used: kinds.AirFlow = figure("Air let into the water; the rest is let out")
    rule: kinds.AirFlow = figure("Air by the rule of thumb")
    wire_power: kinds.Power = figure("Power at the wall")
    mean_count: kinds.Count = figure("Machines running on a day of mean feed")
    mean_power: kinds.Power = figure("Power at the wall on a day of mean feed")
    plate_watts: kinds.Power = figure("Watts on the plates of all machines, spares too")
    stones: kinds.Count = figure("Stones")
    transfer: kinds.OxygenRate = figure("Oxygen brought at the oxygen to keep")
    transfer_all_air: kinds.OxygenRate = figure("The same with all the air let in")
    transfer_efficiency: kinds.AerationEfficiency = figure("Oxygen brought for the power")
    mean_oxygen: kinds.Concentration = figure("Oxygen in the tank on the mean hour")
    peak_oxygen: kinds.Concentration = figure("Oxygen in the tank in the busiest hour")
    peak_oxygen_all_air: kinds.Concentration = figure("The same with all the air let in")
    rule_demand: kinds.OxygenRate = figure("Oxygen by the rule of thumb")
    largest_off: kinds.OxygenRate = figure("Oxygen brought with the largest machine off, spares on")


@stage()
class AirSetting:
    """What the site and the stones fix before any load is known."""

    temperature: kinds.Temperature
    pressure: kinds.Pressure
    density: kinds.Density
    saturation: kinds.Concentration
    stone_depth: kinds.Length
    factor: kinds.Ratio
    per_depth: kinds.EfficiencyPerDepth
    efficiency: kinds.Fraction


@stage()
class AirNeed:
    """Oxygen to bring, and the air for it."""

    mean_demand: kinds.OxygenRate
    demand: kinds.OxygenRate
    standard: kinds.OxygenRate
    required: kinds.AirFlow


def air_setting(design: Design, tank: Tank, tables: Catalogue) -> AirSetting:
    """Pressure, saturation and transfer at the site in the warmest week."""
    choice = design.air
    temperature = design.site.warmest_water
    if temperature is None:
        temperature = design.site.water_temperature
    pressure = properties.pressure_at_elevation(design.site.elevation)
    depth = choice.stone_depth
    if depth is None:
        depth = eq.air.stone_depth(tank.depth)
    per_depth = choice.efficiency
    if per_depth is None:
        per_depth = tables.diffuser.efficiency_per_depth
    return AirSetting(
        temperature=temperature,
        pressure=pressure,
        density=properties.density(temperature),
        saturation=oxygen.saturation(temperature, design.source.salinity, pressure),
        stone_depth=depth,
        factor=aeration.field_factor(
            temperature, design.keep.oxygen, AT_SURFACE, pressure, choice.alpha, choice.beta,
            choice.theta, choice.fouling, design.source.salinity,
        ),
        per_depth=per_depth,
        efficiency=aeration.transfer_efficiency(per_depth, depth),
    )  # fmt: skip


def air_need(loads: LoadsAfterDecay, setting: AirSetting, tables: Catalogue) -> AirNeed:
    """Oxygen for the loads, and the air that brings it."""
    in_filter = eq.air.oxygen_from_filter(loads.nitrifier_oxygen, tables.filter_type.tank_share)
    demand = eq.air.oxygen_for_tank(loads.peak_oxygen, in_filter)
    standard = aeration.standard_rate_needed(demand, setting.factor)
    required = aeration.air_flow(standard, setting.efficiency)
    mean_demand = eq.air.oxygen_for_tank(loads.mean_oxygen, in_filter)
    return AirNeed(mean_demand, demand, standard, required)


def air(
    design: Design, stock: Stock, setting: AirSetting, need: AirNeed, to_airlifts, tables: Catalogue
) -> Air:
    """The air side of a design, on the peak day at the warmest week."""
    choice = design.air
    rule_demand = eq.air.rule_oxygen(stock.peak_feed)
    in_all = eq.air.total_air_flow(need.required, to_airlifts)
    line = air_line(choice, in_all, setting.stone_depth, setting.density, setting.pressure, tables)
    mean = need.required * stock.mean_feed / stock.peak_feed + to_airlifts  # only to choose
    machine = machines(choice, in_all, mean, line["discharge_pressure"], setting.pressure, tables)
    each, count = machine["device_flow"], machine["count"]
    provided = eq.air.air_for_stones(machine["total"], to_airlifts)
    used = eq.air.admitted_air_flow(provided, need.required)
    spare = choice.spare
    if spare is None:
        spare = eq.air.spare_machines(
            need.required, each, need.mean_demand, need.demand, to_airlifts, count
        )
    running = eq.air.machines_on_mean_day(
        need.required, each, stock.mean_feed, stock.peak_feed, to_airlifts, count
    )
    one_off = eq.air.air_after_failure(each, count, spare, to_airlifts)
    transfer = _brought(used, setting)
    all_air = _brought(provided, setting)
    return Air(
        temperature=setting.temperature,
        pressure=setting.pressure,
        saturation=setting.saturation,
        mean_demand=need.mean_demand,
        demand=need.demand,
        tank_demand=eq.air.share_by_feed(need.demand, stock.tank_feed, stock.peak_feed),
        stone_depth=setting.stone_depth,
        field_factor=setting.factor,
        standard_needed=need.standard,
        per_depth=setting.per_depth,
        efficiency=setting.efficiency,
        required=need.required,
        tank_required=eq.air.air_by_feed(need.required, stock.tank_feed, stock.peak_feed),
        to_airlifts=to_airlifts,
        in_all=in_all,
        spare=spare,
        provided=provided,
        used=used,
        mean_count=running,
        mean_power=eq.air.running_power(machine["wire_power"], running, count),
        plate_watts=eq.air.installed_power(
            machine["wire_power"], eq.air.power_each(machine["wire_power"], count), spare
        ),
        stones=aeration.diffuser_count(used, tables.diffuser.air_flow),
        transfer=transfer,
        transfer_all_air=all_air,
        transfer_efficiency=eq.air.transfer_for_power(transfer, machine["wire_power"]),
        rule_demand=rule_demand,
        rule=eq.air.rule_air(need.required, rule_demand, need.demand),
        largest_off=_brought(one_off, setting),
        **_oxygen_levels(design, setting, need, transfer, all_air),
        **line,
        **machine,
    )


def _oxygen_levels(design: Design, setting: AirSetting, need: AirNeed, transfer, all_air) -> dict:
    """Oxygen that the air holds in the tanks, and the same air beside that of sea level."""
    level = (setting.saturation, design.air.beta, design.keep.oxygen)
    low = oxygen.saturation(setting.temperature, design.source.salinity, SEA_LEVEL)
    return {
        "sea_level_ratio": eq.air.air_over_sea_level(low, *level),
        "sea_level_oxygen": eq.air.oxygen_as_at_sea_level(low, *level),
        "mean_oxygen": eq.air.tank_oxygen(*level, need.mean_demand, transfer),
        "peak_oxygen": eq.air.tank_oxygen(*level, need.demand, transfer),
        "peak_oxygen_all_air": eq.air.tank_oxygen(*level, need.demand, all_air),
    }


SEA_LEVEL = 101325.0
"""Pressure of the air at sea level [Pa]: the standard atmosphere."""


def _brought(flow, setting: AirSetting):
    """Oxygen that an air flow brings at the site, at the oxygen to keep."""
    given = aeration.standard_transfer(flow, setting.per_depth, setting.stone_depth)
    return eq.air.field_rate(given, setting.factor)
