"""Oxygen: what the tanks use, what the air brings, and the machine that brings it."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..kinds import (
    AerationEfficiency,
    AirFlow,
    Concentration,
    Count,
    Density,
    EfficiencyPerDepth,
    Fraction,
    Length,
    OxygenRate,
    PipeDiameter,
    Power,
    Pressure,
    Ratio,
    Temperature,
)
from ..parts import aeration
from ..parts.pipes import next_size
from ..water import oxygen, properties
from .loads import After
from .stock import Stock
from .tank import Tank

AT_SURFACE = 0.0
"""Depth at which water is full of air: the surface, the safe side; at 0.7 m it would be 3 % more."""


@stage()
class Air:
    """Air and oxygen at the warmest week, on the peak day."""

    temperature: Temperature = figure("Warmest water")
    pressure: Pressure = figure("Air pressure at the site")
    saturation: Concentration = figure("Oxygen that full water holds")
    mean_demand: OxygenRate = figure("Oxygen to bring, mean of the day")
    demand: OxygenRate = figure("Oxygen to bring in the busiest hour")
    tank_demand: OxygenRate = figure("The same in the fullest tank")
    stone_depth: Length = figure("Depth of the stones")
    field_factor: Ratio = figure("Transfer here over transfer on the plate")
    standard_needed: OxygenRate = figure("Plate transfer needed")
    efficiency: Fraction = figure("Oxygen caught from the air, clean water")
    required: AirFlow = figure("Air needed")
    tank_required: AirFlow = figure("Air needed in the fullest tank")
    lines: Count = figure("Air pipes side by side")
    line_diameter: PipeDiameter = figure("Air pipe inside")
    line_loss: Pressure = figure("Pressure lost in the air pipe")
    discharge_pressure: Pressure = figure("Pressure the machine must give")
    adiabatic_power: Power = figure("Least power for that air, by physics")
    wire_needed: Power = figure("Power at the wall for the air needed")
    device: str = figure("Machine")
    device_flow: AirFlow = figure("Air from one machine at that pressure")
    count: Count = figure("Machines running")
    provided: AirFlow = figure("Air given")
    used: AirFlow = figure("Air let into the water; the rest is let out")
    rule: AirFlow = figure("Air by the rule of thumb")
    wire_power: Power = figure("Power at the wall")
    stones: Count = figure("Stones")
    transfer: OxygenRate = figure("Oxygen brought at the oxygen to keep")
    transfer_efficiency: AerationEfficiency = figure("Oxygen brought for the power")
    mean_oxygen: Concentration = figure("Oxygen in the tank on the mean hour")
    peak_oxygen: Concentration = figure("Oxygen in the tank in the busiest hour")
    rule_demand: OxygenRate = figure("Oxygen by the rule of thumb")
    largest_off: OxygenRate = figure("Oxygen brought with the largest machine off")


@stage()
class Setting:
    """What the site and the stones fix before any load is known."""

    temperature: Temperature
    pressure: Pressure
    density: Density
    saturation: Concentration
    stone_depth: Length
    factor: Ratio
    per_depth: EfficiencyPerDepth
    efficiency: Fraction


@stage()
class Need:
    """Oxygen to bring and the air for it; the machines too, where they are owned."""

    mean_demand: OxygenRate
    demand: OxygenRate
    standard: OxygenRate
    required: AirFlow
    used: AirFlow
    transfer: OxygenRate
    line: dict
    machine: dict


def setting(design: Design, room: Tank, tables: Catalogue) -> Setting:
    """Pressure, saturation and transfer at the site in the warmest week."""
    choice = design.air
    temperature = design.site.warmest_water
    if temperature is None:
        temperature = design.site.water_temperature
    pressure = properties.pressure_at_elevation(design.site.elevation)
    depth = choice.stone_depth
    if depth is None:
        depth = balance.stone_depth(room.depth)
    per_depth = choice.efficiency
    if per_depth is None:
        per_depth = tables.diffuser.efficiency_per_depth
    return Setting(
        temperature=temperature,
        pressure=pressure,
        density=properties.density(temperature),
        saturation=oxygen.saturation(temperature, design.source.salinity, pressure),
        stone_depth=depth,
        factor=aeration.field_factor(
            temperature, design.keep.oxygen, AT_SURFACE, pressure, choice.alpha, choice.beta,
            choice.theta, choice.fouling,
        ),
        per_depth=per_depth,
        efficiency=aeration.transfer_efficiency(per_depth, depth),
    )  # fmt: skip


def owns_machine(design: Design) -> bool:
    """Whether the design says what air there is."""
    choice = design.air
    known = (choice.flow, choice.plate_watts, choice.device, choice.count)
    return any(value is not None for value in known)


def need(design: Design, loads: After, here: Setting, tables: Catalogue, machines: bool) -> Need:
    """Oxygen and air for the loads.

    Without ``machines``, as much air is let in as is needed; with them, what is really there.
    """
    in_filter = balance.oxygen_from_filter(loads.nitrifier_oxygen, tables.filter_type.tank_share)
    demand = balance.oxygen_for_tank(loads.peak_oxygen, in_filter)
    standard = aeration.standard_rate_needed(demand, here.factor)
    required = aeration.air_flow(standard, here.efficiency)
    mean_demand = balance.oxygen_for_tank(loads.mean_oxygen, in_filter)
    line, machine, used, transfer = {}, {}, required, demand
    if machines:
        line = _line(design.air, required, here, tables)
        machine = _machine(design.air, required, mean_demand, demand, here.pressure, line, tables)
        used = machine["used"]
        given = aeration.standard_transfer(machine["provided"], here.per_depth, here.stone_depth)
        transfer = balance.field_rate(given, here.factor)
    return Need(mean_demand, demand, standard, required, used, transfer, line, machine)


def air(design: Design, stock: Stock, here: Setting, asked: Need) -> Air:
    """The air side of a design, on the peak day at the warmest week."""
    choice, keep = design.air, design.keep
    rule_demand = balance.rule_oxygen(stock.peak_feed)
    level = (here.saturation, choice.beta, keep.oxygen)
    return Air(
        temperature=here.temperature,
        pressure=here.pressure,
        saturation=here.saturation,
        mean_demand=asked.mean_demand,
        demand=asked.demand,
        tank_demand=balance.share_by_feed(asked.demand, stock.tank_feed, stock.peak_feed),
        stone_depth=here.stone_depth,
        field_factor=here.factor,
        standard_needed=asked.standard,
        efficiency=here.efficiency,
        required=asked.required,
        tank_required=balance.air_by_feed(asked.required, stock.tank_feed, stock.peak_feed),
        transfer=asked.transfer,
        transfer_efficiency=balance.transfer_for_power(asked.transfer, asked.machine["wire_power"]),
        mean_oxygen=balance.tank_oxygen(*level, asked.mean_demand, asked.transfer),
        peak_oxygen=balance.tank_oxygen(*level, asked.demand, asked.transfer),
        rule_demand=rule_demand,
        rule=balance.rule_air(asked.required, rule_demand, asked.demand),
        largest_off=balance.largest_off(asked.transfer, asked.machine["count"]),
        **asked.line,
        **asked.machine,
    )


def _line(choice, required, here: Setting, tables: Catalogue) -> dict:
    """Air pipe, pressure and the power that physics asks for."""
    pressure = here.pressure
    lines = balance.lines_needed(required, tables.widest_pipe, choice.line_velocity)
    each = balance.flow_of_one(required, lines)
    diameter = choice.line_diameter
    if diameter is None:
        wanted = aeration.line_diameter_for(each, choice.line_velocity)
        diameter = next_size(wanted, tables.pipe_sizes)
    loss = aeration.air_line_loss(
        each, diameter, choice.line_length, choice.intake_temperature, pressure
    )
    gauge = aeration.discharge_pressure(here.stone_depth, here.density, choice.stone_loss, loss)
    mass = aeration.air_mass_flow(required)
    outlet = balance.absolute_pressure(gauge, pressure)
    power = aeration.blower_power(mass, choice.intake_temperature, pressure, outlet, 1.0)
    return {
        "lines": lines,
        "line_diameter": diameter,
        "line_loss": loss,
        "discharge_pressure": gauge,
        "adiabatic_power": power,
        "wire_needed": aeration.wire_power(power, choice.wire_efficiency),
    }


def _machine(
    choice, required, mean_demand, demand, pressure, line: dict, tables: Catalogue
) -> dict:
    """The machines: those owned, else the fewest watts that bring the air needed."""
    gauge = line["discharge_pressure"]
    thinner = aeration.altitude_factor(pressure, choice.intake_temperature)
    if choice.flow is not None or choice.plate_watts is not None:
        provided, watts = _measured(choice, pressure, gauge)
        count = choice.count
        if count is None:
            count = balance.machines_needed(provided, provided)
        return _machines("measured", provided, count, provided, watts, provided, tables)
    if choice.device is not None:
        row = tables.device(choice.device)
        plate = aeration.device_flow(gauge, *tables.curve(row.name))
    else:
        mean = required * mean_demand / demand  # only to choose; the count is worked out below
        row, plate = tables.choose_air(choice.machine, required, mean, gauge, thinner)
        if isinstance(row.name, str):
            plate = aeration.device_flow(gauge, *tables.curve(row.name))
    each = balance.thinner_air(plate, thinner)
    count = choice.count
    if count is None:
        count = balance.machines_with_spare(required, each, mean_demand, demand)
    provided = balance.all_machines(each, count)
    owned = choice.device is not None or choice.count is not None
    return _machines(row.name, each, count, provided, balance.all_watts(row.plate_watts, count),
                     provided if owned else required, tables)  # fmt: skip


def _measured(choice, pressure, gauge):
    """Air and watts of a machine known by a reading or by its plate."""
    watts, hot, efficiency = choice.plate_watts, choice.intake_temperature, choice.wire_efficiency
    if choice.flow is None:
        return aeration.air_of_watts(watts, pressure, gauge, hot, efficiency), watts
    if watts is None:
        watts = aeration.watts_of_air(choice.flow, pressure, gauge, hot, efficiency)
    return choice.flow, watts


def _machines(name, each, count, provided, watts, used, tables: Catalogue) -> dict:
    return {
        "device": name,
        "device_flow": each,
        "count": count,
        "provided": provided,
        "used": used,
        "wire_power": watts,
        "stones": aeration.diffuser_count(provided, tables.diffuser.air_flow),
    }
