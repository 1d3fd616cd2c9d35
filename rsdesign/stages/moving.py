"""What moves the water: the pressure pipe, the pump, and the flow where they meet.

The pipe is taken for the flow that is needed, at the chosen speed, and widened only where the flow
that comes of it would be too fast.  A pump that is told and one that is taken meet the pipe alike.
"""

from dataclasses import dataclass

import numpy as np

from .. import balance
from ..arrays import least, most, where
from ..catalogue import Catalogue
from ..design import Design
from ..figures import stage
from ..kinds import Count, Flow, Head, PipeDiameter, Power, Ratio, Temperature
from ..parts import airlift, meeting, pipes, pumps
from ..parts.pipes import next_size
from .tank import Tank

FASTEST = 2.0
"""m/s; the most in a pressure pipe, AWWA as cited."""

WIDENINGS = 4
"""Sizes by which a pipe is widened at most."""

ORDERED = "built to order"
"""The pump's name where none of the table gives the flow at so much head."""


@stage()
class Moving:
    """What moves the water, and how much."""

    pipes: Count
    pipe: PipeDiameter
    losses: Ratio
    head: Head
    model: str
    count: Count
    flow: Flow
    watts_each: Power
    ordered: bool


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """The way of the water from pump to tank, for the flow that is needed."""

    planned: Flow
    lift: Head
    length: float
    roughness: float
    losses: Ratio
    temperature: Temperature
    tables: Catalogue

    def lines(self, inside):
        """Pipes of a size side by side: as many as keep the flow needed below the highest speed."""
        return balance.lines_needed(self.planned, inside, FASTEST)

    def head(self, flow, inside):
        """Lift and rubbing at a flow."""
        each = balance.flow_of_one(flow, self.lines(inside))
        return balance.total_head(self.lift, pipes.head_loss(each, *self._pipe(inside)))

    def chosen(self, flow, inside, so_many=None):
        """The pump of the trade for a flow, so many of them together."""
        return self.tables.choose_pump(flow, self.head(flow, inside), so_many)

    def gives(self, row, flow, inside):
        """What one pump gives at the head of a flow."""
        return balance.pump_at_head(row.shutoff_head, row.free_flow, self.head(flow, inside))

    def meets(self, row, count, inside):
        """The flow where so many pumps of a row and the pipes meet."""
        lines, together = self.lines(inside), balance.all_pumps(row.free_flow, count)
        freely = pipes.head_loss(balance.flow_of_one(together, lines), *self._pipe(inside))
        first = pumps.quadratic_operating_point(
            row.shutoff_head, together, self.lift, pumps.system_coefficient(together, freely)
        )
        return meeting.meeting_flow(
            first, row.shutoff_head, together, self.lift, lines, *self._pipe(inside)
        )

    def size(self, flow, speed):
        """The size of the trade that keeps to a speed; the widest where none does."""
        wanted = pipes.diameter_for_velocity(flow, speed)
        return next_size(least(wanted, self.tables.widest_pipe), self.tables.pipe_sizes)

    def slow_enough(self, flow, inside):
        """The pipe, or the next size that keeps a flow below the highest speed."""
        each = balance.flow_of_one(flow, self.lines(inside))
        return most(inside, self.size(each, FASTEST * (1.0 + 1e-9)))

    def _pipe(self, inside):
        return inside, self.length, self.roughness, self.losses, self.temperature


