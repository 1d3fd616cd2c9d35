"""Definitions for tanks, pipes and pumps."""

from math import pi

import numpy as np

from ...core import kinds
from ...core.arrays import ceil, most, ratio, sqrt
from ...core.equation import definition, equation


@definition("K", example="fitting_losses(2.0, 0.5, 1.0, 2.0, 1.0) == 5.0")
def fitting_losses(
    elbows: kinds.Count,
    elbow: kinds.Ratio,
    valve: kinds.Ratio,
    check_valve: kinds.Ratio,
    exit_loss: kinds.Ratio,
) -> kinds.Ratio:
    """Loss coefficients of a pressure line: elbows, a valve, a check valve, the exit."""
    return elbows * elbow + valve + check_valve + exit_loss


@definition("h", example="total_head(1.0, 0.5) == 1.5")
def total_head(lift: kinds.Head, friction: kinds.Head) -> kinds.Head:
    """Static lift plus friction loss."""
    return lift + friction


@definition("x", example="lift_share(1.0, 2.0) == 0.5")
def lift_share(lift: kinds.Head, head: kinds.Head) -> kinds.Fraction:
    """Static lift over total head."""
    return ratio(lift, head)


@definition("Q", example="total_pump_flow(2.0, 3.0) == 6.0")
def total_pump_flow(each: kinds.Flow, count: kinds.Count) -> kinds.Flow:
    """Flow of all pumps."""
    return each * count


@definition("A", example="floor_for(9.0, 0.9) == 10.0")
def floor_for(volume: kinds.Volume, depth: kinds.Length) -> kinds.Area:
    """Floor of a tank of a depth."""
    return volume / depth


@definition("A", "geometry", example="floor_area(2.0, 0.5) == 2.0")
def floor_area(width: kinds.Length, share: kinds.Fraction) -> kinds.Area:
    """Floor of a tank from its distance across and the share of the square that it fills."""
    return share * width * width


@definition("w", "geometry", example="width_for(2.0, 0.5) == 2.0")
def width_for(floor: kinds.Area, share: kinds.Fraction) -> kinds.Length:
    """Distance across for a floor."""
    return sqrt(floor / share)


@definition("A", "geometry", example="rectangular_floor(6.0, 2.0) == 12.0")
def rectangular_floor(length: kinds.Length, width: kinds.Length) -> kinds.Area:
    """Floor of a box."""
    return length * width


@definition("V", "geometry", example="tank_volume(10.0, 0.9) == 9.0")
def tank_volume(floor: kinds.Area, depth: kinds.Length) -> kinds.Volume:
    """Water on a floor."""
    return floor * depth


@definition("L", "common practice", basis="common practice", example="long_side(2.0) == 6.0")
def long_side(width: kinds.Length, sides: kinds.Ratio = 3.0) -> kinds.Length:
    """Long side of a box three times as long as wide."""
    return width * sides


@definition(
    "Q",
    "centrifugal pumps between their end points",
    basis="common practice",
    example="pump_at_head(4.0, 2.0, 3.0) == 1.0",
)
def pump_at_head(shutoff_head: kinds.Head, free_flow: kinds.Flow, head: kinds.Head) -> kinds.Flow:
    """Flow of a pump at a head, its head falling with the square of the flow."""
    return free_flow * sqrt(most(0.0, 1.0 - head / shutoff_head))


@definition("n", valid="equal pipes side by side", example="lines_needed(0.5, 0.3, 1.5) == 5.0")
def lines_needed(
    flow: kinds.Flow, diameter: kinds.PipeDiameter, velocity: kinds.Velocity
) -> kinds.Count:
    """Pipes side by side for a flow, none wider than a diameter, none faster than a speed."""
    return most(1.0, ceil(4.0 * flow / (pi * diameter * diameter * velocity) - 1e-9))


@definition(
    "n",
    valid="equal pumps; one where they give nothing",
    example="pumps_needed(5.0, 2.0) == 3.0; pumps_needed(5.0, 0.0) == 1.0",
)
def pumps_needed(flow: kinds.Flow, each: kinds.Flow) -> kinds.Count:
    """Pumps of one size for a flow when one gives so much; one where it gives none."""
    return most(1.0, ceil(ratio(flow, each) - 1e-9))


@definition("Q_1", example="flow_of_one(3.0, 2.0) == 1.5")
def flow_of_one(flow: kinds.Flow, count: kinds.Count) -> kinds.Flow:
    """Flow of one of so many equal pipes."""
    return flow / count


@definition("z", valid="over the sump", example="level(1.0, 0.25) == 0.75")
def level(lift: kinds.Head, fall: kinds.Head) -> kinds.Head:
    """Water level over the sump, a fall below the tank."""
    return lift - fall


@equation(
    latex=r"w = \min\{s : s \ge w_{req}\}",
    source="sizes of the trade; wider tanks are built to order",
    basis="common practice",
)
def tank_width(required: kinds.Length, sizes: kinds.Length) -> kinds.Length:
    """The next distance across that is sold; beyond the widest, the width that is needed.

    ``required``: a float or an array; ``sizes``: a row of sizes, rising.

    >>> tank_width(3.5, np.array([3.0, 4.0])), tank_width(9.0, np.array([3.0, 4.0]))
    (4.0, 9.0)
    """
    found = np.append(sizes, np.inf)[np.searchsorted(sizes, np.multiply(required, 1.0 - 1e-9))]
    found = np.where(np.isfinite(found), found, required)
    return float(found) if np.ndim(found) == 0 else found
