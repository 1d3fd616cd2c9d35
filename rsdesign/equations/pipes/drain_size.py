"""The gravity line from tank to settler: the size of the trade that suits both fall and speed.

A drain must be small enough for its water to keep waste moving, and wide enough for its fall to
push the water through.  Of the sizes that are fast enough the widest loses least fall, so it alone
has to be tried; where no one pipe will do, two to four side by side are, and where these will not
either, the least pipe that carries the flow is taken and the speed says what is wrong.
"""

from math import inf, pi

import numpy as np

from ...core import kinds
from ...core.arrays import ceil, least, most, sqrt, where
from ...core.equation import equation
from ..water import properties
from .pipes import GRAVITY, gravity_flow_of, head_of, velocity

LEAST_SPEED = 0.6
"""m/s; slower, and waste settles in the drain: Ten States Standards."""

MOST_SPEED = 1.5
"""m/s; faster, and a drain breaks up waste: common practice."""

MOST_DRAINS = 4
"""Pipes side by side that are tried before a slow drain is taken (common practice)."""

ANY_FALL = inf
"""The fall of a drain whose fall is built as it needs."""

NEAR = 1e-9
"""A size within this of its limit will do, so that inches and millimetres choose alike."""


def _fits(flow, diameter, fall, fastest, line):
    """Whether the flow of one pipe is fast enough, slow enough, and carried by the fall."""
    fast = velocity.__wrapped__(flow, diameter) >= LEAST_SPEED * (1.0 - NEAR)
    return fast & _carries(flow, diameter, fall, fastest, line)


def _carries(flow, diameter, fall, fastest, line):
    """Whether the flow of one pipe is slow enough, and carried by the fall."""
    speed = velocity.__wrapped__(flow, diameter)
    slow = speed <= fastest * (1.0 + NEAR)
    if fall is ANY_FALL:
        return slow
    asked = head_of(flow, diameter, *line) + speed * speed / (2.0 * GRAVITY)
    return slow & (asked <= fall * (1.0 + NEAR))


def _widest_at(flow, sizes):
    """The widest size in which a flow keeps waste moving; the smallest where none does."""
    widest = sqrt(4.0 * flow / (pi * LEAST_SPEED)) * (1.0 + NEAR)
    place = np.searchsorted(sizes, widest, side="right") - 1
    found = sizes[np.maximum(place, 0)]
    return float(found) if np.ndim(found) == 0 else found


def _all(found) -> bool:
    return found if type(found) is bool else bool(np.all(found))


def _by_fall_and_speed(flow, diameter_of, fall, fastest, line):
    """The fewest pipes that fit, their size, and whether any do; ``diameter_of`` one pipe's flow."""
    count, diameter, found = 1.0, 0.0 * flow, False
    for pipes in range(1, MOST_DRAINS + 1):
        size = diameter_of(flow / pipes)
        fits = _fits(flow / pipes, size, fall, fastest, line)
        new = np.logical_and(fits, np.logical_not(found))
        count, diameter = where(new, float(pipes), count), where(new, size, diameter)
        found = np.logical_or(found, fits)
        if _all(found):
            break
    return count, diameter, found


def _carrying(flow, sizes, fall, fastest, line):
    """The smallest single pipe that carries a flow, the widest where none does; rising, all at once."""
    diameter, found = 0.0 * flow + sizes[-1], False
    for size in sizes.tolist():
        carries = _carries(flow, size, fall, fastest, line)
        diameter = where(np.logical_and(carries, np.logical_not(found)), size, diameter)
        found = np.logical_or(found, carries)
        if _all(found):
            break
    return diameter


def _only(chosen, *values):
    """The values of the designs chosen; what is the same for all stays one number."""
    return [value[chosen] if np.ndim(value) else value for value in values]


@equation(
    latex=r"D = \max\{s : \frac{4 Q}{\pi s^2} \ge 0.6, h\left(s\right) \le @fall\}",
    source="0.6 m/s keeps waste moving, Ten States Standards; energy equation for the fall",
    valid="full pipes, up to four side by side",
    basis="common practice",
)
def drain_diameter(
    flow: kinds.Flow,
    sizes: kinds.PipeDiameter,
    fall: kinds.Head,
    fastest: kinds.Velocity,
    length: kinds.Length,
    roughness: kinds.Roughness,
    minor_losses: kinds.Ratio,
    temperature: kinds.Temperature,
) -> kinds.PipeDiameter:
    """Size of the trade for a drain, by fall and speed together.

    ``sizes``: a row of sizes, rising; ``fastest`` is held to 1.5 m/s.  Where no size keeps waste
    moving with so little fall, the smallest that carries the flow.

    >>> sizes = np.array([0.0525, 0.0621, 0.0773])
    >>> drain_diameter(0.002, sizes, 0.15, 1.0, 6.0, 1e-4, 2.3, 28.0)
    0.0621
    """
    line = (length, roughness, minor_losses, properties.kinematic_viscosity(temperature))
    fastest = least(fastest, MOST_SPEED)

    def widest(each):
        return _widest_at(each, sizes)

    _, diameter, found = _by_fall_and_speed(flow, widest, fall, fastest, line)
    if _all(found):
        return diameter
    if np.ndim(found) == 0:
        return _carrying(flow, sizes, fall, fastest, line)
    slow = ~found
    some_flow, some_fall, some_fastest, *some_line = _only(slow, flow, fall, fastest, *line)
    diameter[slow] = _carrying(some_flow, sizes, some_fall, some_fastest, some_line)
    return diameter


@equation(
    latex=r"n = \min\{n : \frac{4 Q}{n \pi @diameter^2} \ge 0.6, h\left(n\right) \le @fall\}",
    source="0.6 m/s keeps waste moving, Ten States Standards; energy equation for the fall",
    valid="full pipes, up to four side by side",
    basis="common practice",
)
def drains_needed(
    flow: kinds.Flow,
    diameter: kinds.PipeDiameter,
    fall: kinds.Head,
    fastest: kinds.Velocity,
    length: kinds.Length,
    roughness: kinds.Roughness,
    minor_losses: kinds.Ratio,
    temperature: kinds.Temperature,
) -> kinds.Count:
    """Drain pipes of one size side by side, by fall and speed together.

    Where no number of them keeps waste moving, as many as carry the flow.

    >>> drains_needed(0.004, 0.0621, 0.15, 1.0, 6.0, 1e-4, 2.3, 28.0)
    2.0
    """
    line = (length, roughness, minor_losses, properties.kinematic_viscosity(temperature))
    fastest = least(fastest, MOST_SPEED)
    count, _, found = _by_fall_and_speed(flow, lambda _: diameter, fall, fastest, line)
    if _all(found):
        return count + 0.0 * flow
    if np.ndim(found) == 0:
        return _least_count(flow, diameter, fall, fastest, line)
    slow = ~found
    count = np.array(np.broadcast_to(count, found.shape))
    some_flow, inside, some_fall, some_fastest, *some_line = _only(
        slow, flow, diameter, fall, fastest, *line
    )
    count[slow] = _least_count(some_flow, inside, some_fall, some_fastest, some_line)
    return count


def _least_count(flow, diameter, fall, fastest, line):
    """As many pipes as carry a flow, by speed and by fall."""
    each = fastest * pi / 4.0 * diameter * diameter
    if fall is not ANY_FALL:
        each = least(each, gravity_flow_of(fall, diameter, *line))
    return most(1.0, ceil(flow / each - NEAR))
