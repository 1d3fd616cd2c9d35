"""Pumps: power, head, and where pump and pipe meet."""

import numpy as np

from ...core import kinds
from ...core.arrays import bisect, most, ratio, sqrt
from ...core.arrays import power as raised
from ...core.equation import definition, equation

GRAVITY = 9.80665


def operating_point(pump_curve, system_curve):
    """Flow [m³/s] and head [m] where a pump's curve meets a pipe's.

    Each curve is a function of the flow that gives the head, or a pair of rows (flows, heads),
    flows rising.  One point at a time.

    >>> flow, head = operating_point(lambda q: 10.0 - q, lambda q: 2.0 + q)
    >>> round(flow, 6), round(head, 6)
    (4.0, 6.0)
    """
    pump, pump_end = _curve(pump_curve)
    system, system_end = _curve(system_curve)
    end = min(pump_end, system_end)
    if not np.isfinite(end):
        end = 1e-3
        while pump(end) > system(end) and end < 1e9:
            end *= 2.0
    flow = float(bisect(lambda q: pump(q) - system(q), 0.0, float(end), 100))
    return flow, float(pump(flow))


def _curve(curve):
    """A curve as a function of the flow, and the last flow it knows."""
    if callable(curve):
        return curve, np.inf
    flows, heads = (np.asarray(row, float) for row in curve)
    return (lambda q: np.interp(q, flows, heads)), float(flows[-1])


@definition(
    "P", "definition of hydraulic power", example="round(power(0.002, 1.5, 1.0), 1) == 29.4"
)
def power(
    flow: kinds.Flow, head: kinds.Head, efficiency: kinds.Fraction, density: kinds.Density = 998.0
) -> kinds.Power:
    """Power that lifting water takes."""
    return density * GRAVITY * flow * head / efficiency


@definition("P_w", example="wire_power(70.0, 0.35) == 200.0")
def wire_power(power: kinds.Power, efficiency: kinds.Fraction) -> kinds.Power:
    """Power at the wall for a power in the water."""
    return power / efficiency


@definition(
    "k",
    "friction taken in proportion to the square of the flow",
    valid="turbulent flow",
    example="system_coefficient(2.0, 1.0) == 0.25",
)
def system_coefficient(flow: kinds.Flow, friction: kinds.Head) -> kinds.SystemCoefficient:
    """Head lost over the square of the flow."""
    return ratio(friction, flow * flow)


@definition(
    "Q",
    "both curves quadratic in the flow",
    valid="centrifugal pumps with end points known",
    example="round(quadratic_operating_point(4.0, 2.0, 1.0, 2.0), 6) == 1.0",
)
def quadratic_operating_point(
    shutoff_head: kinds.Head,
    free_flow: kinds.Flow,
    static_head: kinds.Head,
    coefficient: kinds.SystemCoefficient,
) -> kinds.Flow:
    """Flow where a pump whose head falls with the square of the flow meets a pipe."""
    return sqrt(
        most(0.0, shutoff_head - static_head)
        / (coefficient + ratio(shutoff_head, free_flow * free_flow, float("inf")))
    )


@definition(
    "h",
    "energy equation",
    valid="flooded or lifting suction",
    example="round(npsh_available(95950.0, 3780.0, 0.5, 0.1), 2) == 9.82",
)
def npsh_available(
    surface_pressure: kinds.Pressure,
    vapour_pressure: kinds.Pressure,
    height: kinds.Length,
    loss: kinds.Head,
    density: kinds.Density = 998.0,
) -> kinds.Head:
    """Suction head over vapour pressure; height is water above the pump."""
    return (surface_pressure - vapour_pressure) / (density * GRAVITY) + height - loss


@equation(
    latex=r"y' = @value \cdot @speed_ratio^{@exponent}",
    source="affinity laws, pump textbooks",
    valid="the pump's own curve, not its duty point",
    basis="derived",
)
def speed_changed(
    value: kinds.Ratio, speed_ratio: kinds.Ratio, exponent: kinds.Ratio
) -> kinds.Ratio:
    """A pump's flow, head or power at another speed: exponent 1, 2 or 3.

    >>> speed_changed(2.0, 0.5, 2.0)
    0.5
    """
    return value * raised(speed_ratio, exponent)
