"""What all runs share: head of a pipe by the sizing's own relations, and where the tanks stand."""

import math

from ..equations.pipes import drain_definitions, pipes
from ..sizing.system import Sizing
from .graph import Vessel
from .levels import warmest
from .rules import rule, stocked_sizes


def head(s: Sizing, flow: float, inside: float, length: float, losses: float) -> float:
    """Head lost in a pipe and its fittings [m]."""
    roughness = s.design.pump.roughness
    return float(pipes.head_loss(flow, inside, length, roughness, losses, warmest(s)))


def gravity_head(s: Sizing, flow: float, inside: float, length: float, losses: float) -> float:
    """Fall that a gravity pipe uses: friction, fittings and the speed at its end [m]."""
    lost = head(s, flow, inside, length, losses)
    return float(drain_definitions.drain_head(lost, pipes.velocity(flow, inside)))


def columns(tanks: int) -> int:
    """Tanks beside each other along the way between the rows.

    >>> columns(2), columns(6), columns(7)
    (2, 3, 4)
    """
    return tanks if tanks <= rule("one row") else math.ceil(tanks / 2)


def along(tank: Vessel) -> float:
    """From the first tank of a row to its last, middle to middle [m]."""
    return (columns(tank.count) - 1) * (tank.length + rule("walkway"))


def sizes_from(inside: float, most: float) -> list[float]:
    """The sizes that most shops have from one up to another, which stands last [m]."""
    return [*(d for d in stocked_sizes() if inside * (1.0 - 1e-6) <= d < most * (1.0 - 1e-9)), most]
