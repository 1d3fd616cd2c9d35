"""Small sums of tanks, pipes and pumps."""

from math import pi

import numpy as np

from ...core.arrays import ceil, most, ratio, sqrt
from ...core.equation import equation
from ...core.kinds import (
    Area,
    Count,
    Flow,
    Fraction,
    Head,
    Length,
    PipeDiameter,
    Ratio,
    Velocity,
    Volume,
)


@equation(
    latex=r"K = @elbows \cdot @elbow + @valve + @check_valve + @exit_loss",
    source="definition",
    valid="any",
    basis="derived",
)
def fitting_losses(
    elbows: Count, elbow: Ratio, valve: Ratio, check_valve: Ratio, exit_loss: Ratio
) -> Ratio:
    """Loss coefficients of a pressure line: elbows, a valve, a check valve, the exit.

    Floats or arrays that broadcast.

    >>> fitting_losses(2.0, 0.5, 1.0, 2.0, 1.0)
    5.0
    """
    return elbows * elbow + valve + check_valve + exit_loss


@equation(
    latex=r"h = @lift + @friction",
    source="definition",
    valid="any",
    basis="derived",
)
def total_head(lift: Head, friction: Head) -> Head:
    """Lift and friction together.

    Floats or arrays that broadcast.

    >>> total_head(1.0, 0.5)
    1.5
    """
    return lift + friction


@equation(
    latex=r"x = \frac{@lift}{@head}",
    source="definition",
    valid="any",
    basis="derived",
)
def lift_share(lift: Head, head: Head) -> Fraction:
    """Lift over total head.

    Floats or arrays that broadcast.

    >>> lift_share(1.0, 2.0)
    0.5
    """
    return ratio(lift, head)


@equation(
    latex=r"Q = @each \cdot @count",
    source="definition",
    valid="any",
    basis="derived",
)
def all_pumps(each: Flow, count: Count) -> Flow:
    """Flow of all pumps.

    Floats or arrays that broadcast.

    >>> all_pumps(2.0, 3.0)
    6.0
    """
    return each * count


@equation(
    latex=r"A = \frac{@volume}{@depth}",
    source="definition",
    valid="any",
    basis="derived",
)
def floor_for(volume: Volume, depth: Length) -> Area:
    """Floor of a tank of a depth.

    Floats or arrays that broadcast.

    >>> floor_for(9.0, 0.9)
    10.0
    """
    return volume / depth


@equation(
    latex=r"A = @share \cdot @width^{2}",
    source="geometry",
    valid="any",
    basis="derived",
)
def floor_area(width: Length, share: Fraction) -> Area:
    """Floor of a tank from its distance across and the share of the square that it fills.

    Floats or arrays that broadcast.

    >>> floor_area(2.0, 0.5)
    2.0
    """
    return share * width * width


@equation(
    latex=r"w = \sqrt{\frac{@floor}{@share}}",
    source="geometry",
    valid="any",
    basis="derived",
)
def width_for(floor: Area, share: Fraction) -> Length:
    """Distance across for a floor.

    Floats or arrays that broadcast.

    >>> width_for(2.0, 0.5)
    2.0
    """
    return sqrt(floor / share)


@equation(
    latex=r"A = @length \cdot @width",
    source="geometry",
    valid="any",
    basis="derived",
)
def rectangular_floor(length: Length, width: Length) -> Area:
    """Floor of a box.

    Floats or arrays that broadcast.

    >>> rectangular_floor(6.0, 2.0)
    12.0
    """
    return length * width


@equation(
    latex=r"V = @floor \cdot @depth",
    source="geometry",
    valid="any",
    basis="derived",
)
def tank_volume(floor: Area, depth: Length) -> Volume:
    """Water on a floor.

    Floats or arrays that broadcast.

    >>> tank_volume(10.0, 0.9)
    9.0
    """
    return floor * depth


@equation(
    latex=r"L = @width \cdot @sides",
    source="common practice",
    valid="any",
    basis="common practice",
)
def long_side(width: Length, sides: Ratio = 3.0) -> Length:
    """Long side of a box three times as long as wide.

    Floats or arrays that broadcast.

    >>> long_side(2.0)
    6.0
    """
    return width * sides


@equation(
    latex=r"Q = @free_flow \cdot \sqrt{\max\left(0, 1 - \frac{@head}{@shutoff_head}\right)}",
    source="centrifugal pumps between their end points",
    valid="any",
    basis="common practice",
)
def pump_at_head(shutoff_head: Head, free_flow: Flow, head: Head) -> Flow:
    """Flow of a pump at a head, its head falling with the square of the flow.

    Floats or arrays that broadcast.

    >>> pump_at_head(4.0, 2.0, 3.0)
    1.0
    """
    return free_flow * sqrt(most(0.0, 1.0 - head / shutoff_head))


@equation(
    latex=r"n = \max\left(1, \lceil \frac{4 \cdot @flow}{\pi \cdot @diameter^{2} \cdot @velocity}"
    r" - 10^{-9} \rceil\right)",
    source="definition",
    valid="equal pipes side by side",
    basis="derived",
)
def lines_needed(flow: Flow, diameter: PipeDiameter, velocity: Velocity) -> Count:
    """Pipes side by side for a flow, none wider than a diameter, none faster than a speed.

    Floats or arrays that broadcast.

    >>> lines_needed(0.5, 0.3, 1.5)
    5.0
    """
    return most(1.0, ceil(4.0 * flow / (pi * diameter * diameter * velocity) - 1e-9))


@equation(
    latex=r"n = \max\left(1, \lceil \frac{@flow}{@each} - 10^{-9} \rceil\right)",
    source="definition",
    valid="equal pumps; one where they give nothing",
    basis="derived",
)
def pumps_needed(flow: Flow, each: Flow) -> Count:
    """Pumps of one size for a flow when one gives so much; one where it gives none.

    Floats or arrays that broadcast.

    >>> pumps_needed(5.0, 2.0), pumps_needed(5.0, 0.0)
    (3.0, 1.0)
    """
    return most(1.0, ceil(ratio(flow, each) - 1e-9))


@equation(latex=r"Q_1 = \frac{@flow}{@count}", source="definition", valid="any", basis="derived")
def flow_of_one(flow: Flow, count: Count) -> Flow:
    """Flow of one of so many equal pipes.

    Floats or arrays that broadcast.

    >>> flow_of_one(3.0, 2.0)
    1.5
    """
    return flow / count


@equation(latex=r"z = @lift - @fall", source="definition", valid="over the sump", basis="derived")
def level(lift: Head, fall: Head) -> Head:
    """Water level over the sump, a fall below the tank.

    Floats or arrays that broadcast.

    >>> level(1.0, 0.25)
    0.75
    """
    return lift - fall


@equation(
    latex=r"w = \min\{s : s \ge w_{req}\}",
    source="sizes of the trade; wider tanks are built to order",
    valid="any",
    basis="common practice",
)
def tank_width(required: Length, sizes: Length) -> Length:
    """The next distance across that is sold; beyond the widest, the width that is needed.

    ``required``: a float or an array; ``sizes``: a row of sizes, rising.

    >>> tank_width(3.5, np.array([3.0, 4.0])), tank_width(9.0, np.array([3.0, 4.0]))
    (4.0, 9.0)
    """
    found = np.append(sizes, np.inf)[np.searchsorted(sizes, np.multiply(required, 1.0 - 1e-9))]
    found = np.where(np.isfinite(found), found, required)
    return float(found) if np.ndim(found) == 0 else found
