"""Air of a moving bed's own: it rolls the carriers and brings the bacteria their share of oxygen."""

from ... import equations as eq
from ...core.arrays import where
from ...core.figures import figure, stage
from ...core.kinds import AirFlow, Count, OxygenRate, Power, Pressure
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.air import aeration
from .air import Air, AirSetting
from .filter import Filter
from .loads import Loads
from .machines import NO_MACHINE, air_of_machine


@stage()
class Bed:
    """Air that the filter takes from a machine of its own; no machine where it needs none."""

    for_rolling: AirFlow = figure("Air that rolls the media")
    oxygen: OxygenRate = figure("Oxygen the bacteria take from the filter's own air")
    for_oxygen: AirFlow = figure("Air that brings it")
    required: AirFlow = figure("Air the filter needs")
    pressure: Pressure = figure("Pressure at the floor of the filter")
    device: str = figure("Machine of the filter")
    device_flow: AirFlow = figure("Air from one of them at that pressure")
    count: Count = figure("Machines running for the filter")
    provided: AirFlow = figure("Air given to the filter")
    wire_power: Power = figure("Power at the wall for the filter's air")


def bed(
    design: Design, loads: Loads, setting: AirSetting, air: Air, vessel: Filter, tables: Catalogue
) -> Bed:
    """The filter's own air: from its floor, its depth and the oxygen it takes.

    Pipes with drilled holes give coarse bubbles.  The machine is one of its own, since its water is
    seldom as deep as the tank's.
    """
    kind, choice = tables.filter_type, design.air
    there = vessel.media_volume > 0.0  # none where the plants take all the ammonia
    depth = where(there, vessel.depth, SHALLOW)
    rolling = eq.air.air_for_floor(vessel.cross_section, kind.air_rate)
    oxygen = eq.air.oxygen_from_filter(loads.nitrifier_oxygen, kind.tank_share)
    gauge = aeration.discharge_pressure(depth, setting.density, choice.stone_loss, air.line_loss)
    breathing, row, each = rolling, NO_MACHINE, rolling
    required = rolling
    if kind.air_rate > 0.0:
        caught = aeration.transfer_efficiency(tables.coarse.efficiency_per_depth, depth)
        breathing = aeration.air_flow(aeration.standard_rate_needed(oxygen, setting.factor), caught)
        required = where(there, eq.air.larger_air(rolling, breathing), 0.0)
        thinner = aeration.altitude_factor(setting.pressure, choice.intake_temperature)
        row = tables.choose_air(required, gauge, thinner)
        each = air_of_machine(row, gauge, thinner, tables)
    count = eq.air.machines_needed(required, each)
    return Bed(
        for_rolling=rolling,
        oxygen=oxygen,
        for_oxygen=breathing,
        required=required,
        pressure=gauge,
        device=row.name,
        device_flow=each,
        count=count,
        provided=eq.air.total_machine_air(each, count),
        wire_power=eq.air.total_rated_power(row.plate_watts, count),
    )


SHALLOW = 1.0
"""Depth [m] that stands for that of a filter which is not there."""
