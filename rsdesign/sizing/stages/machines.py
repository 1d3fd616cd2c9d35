"""The machines that give air: the pipe to them, the one chosen or given, and what they draw."""

import numpy as np

from ... import equations as eq
from ...core.arrays import where
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.air import aeration
from ...equations.air.devices import NONE, Machine
from ...equations.pipes.pipes import next_size

MEASURED = "measured"
"""A machine known by its air or watts alone, where no machine of the tables gives the pressure."""


NOTHING = 0.0
"""Airlifts where a pump moves the water."""

NO_MACHINE = Machine(NONE, NONE, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""What stands for the machine of a filter that needs none."""


def airlift_air(design: Design, count):
    """Air of all airlifts; nothing where a pump moves the water."""
    airlifts = count if design.pump.kind == "airlift" else NOTHING
    return eq.air.total_machine_air(design.pump.airlift_air, airlifts)


def air_line(choice, in_all, depth, density, atmosphere, tables: Catalogue) -> dict:
    """Air pipe, pressure and the power that physics asks for."""
    lines = eq.pipes.lines_needed(in_all, tables.widest_pipe, choice.line_velocity)
    each = eq.pipes.flow_of_one(in_all, lines)
    diameter = choice.line_diameter
    if diameter is None:
        wanted = aeration.line_diameter_for(each, choice.line_velocity)
        diameter = next_size(wanted, tables.pipe_sizes)
    hot = choice.intake_temperature
    loss = aeration.air_line_loss(each, diameter, choice.line_length, hot, atmosphere)
    gauge = aeration.discharge_pressure(depth, density, choice.stone_loss, loss)
    outlet = eq.air.absolute_pressure(gauge, atmosphere)
    power = aeration.blower_power(aeration.air_mass_flow(in_all), hot, atmosphere, outlet, 1.0)
    return {
        "lines": lines,
        "line_diameter": diameter,
        "line_loss": loss,
        "discharge_pressure": gauge,
        "adiabatic_power": power,
        "wire_needed": aeration.wire_power(power, choice.wire_efficiency),
    }


def machines(choice, in_all, mean, gauge, atmosphere, tables: Catalogue) -> dict:
    """The machines: those given, else the fewest watts that bring the air needed.

    ``mean`` is the air of the day of mean feed; it only helps to choose.

    Air that was measured, or watts on a plate, take the machine that the trade sells for them:
    so the draw does not depend on how the same machine was described.
    """
    thinner = aeration.altitude_factor(atmosphere, choice.intake_temperature)
    flow, watts, count = choice.flow, choice.plate_watts, choice.count
    wanted = in_all if flow is None else flow
    known = {"kind": choice.machine, "mean_flow": mean, "so_many": count}
    physics = (atmosphere, gauge, choice.intake_temperature, choice.wire_efficiency)
    if watts is not None and choice.device is None:
        like = tables.choose_air(wanted, gauge, thinner, **known)
        row, given = tables.air_of_watts(watts, like, gauge, thinner, choice.machine)
        each, so_many = None, _unless_none(row, row.count, watts, lambda: 1.0)
        if flow is None:
            flow = _unless_none(row, given, watts, lambda: aeration.air_of_watts(watts, *physics))
    else:
        row = tables.choose_air(wanted, gauge, thinner, device=choice.device, **known)
        each = air_of_machine(row, gauge, thinner, tables)
        if watts is not None:
            so_many = eq.air.machines_needed(watts, row.plate_watts)
            if flow is None:
                flow = eq.air.air_by_watts(each, watts, row.plate_watts)
        else:
            so_many = eq.air.machines_needed(wanted, each)
            if flow is not None:
                so_many = _unless_none(row, so_many, flow, lambda: 1.0)
    if count is None:
        count = so_many
    if watts is None:
        watts = eq.air.total_rated_power(row.plate_watts, count)
        if flow is not None:
            watts = _unless_none(row, watts, flow, lambda: aeration.watts_of_air(flow, *physics))
    total = eq.air.total_machine_air(each, count) if flow is None else flow
    return {
        "kind": row.kind,
        "device": row.name if flow is None else _unless_none(row, row.name, flow, lambda: MEASURED),
        "curve_pressure": aeration.curve_pressure(gauge, thinner, row.by_density),
        "most_pressure": aeration.most_pressure(row.last, thinner, row.by_density),
        "suits_from": row.suits_from,
        "suits_to": row.suits_to,
        "device_flow": each if flow is None else eq.air.air_each(flow, count),
        "count": count,
        "total": total,
        "wire_power": watts,
    }


def air_of_machine(row: Machine, gauge, thinner, tables: Catalogue):
    """Standard air of one machine; of a single design with every step on record."""
    if not isinstance(row.name, str) or row.last == 0.0:
        return row.each
    reading = aeration.curve_pressure(gauge, thinner, row.by_density)
    return eq.air.derated_air_flow(aeration.device_flow(reading, *tables.curve(row.name)), thinner)


def _unless_none(row: Machine, value, known, otherwise):
    """A value; ``otherwise()`` where something is given and no machine of the tables suits it."""
    none = np.equal(row.last, 0.0) & np.greater(known, 0.0)
    return where(none, otherwise(), value) if np.any(none) else value
