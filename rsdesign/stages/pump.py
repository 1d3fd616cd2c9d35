"""Pump and pipe: the flow and the head, the power, and the way back by gravity."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..kinds import (
    Count,
    Flow,
    Head,
    Length,
    Power,
    Pressure,
    Ratio,
    SmallVolume,
    Velocity,
)
from ..parts import drains, pipes, pumps
from ..parts.pipes import next_size
from ..water import properties
from .stock import Stock
from .tank import Tank


@stage()
class Pump:
    """The water side: pressure pipe, pump, drain, overflow and sump."""

    flow: Flow = figure("Flow in the system")
    pipe: Length = figure("Pressure pipe inside")
    velocity: Velocity = figure("Speed in the pressure pipe")
    minor_losses: Ratio = figure("Fittings, sum of loss coefficients")
    friction: Head = figure("Head lost to rubbing")
    hazen_williams: Head = figure("The same in straight pipe by Hazen-Williams")
    head: Head = figure("Total head")
    lift_share: Ratio = figure("Lift over total head")
    hydraulic_power: Power = figure("Power in the water")
    wire_power: Power = figure("Power at the wall")
    model: str = figure("Pump")
    count: Count = figure("Pumps running")
    provided: Flow = figure("Flow the pump can give at that head")
    operating_flow: Flow = figure("Flow where pump and pipe meet, nothing throttled")
    plate_watts: Power = figure("Watts on the plates")
    drain_pipe: Length = figure("Drain pipe inside")
    drain_velocity: Velocity = figure("Speed in the drain")
    drain_head: Head = figure("Fall that the drain uses")
    drain_capacity: Flow = figure("Flow the drain can carry with its fall")
    standpipe: Length = figure("Overflow standpipe inside")
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
        inside = _inside(choice.pipe, row.free_flow, choice.velocity, tables)
        return _meeting(design, row.shutoff_head, row.free_flow, inside, tables)
    return None


def _meeting(design: Design, shutoff_head, free_flow, inside, tables: Catalogue):
    """The flow where a pump's curve meets the pipe's."""
    choice, temperature = design.pump, design.site.water_temperature
    losses = _losses(choice, tables)
    friction = pipes.head_loss(
        free_flow, inside, choice.length, choice.roughness, losses, temperature
    )
    coefficient = pumps.system_coefficient(free_flow, friction)
    return pumps.quadratic_operating_point(shutoff_head, free_flow, choice.lift, coefficient)


def _losses(choice, tables: Catalogue):
    return balance.fitting_losses(
        choice.elbows, tables.loss("elbow"), tables.loss("ball valve"),
        tables.loss("check valve"), tables.loss("exit"),
    )  # fmt: skip


def _inside(name, flow, velocity, tables: Catalogue):
    """Inside diameter of the pipe named, else of the next size that keeps to the velocity."""
    if name is not None:
        return tables.pipe(name).inside_diameter
    return next_size(pipes.diameter_for_velocity(flow, velocity), tables.pipe_sizes)


def pump(design: Design, room: Tank, stock: Stock, flow, temperature, tables: Catalogue) -> Pump:
    """The water side at the system flow [m³/s]."""
    choice = design.pump
    density = properties.density(temperature)
    inside = _inside(choice.pipe, flow, choice.velocity, tables)
    losses = _losses(choice, tables)
    friction = pipes.head_loss(flow, inside, choice.length, choice.roughness, losses, temperature)
    head = balance.total_head(choice.lift, friction)
    water = pumps.power(flow, head, 1.0, density)
    drain = _inside(choice.drain_pipe, flow, choice.drain_velocity, tables)
    drain_losses = balance.drain_losses(tables.loss("entrance"), tables.loss("elbow"))
    drain_velocity = pipes.velocity(flow, drain)
    drain_friction = pipes.head_loss(
        flow, drain, choice.drain_length, choice.roughness, drain_losses, temperature
    )
    stand = tables.pipe(choice.standpipe).inside_diameter if choice.standpipe else next_size(
        balance.standpipe_needed(flow, choice.standpipe_head), tables.pipe_sizes
    )  # fmt: skip
    return Pump(
        flow=flow,
        pipe=inside,
        velocity=pipes.velocity(flow, inside),
        minor_losses=losses,
        friction=friction,
        hazen_williams=pipes.hazen_williams(flow, inside, choice.length, choice.hazen_williams),
        head=head,
        lift_share=balance.lift_share(choice.lift, head),
        hydraulic_power=water,
        wire_power=pumps.wire_power(water, choice.efficiency),
        drain_pipe=drain,
        drain_velocity=drain_velocity,
        drain_head=balance.drain_head(drain_friction, drain_velocity),
        drain_capacity=pipes.gravity_flow(
            choice.drain_fall,
            drain,
            choice.drain_length,
            choice.roughness,
            drain_losses,
            temperature,
        ),  # fmt: skip
        standpipe=stand,
        overflow=drains.standpipe_capacity(stand, choice.standpipe_head, open_share=0.5),
        drain_down=balance.drain_down(
            drains.pipe_volume(inside, choice.length),
            room.floor,
            choice.standpipe_head,
            stock.tanks,
        ),  # fmt: skip
        outlet_pressure=properties.water_pressure(head, density),
        **_machine(design, flow, head, inside, tables),
    )


def _machine(design: Design, flow, head, inside, tables: Catalogue) -> dict:
    """The pump: the one owned, else the fewest watts that give the flow at the head."""
    choice = design.pump
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
    meeting = _meeting(design, row.shutoff_head, together, inside, tables)
    watts = balance.all_watts(row.plate_watts, count)
    return _pumps(row.name, count, balance.all_pumps(each, count), meeting, watts)


def _pumps(name, count, provided, meeting, watts) -> dict:
    return {
        "model": name,
        "count": count,
        "provided": provided,
        "operating_flow": meeting,
        "plate_watts": watts,
    }
