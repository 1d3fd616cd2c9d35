"""What moves the water: the pressure pipe, the pump, and the flow where they meet.

The pipe is taken for the flow that is needed, at the chosen speed, and widened only where the flow
that comes of it would be too fast.  A given pump and a chosen one meet the pipe alike.
"""

from dataclasses import dataclass, fields

import numpy as np

from ... import equations as eq
from ...core import kinds
from ...core.arrays import least, most, where
from ...core.figures import stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.pipes import pipes
from ...equations.pipes.pipes import next_size
from ...equations.pumps import airlift, pumps
from ...equations.pumps import duty_point as meeting
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

    pipes: kinds.Count
    pipe: kinds.PipeDiameter
    losses: kinds.Ratio
    head: kinds.Head
    model: str
    count: kinds.Count
    flow: kinds.Flow
    watts_each: kinds.Power
    ordered: bool


@dataclass(frozen=True, slots=True, eq=False)
class PressureLine:
    """The way of the water from pump to tank, for the flow that is needed."""

    planned: kinds.Flow
    lift: kinds.Head
    length: kinds.Length
    roughness: kinds.Roughness
    losses: kinds.Ratio
    temperature: kinds.Temperature
    tables: Catalogue

    def lines(self, inside):
        """Pipes of a size side by side: as many as keep the flow needed below the highest speed."""
        return eq.pipes.lines_needed(self.planned, inside, FASTEST)

    def friction(self, flow, inside):
        """Head lost in the pipes at a flow."""
        return pipes.head_loss(eq.pipes.flow_of_one(flow, self.lines(inside)), *self.pipe(inside))

    def pipe(self, inside):
        """One of the pipes, as the formulas take it."""
        return inside, self.length, self.roughness, self.losses, self.temperature

    def pumps(self, flow, inside, owned, count_given):
        """The pump owned, else the trade's for a flow, and how many: a ``Choice``."""
        friction = self.friction(flow, inside)
        head = eq.pipes.total_head(self.lift, friction)
        best = None if owned else self.tables.choose_pump(flow, head, count_given)
        row = owned or self.tables.pump_at(best)
        gives = eq.pipes.pump_at_head(row.shutoff_head, row.free_flow, head)
        count = eq.pipes.pumps_needed(flow, gives) if count_given is None else count_given
        return PumpChoice(best, row, gives, count, friction)

    def meets(self, flow, inside, chosen):
        """The flow where pumps and pipes meet; the flow required where no pump of the trade gives it."""
        row, together = chosen.row, eq.pipes.total_pump_flow(chosen.row.free_flow, chosen.count)
        first = pumps.quadratic_operating_point(
            row.shutoff_head, together, self.lift, pumps.system_coefficient(flow, chosen.friction)
        )
        found = meeting.meeting_flow(
            first, row.shutoff_head, together, self.lift, self.lines(inside), *self.pipe(inside)
        )
        return found if chosen.best is None else where(chosen.gives > 0.0, found, flow)

    def size(self, flow, speed):
        """The size of the trade that keeps to a speed; the widest where none does."""
        wanted = pipes.diameter_for_velocity(flow, speed)
        return next_size(least(wanted, self.tables.widest_pipe), self.tables.pipe_sizes)

    def slow_enough(self, flow, inside):
        """The pipe, or the next size that keeps a flow below the highest speed."""
        each = eq.pipes.flow_of_one(flow, self.lines(inside))
        return most(inside, self.size(each, FASTEST * (1.0 + 1e-9)))

    def too_fast(self, flow, inside):
        """Whether a flow is too fast for the pipe, and a wider one is sold."""
        each = eq.pipes.flow_of_one(flow, self.lines(inside))
        fast = pipes.velocity.__wrapped__(each, inside) > FASTEST * (1.0 + 1e-9)
        return fast & (inside < self.tables.widest_pipe * (1.0 - 1e-9))

    def only(self, chosen):
        """The same for some of many designs."""
        return PressureLine(
            *(
                value[chosen] if np.ndim(value) else value
                for value in (getattr(self, f.name) for f in fields(self))
            )
        )


@dataclass(frozen=True, slots=True, eq=False)
class PumpChoice:
    """A pump and how many of it: its place in the table, what one gives, and the friction then."""

    best: object
    row: object
    gives: kinds.Flow
    count: kinds.Count
    friction: kinds.Head


