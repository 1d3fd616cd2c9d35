"""Where a pump and its pipe meet: the flow at which the pump gives just the head that is asked."""

import numpy as np

from ...core.arrays import most, ratio, root, where
from ...core.equation import definition, equation
from ...core.kinds import Count, Flow, Head, Length, PipeDiameter, Ratio, Roughness, Temperature
from ..pipes.pipes import head_of
from ..water import properties

ROUNDS = 10
"""Most steps of the search; five or six are enough for turbulent flow."""

SEARCHES = 50
"""Most steps of the search between the ends, where the secant does not settle."""

CLOSE = 1e-14
"""Relative step at which the flow has settled."""


def _settled(step, flow):
    return abs(step) <= CLOSE * abs(flow)


def _meeting(first, shutoff_head, free_flow, lift, count, *pipe):
    """A secant on the head left over, which falls ever faster with the flow.

    Where it does not settle, as where the flow turns turbulent, a search between no flow and the
    flow without any head does.
    """

    def spare(flow):
        return _spare(flow, shutoff_head, free_flow, lift, count, *pipe)

    flow, other = first, 0.98 * first
    value, other_value = spare(flow), spare(other)
    for _ in range(ROUNDS):
        step = ratio(value * (flow - other), value - other_value, 0.0)
        settled = _settled(step, flow)
        if np.all(settled):
            break
        other, other_value = flow, value
        flow = most(flow - step, 0.05 * flow)
        value = spare(flow)
    if np.all(settled):
        return flow
    if np.ndim(settled) == 0:
        return _searched(shutoff_head, free_flow, lift, count, *pipe)
    left = ~settled
    given = (shutoff_head, free_flow, lift, count, *pipe)
    flow[left] = _searched(*(x[left] if np.ndim(x) else x for x in given))
    return flow


def _spare(flow, shutoff_head, free_flow, lift, count, *pipe):
    """Head that the pump gives over what the pipe asks."""
    share = flow / free_flow
    return shutoff_head * (1.0 - share * share) - lift - head_of(flow / count, *pipe)


def _searched(shutoff_head, free_flow, lift, count, *pipe):
    def spare(flow):
        return _spare(flow, shutoff_head, free_flow, lift, count, *pipe)

    return root(spare, 0.0 * free_flow, free_flow, SEARCHES)


TRICKLE = 1e-9
"""m³/s, a drop a minute: stands for no flow at all, so that levels stay finite and are flagged."""


@definition("Q'", example="nonzero_flow(0.0) == 1e-09")
def nonzero_flow(flow: Flow) -> Flow:
    """The flow, or a drop a minute where there is none."""
    return most(flow, TRICKLE)


@equation(
    latex=r"@shutoff_head \left(1 - \frac{Q^2}{@free_flow^2}\right) = @lift + h\left(\frac{Q}{n}\right)",
    source="the pump's curve, quadratic in the flow, and the pipe's with Colebrook's friction factor",
    valid="centrifugal pumps with end points known; equal pipes side by side",
    basis="derived",
)
def meeting_flow(
    first: Flow,
    shutoff_head: Head,
    free_flow: Flow,
    lift: Head,
    count: Count,
    diameter: PipeDiameter,
    length: Length,
    roughness: Roughness,
    minor_losses: Ratio,
    temperature: Temperature,
) -> Flow:
    """Flow where pump and pipe meet, nothing throttled; a drop a minute where the lift is too high.

    ``first``: a first guess, above zero.

    >>> round(meeting_flow(0.001, 4.0, 0.0025, 0.9, 1.0, 0.0525, 9.0, 1e-4, 7.0, 28.0) * 60000, 1)
    120.8
    """
    viscosity = properties.kinematic_viscosity(temperature)
    found = _meeting(
        most(first, TRICKLE), shutoff_head, free_flow, lift, count, diameter, length, roughness,
        minor_losses, viscosity,
    )  # fmt: skip
    return where(shutoff_head > lift, most(found, TRICKLE), TRICKLE)
