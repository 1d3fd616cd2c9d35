"""Pump and pipe: the flow and the head, the power, and the way back by gravity."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..kinds import (
    Count,
    Flow,
    Fraction,
    Head,
    PipeDiameter,
    Power,
    Pressure,
    Ratio,
    SmallVolume,
    Velocity,
)
from ..parts import drains, pipes, pumps
from ..parts.pipes import next_size
from ..water import properties
from .machines import airlifts
from .stock import Stock
from .tank import Tank


@stage()
class Pump:
    """The water side: pressure pipe, pump, drain, overflow and sump."""

    flow: Flow = figure("Flow in the system")
    pipes: Count = figure("Pressure pipes side by side")
    pipe: PipeDiameter = figure("Pressure pipe inside")
    velocity: Velocity = figure("Speed in the pressure pipe")
    minor_losses: Ratio = figure("Fittings, sum of loss coefficients")
    friction: Head = figure("Head lost to friction")
    hazen_williams: Head = figure("The same in straight pipe by Hazen-Williams")
    head: Head = figure("Total head")
    lift_share: Fraction = figure("Lift over total head")
    hydraulic_power: Power = figure("Power in the water")
    wire_power: Power = figure("Power at the wall")
    model: str = figure("Pump")
    count: Count = figure("Pumps running")
    provided: Flow = figure("Flow the pump can give at that head")
    operating_flow: Flow = figure("Flow where pump and pipe meet, nothing throttled")
    plate_watts: Power = figure("Watts on the plates")
    drains: Count = figure("Drain pipes side by side")
    drain_pipe: PipeDiameter = figure("Drain pipe inside")
    drain_velocity: Velocity = figure("Speed in the drain")
    drain_head: Head = figure("Fall that the drain uses")
    drain_capacity: Flow = figure("Flow the drain can carry with its fall")
    tank_level: Head = figure("Water level of the tank over the sump")
    settler_level: Head = figure("Water level of the settler over the sump")
    standpipes: Count = figure("Overflow standpipes")
    standpipe: PipeDiameter = figure("Overflow standpipe inside")
    overflow: Flow = figure("Flow the overflow takes with the screen half blocked")
    drain_down: SmallVolume = figure("Water that runs down when the pump stops")
    outlet_pressure: Pressure = figure("Pressure at the pump outlet")


def measured_flow(design: Design, tables: Catalogue):
    """The flow of a pump that is owned: measured, by the bucket, or where pump and pipe meet.

    ``None`` where the pump is left to the sizing.
    """
    choice = design.pump
    if choice.flow is not None:
        return choice.flow
    if choice.bucket_time is not None:
        return balance.bucket_flow(choice.bucket, choice.bucket_time)
    if choice.model is not None:
        row = tables.pump(choice.model)
        line = _line(choice.pipe, row.free_flow, choice.velocity, tables)
        return _meeting(design, row.shutoff_head, row.free_flow, line, tables)
    return None


def _meeting(design: Design, shutoff_head, free_flow, line, tables: Catalogue):
    """The flow where a pump's curve meets the pipe's."""
    choice, temperature = design.pump, design.site.water_temperature
    count, inside = line
    each = balance.flow_of_one(free_flow, count)
    friction = pipes.head_loss(
        each, inside, choice.length, choice.roughness, _losses(choice, tables), temperature
    )
    coefficient = pumps.system_coefficient(free_flow, friction)
    return pumps.quadratic_operating_point(shutoff_head, free_flow, choice.lift, coefficient)


def _losses(choice, tables: Catalogue):
    fittings = ("elbow", "ball valve", "check valve", "exit")
    return balance.fitting_losses(choice.elbows, *(tables.loss(name) for name in fittings))


def _line(name, flow, velocity, tables: Catalogue):
    """How many pipes side by side, and their inside diameter.

    The pipe named, else the next size that keeps to the velocity, and more of the widest where
    one will not do.
    """
    if name is not None:
        inside = tables.pipe(name).inside_diameter
        return balance.standpipes_needed(flow, flow), inside
    count = balance.lines_needed(flow, tables.widest_pipe, velocity)
    each = balance.flow_of_one(flow, count)
    return count, next_size(pipes.diameter_for_velocity(each, velocity), tables.pipe_sizes)


def _overflow(choice, flow, tables: Catalogue):
    """How many standpipes, and their inside diameter; one where the pipe is named."""
    inside, head = tables.widest_standpipe, choice.standpipe_head
    if choice.standpipe is not None:
        inside = tables.pipe(choice.standpipe).inside_diameter
        return balance.standpipes_needed(flow, flow), inside
    count = balance.standpipes_needed(
        flow, drains.standpipe_capacity(inside, head, open_share=HALF_BLOCKED)
    )
    each = balance.flow_of_one(flow, count)
    return count, next_size(balance.standpipe_needed(each, head), tables.pipe_sizes)


NOTHING = 0.0
"""Fall from the tank to itself."""

HALF_BLOCKED = 0.5
"""Share of a screen that is open when it is half blocked."""


def pump(design: Design, room: Tank, stock: Stock, flow, temperature, tables: Catalogue) -> Pump:
    """The water side at the system flow [m³/s]."""
    choice = design.pump
    density = properties.density(temperature)
    line = _line(choice.pipe, flow, choice.velocity, tables)
    count, inside = line
    each = balance.flow_of_one(flow, count)
    losses = _losses(choice, tables)
    friction = pipes.head_loss(each, inside, choice.length, choice.roughness, losses, temperature)
    head = balance.total_head(choice.lift, friction)
    water = pumps.power(flow, head, 1.0, density)
    stands, stand = _overflow(choice, flow, tables)
    one = drains.standpipe_capacity(stand, choice.standpipe_head, open_share=HALF_BLOCKED)
    return Pump(
        flow=flow,
        pipes=count,
        pipe=inside,
        velocity=pipes.velocity(each, inside),
        minor_losses=losses,
        friction=friction,
        hazen_williams=pipes.hazen_williams(each, inside, choice.length, choice.hazen_williams),
        head=head,
        lift_share=balance.lift_share(choice.lift, head),
        hydraulic_power=water,
        wire_power=pumps.wire_power(water, choice.efficiency),
        standpipes=stands,
        standpipe=stand,
        overflow=balance.all_pumps(one, stands),
        drain_down=balance.drain_down(
            drains.pipe_volume(inside, choice.length), room.floor, choice.standpipe_head,
            stock.tanks,
        ),
        outlet_pressure=properties.water_pressure(head, density),
        **_drain(choice, flow, temperature, tables),
        tank_level=balance.level(choice.lift, NOTHING),
        settler_level=balance.level(choice.lift, choice.drain_fall),
        **_machine(design, room, flow, head, line, tables),
    )  # fmt: skip


def _drain(choice, flow, temperature, tables: Catalogue) -> dict:
    """The gravity line from tank to settler."""
    count, inside = _line(choice.drain_pipe, flow, choice.drain_velocity, tables)
    each = balance.flow_of_one(flow, count)
    losses = balance.drain_losses(tables.loss("entrance"), tables.loss("elbow"))
    velocity = pipes.velocity(each, inside)
    pipe = (inside, choice.drain_length, choice.roughness, losses, temperature)
    friction = pipes.head_loss(each, *pipe)
    return {
        "drains": count,
        "drain_pipe": inside,
        "drain_velocity": velocity,
        "drain_head": balance.drain_head(friction, velocity),
        "drain_capacity": balance.all_pumps(pipes.gravity_flow(choice.drain_fall, *pipe), count),
    }


def _machine(design: Design, room: Tank, flow, head, line, tables: Catalogue) -> dict:
    """The pump: the one owned, else the fewest watts that give the flow at the head."""
    choice = design.pump
    if choice.kind == "airlift":
        return _airlifts(design, room, flow)
    if choice.flow is not None or choice.bucket_time is not None:
        watts = pumps.wire_power(pumps.power(flow, head, 1.0), choice.efficiency)
        return _pumps("measured", balance.machines_needed(flow, flow), flow, flow, watts)
    if choice.model is not None:
        row = tables.pump(choice.model)
        count = balance.machines_needed(flow, flow)
        return _pumps(row.name, count, flow, flow, row.plate_watts)
    row = tables.choose_pump(flow, head)
    each = balance.pump_at_head(row.shutoff_head, row.free_flow, head)
    count = balance.machines_needed(flow, each)
    together = balance.all_pumps(row.free_flow, count)
    meeting = _meeting(design, row.shutoff_head, together, line, tables)
    watts = balance.all_watts(row.plate_watts, count)
    return _pumps(row.name, count, balance.all_pumps(each, count), meeting, watts)


def _airlifts(design: Design, room: Tank, flow) -> dict:
    """Airlifts that move the flow; their air, and what it draws, is the air machines'."""
    each, count, _ = airlifts(design, room, flow)
    provided = balance.all_pumps(each, count)
    return _pumps("airlifts", count, provided, provided, 0.0)


def _pumps(name, count, provided, meeting, watts) -> dict:
    return {
        "model": name,
        "count": count,
        "provided": provided,
        "operating_flow": meeting,
        "plate_watts": watts,
    }