def moving(design: Design, room: Tank, planned, temperature, tables: Catalogue) -> Moving:
    """Pipe, pump and flow for a flow that is needed [m³/s]."""
    choice = design.pump
    way = Way(
        planned, choice.lift, choice.length, choice.roughness, fittings(choice, tables),
        temperature, tables,
    )  # fmt: skip
    told = told_flow(choice)
    owned = None if choice.model is None else tables.pump(choice.model)
    if choice.kind == "airlift":
        return _airlifts(design, room, told, way)
    if choice.pipe is not None:
        inside = tables.pipe(choice.pipe).inside_diameter
    else:
        inside = _taken_pipe(choice, told, owned, way)
    flow = planned if told is None else told
    row = owned or way.chosen(flow, inside, choice.count)
    gives = way.gives(row, flow, inside)
    count = pumps_for(flow, gives, choice.count)
    ordered = False if owned else gives <= 0.0
    if told is None:
        flow = where(ordered, planned, way.meets(row, count, inside))
    name = row.name
    if np.any(ordered):
        name = ORDERED if np.ndim(ordered) == 0 else np.where(ordered, ORDERED, name)
    return Moving(
        pipes=way.lines(inside),
        pipe=inside,
        losses=way.losses,
        head=way.head(flow, inside),
        model=name,
        count=count,
        flow=flow,
        watts_each=row.plate_watts,
        ordered=ordered,
    )


def told_flow(choice):
    """The flow that was measured, by the bucket or else; None where none was."""
    if choice.flow is not None:
        return choice.flow
    if choice.bucket_time is not None:
        return balance.bucket_flow(choice.bucket, choice.bucket_time)
    return None


def fittings(choice, tables: Catalogue):
    """Loss coefficients of the pressure line."""
    names = ("elbow", "ball valve", "check valve", "exit")
    return balance.fitting_losses(choice.elbows, *(tables.loss(name) for name in names))


def _taken_pipe(choice, told, owned, way: Way):
    """The pipe for the flow needed at the chosen speed, wide enough for the flow that comes of it.

    First for the pump that the trade has for the flow needed, then for what is told, so that
    telling the pump or the flow that was taken leaves the pipe as it was.
    """

    def of(row, inside, so_many=None):
        gives = way.gives(row, way.planned, inside)
        meets = way.meets(row, pumps_for(way.planned, gives, so_many), inside)
        return where(gives > 0.0, meets, way.planned)

    inside = way.size(way.planned, choice.velocity)
    inside = _widened(inside, lambda inside: of(way.chosen(way.planned, inside), inside), way)
    if told is not None:
        return way.slow_enough(told, inside)
    if owned is None and choice.count is None:
        return inside

    def there(inside):
        row = owned or way.chosen(way.planned, inside, choice.count)
        return of(row, inside, choice.count)

    return _widened(inside, there, way)


def pumps_for(flow, gives, so_many):
    """Pumps running: as many as are told, else as many as the flow needs."""
    return balance.pumps_needed(flow, gives) if so_many is None else so_many


def _widened(inside, flow_in, way: Way):
    """The pipe, widened size by size until the flow that comes of it is slow enough."""
    sizes = way.tables.pipe_sizes
    for _ in range(WIDENINGS):
        flow = flow_in(inside)
        each = balance.flow_of_one(flow, way.lines(inside))
        fast = pipes.velocity(each, inside) > FASTEST * (1.0 + 1e-9)
        if not np.any(fast):
            break
        inside = where(fast, next_size(least(inside * 1.001, sizes[-1]), sizes), inside)
    return inside


def _airlifts(design: Design, room: Tank, told, way: Way) -> Moving:
    """Airlifts that move the flow, each with its air."""
    choice = design.pump
    each = airlift.airlift_flow(choice.airlift_air, choice.airlift_pipe, room.depth, choice.lift)
    wanted = way.planned if told is None else told
    count = pumps_for(wanted, each, choice.count)
    flow = told
    if told is None:
        flow = meeting.flow_or_trickle(balance.all_pumps(each, count))
    if choice.pipe is not None:
        inside = way.tables.pipe(choice.pipe).inside_diameter
    else:
        inside = way.slow_enough(flow, way.size(way.planned, choice.velocity))
    return Moving(
        pipes=way.lines(inside),
        pipe=inside,
        losses=way.losses,
        head=way.head(flow, inside),
        model="airlifts",
        count=count,
        flow=flow,
        watts_each=0.0,
        ordered=False,
    )
