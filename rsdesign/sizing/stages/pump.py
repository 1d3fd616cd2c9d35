"""Pump and pipe: the flow and the head, the power, and the way back by gravity.

The flow of the system is where pump and pipe meet, whether the pump was given or chosen.
"""

from ... import equations as eq
from ...core import kinds
from ...core.arrays import least, where
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.pipes import drain_size, drains, pipes
from ...equations.pipes.pipes import next_size
from ...equations.pumps import pumps
from ...equations.water import properties
from .moving import Moving
from .stock import Stock
from .tank import Tank


@stage()
class Pump:
    """The water side: pressure pipe, pump, drain, overflow and sump."""

    flow: kinds.Flow = figure("Flow in the system, where pump and pipe meet")
    pipes: kinds.Count = figure("Pressure pipes side by side")
    pipe: kinds.PipeDiameter = figure("Pressure pipe inside")
    velocity: kinds.Velocity = figure("Speed in the pressure pipe")
    minor_losses: kinds.Ratio = figure("Fittings, sum of loss coefficients")
    friction: kinds.Head = figure("Head lost to friction")
    hazen_williams: kinds.Head = figure("The same in straight pipe by Hazen-Williams")
    head: kinds.Head = figure("Total head")
    lift_share: kinds.Fraction = figure("Lift over total head")
    hydraulic_power: kinds.Power = figure("Power in the water")
    wire_power: kinds.Power = figure("Least power at the wall, by the efficiency chosen")
    model: str = figure("Pump")
    count: kinds.Count = figure("Pumps running")
    plate_watts: kinds.Power = figure("Power at the wall by the plate, as the energy counts it")
    drains: kinds.Count = figure("Drain pipes side by side")
    drain_pipe: kinds.PipeDiameter = figure("Drain pipe inside")
    drain_velocity: kinds.Velocity = figure("Speed in the drain")
    drain_head: kinds.Head = figure("Fall that the drain uses")
    drain_fall: kinds.Head = figure("Fall from tank to settler")
    drain_capacity: kinds.Flow = figure("Flow the drain can carry with its fall")
    tank_level: kinds.Head = figure("Water level of the tank over the sump")
    settler_level: kinds.Head = figure("Water level of the settler over the sump")
    standpipes: kinds.Count = figure("Overflow standpipes")
    standpipe: kinds.PipeDiameter = figure("Overflow standpipe inside")
    overflow: kinds.Flow = figure("Flow the overflow takes with the screen half blocked")
    drain_down: kinds.SmallVolume = figure("Water that runs down when the pump stops")
    outlet_pressure: kinds.Pressure = figure("Pressure at the pump outlet")


NOTHING = 0.0
"""Fall from the tank to itself."""

HALF_BLOCKED = 0.5
"""Share of a screen that is open when it is half blocked."""


def pump(
    design: Design, tank: Tank, stock: Stock, moving: Moving, temperature, tables: Catalogue
) -> Pump:
    """The water side at the flow that pump and pipe give."""
    choice, flow, inside = design.pump, moving.flow, moving.pipe
    density = properties.density(temperature)
    each = eq.pipes.flow_of_one(flow, moving.pipes)
    friction = pipes.head_loss(
        each, inside, choice.length, choice.roughness, moving.losses, temperature
    )
    water = pumps.power(flow, moving.head, 1.0, density)
    wire = pumps.wire_power(water, choice.efficiency)
    drain = _drain(choice, flow, temperature, tables)
    stands, stand, takes = _overflow(choice, flow, tables)
    return Pump(
        flow=flow,
        pipes=moving.pipes,
        pipe=inside,
        velocity=pipes.velocity(each, inside),
        minor_losses=moving.losses,
        friction=friction,
        hazen_williams=pipes.hazen_williams(each, inside, choice.length, choice.hazen_williams),
        head=moving.head,
        lift_share=eq.pipes.lift_share(choice.lift, moving.head),
        hydraulic_power=water,
        wire_power=wire,
        model=moving.model,
        count=moving.count,
        plate_watts=_watts(moving, wire),
        standpipes=stands,
        standpipe=stand,
        overflow=takes,
        drain_down=eq.pipes.drain_down(
            drains.pipe_volume(inside, choice.length), tank.floor, choice.standpipe_head,
            stock.tanks,
        ),
        outlet_pressure=properties.water_pressure(moving.head, density),
        tank_level=eq.pipes.level(choice.lift, NOTHING),
        settler_level=eq.pipes.level(choice.lift, drain["drain_fall"]),
        **drain,
    )  # fmt: skip


def _watts(moving: Moving, wire):
    """Watts at the wall: of the plates, or by the efficiency chosen; airlifts draw none of their own."""
    return where(moving.ordered, wire, eq.air.total_rated_power(moving.watts_each, moving.count))


def _overflow(choice, flow, tables: Catalogue):
    """How many standpipes, their inside diameter, and the flow that they take."""
    head = choice.standpipe_head

    def one(inside):
        return drains.standpipe_capacity(inside, head, open_share=HALF_BLOCKED)

    if choice.standpipe is not None:
        inside = tables.pipe(choice.standpipe).inside_diameter
    else:
        most = eq.pipes.standpipes_needed(flow, one(tables.widest_standpipe))
        wanted = eq.pipes.standpipe_needed(eq.pipes.flow_of_one(flow, most), head)
        inside = next_size(least(wanted, tables.widest_standpipe), tables.pipe_sizes)
    takes = one(inside)
    count = eq.pipes.standpipes_needed(flow, takes)
    return count, inside, eq.pipes.total_pump_flow(takes, count)


def _drain(choice, flow, temperature, tables: Catalogue) -> dict:
    """The gravity line from tank to settler: its size by fall and speed, and what it can carry."""
    losses = eq.pipes.drain_losses(tables.loss("entrance"), tables.loss("elbow"))
    line = (choice.drain_length, choice.roughness, losses, temperature)
    fall, fastest = choice.drain_fall, choice.drain_velocity
    given = drain_size.ANY_FALL if fall is None else fall
    if choice.drain_pipe is not None:
        inside = tables.pipe(choice.drain_pipe).inside_diameter
    else:
        inside = drain_size.drain_diameter(flow, tables.pipe_sizes, given, fastest, *line)
    count = drain_size.drains_needed(flow, inside, given, fastest, *line)
    each = eq.pipes.flow_of_one(flow, count)
    velocity = pipes.velocity(each, inside)
    friction = pipes.head_loss(each, inside, *line)
    uses = eq.pipes.drain_head(friction, velocity)
    if fall is None:
        fall = eq.pipes.fall_to_build(uses)
    return {
        "drains": count,
        "drain_pipe": inside,
        "drain_velocity": velocity,
        "drain_head": uses,
        "drain_fall": fall,
        "drain_capacity": eq.pipes.total_pump_flow(pipes.gravity_flow(fall, inside, *line), count),
    }