def moving(design: Design, tank: Tank, planned, temperature, tables: Catalogue) -> Moving:
    """Pipe, pump and flow for a flow that is needed [m³/s]."""
    choice = design.pump
    line = PressureLine(
        planned, choice.lift, choice.length, choice.roughness, fittings(choice, tables),
        temperature, tables,
    )  # fmt: skip
    given = given_flow(choice)
    if choice.kind == "airlift":
        return _airlifts(design, tank, given, line)
    owned = None if choice.model is None else tables.pump(choice.model)
    chosen, flow = None, given
    if choice.pipe is not None:
        inside = tables.pipe(choice.pipe).inside_diameter
    else:
        inside, chosen, flow = _taken_pipe(choice, given, owned, line)
    if chosen is None:
        chosen = line.pumps(planned if given is None else given, inside, owned, choice.count)
        flow = line.meets(planned, inside, chosen) if given is None else given
    ordered = False if owned else chosen.gives <= 0.0
    name = chosen.row.name
    if np.any(ordered):
        name = ORDERED if np.ndim(ordered) == 0 else np.where(ordered, ORDERED, name)
    return Moving(
        pipes=line.lines(inside),
        pipe=inside,
        losses=line.losses,
        head=eq.pipes.total_head(line.lift, line.friction(flow, inside)),
        model=name,
        count=chosen.count,
        flow=flow,
        watts_each=chosen.row.plate_watts,
        ordered=ordered,
    )


def given_flow(choice):
    """The flow that was measured, by the bucket or else; None where none was."""
    if choice.flow is not None:
        return choice.flow
    if choice.bucket_time is not None:
        return eq.pumps.bucket_flow(choice.bucket, choice.bucket_time)
    return None


def fittings(choice, tables: Catalogue):
    """Loss coefficients of the pressure line."""
    names = ("elbow", "ball valve", "check valve", "exit")
    return eq.pipes.fitting_losses(choice.elbows, *(tables.loss(name) for name in names))


def _taken_pipe(choice, given, owned, line: PressureLine):
    """The pipe for the flow needed at the chosen speed, wide enough for the flow that comes of it.

    First for the pump that the trade has for the flow needed, then for what is given, so that
    giving the pump or the flow that was chosen leaves the pipe as it was.
    """
    inside, chosen, flow = _widened(line, line.size(line.planned, choice.velocity), None, None)
    if given is not None:
        return line.slow_enough(given, inside), None, given
    if owned is None and choice.count is None:
        return inside, chosen, flow
    return _widened(line, inside, owned, choice.count)


def _widened(line: PressureLine, inside, owned, count_given, left: int = WIDENINGS):
    """The pipe, widened size by size until the flow that comes of it is slow enough.

    With it the pumps and the flow, or None where some of many designs were widened.
    """
    chosen = line.pumps(line.planned, inside, owned, count_given)
    flow = line.meets(line.planned, inside, chosen)
    fast = line.too_fast(flow, inside)
    if left == 0 or not np.any(fast):
        return inside, chosen, flow
    if np.ndim(fast) == 0:
        wider = next_size(inside * 1.001, line.tables.pipe_sizes)
        return _widened(line, wider, owned, count_given, left - 1)
    inside = np.array(np.broadcast_to(inside, fast.shape))
    wider = next_size(inside[fast] * 1.001, line.tables.pipe_sizes)
    inside[fast], *_ = _widened(line.only(fast), wider, owned, count_given, left - 1)
    return inside, None, None


def _airlifts(design: Design, tank: Tank, given, line: PressureLine) -> Moving:
    """Airlifts that move the flow, each with its air."""
    choice = design.pump
    losses = airlift.airlift_losses(choice.airlift_pipe, tank.depth)
    each = airlift.airlift_flow(
        choice.airlift_air, choice.airlift_pipe, tank.depth, choice.lift, losses
    )
    wanted = line.planned if given is None else given
    # Less than a drop a minute is none: no number of them moves the water, so one stands there and is short.
    lifts = where(each > meeting.TRICKLE, each, 0.0)
    count = eq.pipes.pumps_needed(wanted, lifts) if choice.count is None else choice.count
    flow = given
    if given is None:
        flow = meeting.nonzero_flow(eq.pipes.total_pump_flow(lifts, count))
    if choice.pipe is not None:
        inside = line.tables.pipe(choice.pipe).inside_diameter
    else:
        inside = line.slow_enough(flow, line.size(line.planned, choice.velocity))
    return Moving(
        pipes=line.lines(inside),
        pipe=inside,
        losses=line.losses,
        head=eq.pipes.total_head(line.lift, line.friction(flow, inside)),
        model="airlifts",
        count=count,
        flow=flow,
        watts_each=0.0,
        ordered=False,
    )
