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
    Fraction,
    Length,
    OxygenRate,
    Power,
    Pressure,
    Ratio,
    Temperature,
)
from ..parts import aeration
from ..parts.pipes import next_size
from ..water import oxygen, properties
from .loads import Loads
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
    line_diameter: Length = figure("Air pipe inside")
    line_loss: Pressure = figure("Pressure lost in the air pipe")
    discharge_pressure: Pressure = figure("Pressure the machine must give")
    adiabatic_power: Power = figure("Least power for that air, by physics")
    wire_needed: Power = figure("Power at the wall for the air needed")
    device: str = figure("Machine")
    device_flow: AirFlow = figure("Air from one machine at that pressure")
    count: Count = figure("Machines running")
    provided: AirFlow = figure("Air given")
    used: AirFlow = figure("Air let into the water; the rest is let out")
    rule: AirFlow = figure("Air by the old rule")
    wire_power: Power = figure("Power at the wall")
    stones: Count = figure("Stones")
    transfer: OxygenRate = figure("Oxygen brought at the oxygen to keep")
    transfer_efficiency: AerationEfficiency = figure("Oxygen brought for the power")
    mean_oxygen: Concentration = figure("Oxygen in the tank on the mean hour")
    peak_oxygen: Concentration = figure("Oxygen in the tank in the busiest hour")
    rule_demand: OxygenRate = figure("Oxygen by the old rule")
    largest_off: OxygenRate = figure("Oxygen brought with the largest machine off")


def air(design: Design, stock: Stock, loads: Loads, room: Tank, tables: Catalogue) -> Air:
    """The air side of a design, on the peak day at the warmest week."""
    choice, keep = design.air, design.keep
    temperature = design.site.warmest_water
    if temperature is None:
        temperature = design.site.water_temperature
    pressure = properties.pressure_at_elevation(design.site.elevation)
    density = properties.density(temperature)
    saturation = oxygen.saturation(temperature, design.source.salinity, pressure)
    in_filter = balance.oxygen_from_filter(loads.nitrifier_oxygen, tables.filter_type.tank_share)
    mean_demand = balance.oxygen_for_tank(loads.mean_oxygen, in_filter)
    demand = balance.oxygen_for_tank(loads.peak_oxygen, in_filter)
    depth = choice.stone_depth
    if depth is None:
        depth = balance.stone_depth(room.depth)
    factor = aeration.field_factor(
        temperature, keep.oxygen, AT_SURFACE, pressure, choice.alpha, choice.beta, choice.theta,
        choice.fouling,
    )  # fmt: skip
    per_depth = choice.efficiency
    if per_depth is None:
        per_depth = tables.diffuser.efficiency_per_depth
    efficiency = aeration.transfer_efficiency(per_depth, depth)
    needed = aeration.standard_rate_needed(demand, factor)
    required = aeration.air_flow(needed, efficiency)
    line = _line(choice, required, pressure, density, depth, tables)
    machine = _machine(choice, required, pressure, line, tables)
    standard = aeration.standard_transfer(machine["provided"], per_depth, depth)
    transfer = balance.field_rate(standard, factor)
    rule_demand = balance.rule_oxygen(stock.peak_feed)
    gone = balance.largest_off(transfer, machine["count"])
    return Air(
        temperature=temperature,
        pressure=pressure,
        saturation=saturation,
        mean_demand=mean_demand,
        demand=demand,
        tank_demand=balance.share_by_feed(demand, stock.tank_feed, stock.peak_feed),
        stone_depth=depth,
        field_factor=factor,
        standard_needed=needed,
        efficiency=efficiency,
        required=required,
        tank_required=balance.air_by_feed(required, stock.tank_feed, stock.peak_feed),
        transfer=transfer,
        transfer_efficiency=balance.transfer_for_power(transfer, machine["wire_power"]),
        mean_oxygen=balance.tank_oxygen(
            saturation, choice.beta, keep.oxygen, mean_demand, transfer
        ),
        peak_oxygen=balance.tank_oxygen(saturation, choice.beta, keep.oxygen, demand, transfer),
        rule_demand=rule_demand,
        rule=balance.rule_air(required, rule_demand, demand),
        largest_off=gone,
        **line,
        **machine,
    )


def _line(choice, required, pressure, density, depth, tables: Catalogue) -> dict:
    """Air pipe, pressure and the power that physics asks for."""
    diameter = choice.line_diameter
    if diameter is None:
        diameter = next_size(aeration.line_diameter_for(required), tables.pipe_sizes)
    loss = aeration.air_line_loss(
        required, diameter, choice.line_length, choice.intake_temperature, pressure
    )
    gauge = aeration.discharge_pressure(depth, density, choice.stone_loss, loss)
    mass = aeration.air_mass_flow(required)
    outlet = balance.absolute_pressure(gauge, pressure)
    power = aeration.blower_power(mass, choice.intake_temperature, pressure, outlet, 1.0)
    return {
        "line_diameter": diameter,
        "line_loss": loss,
        "discharge_pressure": gauge,
        "adiabatic_power": power,
        "wire_needed": aeration.wire_power(power, choice.wire_efficiency),
    }


def _machine(choice, required, pressure, line: dict, tables: Catalogue) -> dict:
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
        row, plate = tables.choose_air(choice.machine, required, gauge, thinner)
        if isinstance(row.name, str):
            plate = aeration.device_flow(gauge, *tables.curve(row.name))
    each = balance.thinner_air(plate, thinner)
    count = choice.count
    if count is None:
        count = balance.machines_needed(required, each)
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
