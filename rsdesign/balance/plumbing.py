"""Small sums of tanks, pipes and pumps."""

from math import pi

import numpy as np

from ..arrays import ceil, most, power, ratio, sqrt
from ..equation import equation
from ..kinds import (
    Area,
    Count,
    Flow,
    Fraction,
    Head,
    Length,
    PipeDiameter,
    Ratio,
    SmallVolume,
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
    latex=r"K = @entrance + @elbows \cdot @elbow",
    source="definition",
    valid="any",
    basis="derived",
)
def drain_losses(entrance: Ratio, elbow: Ratio, elbows: Count = 2.0) -> Ratio:
    """Loss coefficients of a drain: the entrance and two elbows.

    Floats or arrays that broadcast.

    >>> drain_losses(0.5, 0.75)
    2.0
    """
    return entrance + elbows * elbow


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
    latex=r"h = @friction + \frac{@velocity^{2}}{2 \cdot 9.80665}",
    source="energy equation; standard gravity, CGPM 1901",
    valid="any",
    basis="derived",
)
def drain_head(friction: Head, velocity: Velocity) -> Head:
    """Fall that a drain uses: friction, and the speed at its end.

    Floats or arrays that broadcast.

    >>> round(drain_head(0.1, 1.0), 4)
    0.151
    """
    return friction + velocity * velocity / (2.0 * 9.80665)


@equation(
    latex=r"h_f = \max\left(0.1524, 0.0254 \cdot \lceil \frac{@head}{0.0254} - 10^{-9} \rceil\right)",
    source="whole inches, at least six",
    valid="any",
    basis="common practice",
)
def fall_to_build(head: Head) -> Head:
    """Fall to build from tank to settler for a head that the drain uses.

    Floats or arrays that broadcast.

    >>> round(fall_to_build(0.21), 4), fall_to_build(0.05)
    (0.2286, 0.1524)
    """
    return most(0.1524, 0.0254 * ceil(head / 0.0254 - 1e-9))


@equation(
    latex=r"D = \max\left(\frac{@flow}{@open_share \cdot @weir_coefficient \cdot \pi \cdot "
    r"@head^{1.5}}, \sqrt{\frac{4 \cdot @flow}{@open_share \cdot @orifice_coefficient "
    r"\cdot \pi \cdot \sqrt{2 \cdot 9.80665 \cdot @head}}}\right)",
    source="weir coefficient from memory, opening coefficient 0.6 as in hydraulics textbooks",
    valid="low heads",
    basis="from memory",
)
def standpipe_needed(
    flow: Flow,
    head: Head,
    open_share: Fraction = 0.5,
    weir_coefficient: Ratio = 1.84,
    orifice_coefficient: Ratio = 0.6,
) -> PipeDiameter:
    """Standpipe that takes the flow with its screen partly blocked, as a weir and as an opening.

    Floats or arrays that broadcast.

    >>> round(standpipe_needed(0.002, 0.05), 3)
    0.093
    """
    return most(
        flow / (open_share * weir_coefficient * pi * power(head, 1.5)),
        sqrt(4.0 * flow / (open_share * orifice_coefficient * pi * sqrt(2.0 * 9.80665 * head))),
    )


@equation(
    latex=r"V = @pipe_volume + @floor \cdot @head \cdot @tanks",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def drain_down(pipe_volume: SmallVolume, floor: Area, head: Head, tanks: Count) -> SmallVolume:
    """Water that runs to the sump when the pump stops: from the pipe and above the overflow.

    Floats or arrays that broadcast.

    >>> drain_down(0.05, 10.0, 0.05, 2.0)
    1.05
    """
    return pipe_volume + floor * head * tanks


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
    valid="equal standpipes",
    basis="derived",
)
def standpipes_needed(flow: Flow, each: Flow) -> Count:
    """Standpipes for a flow when one takes so much.

    Floats or arrays that broadcast.

    >>> standpipes_needed(0.5, 0.2)
    3.0
    """
    return most(1.0, ceil(flow / each - 1e-9))


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


@equation(latex=r"Q = \frac{@flow}{@count}", source="definition", valid="any", basis="derived")
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
