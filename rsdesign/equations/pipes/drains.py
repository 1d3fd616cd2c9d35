"""Overflows, pipes partly full, and water that runs down."""

from math import pi

from ...core.arrays import least, power, sqrt
from ...core.equation import equation
from ...core.kinds import (
    Area,
    Density,
    Flow,
    Fraction,
    Head,
    Length,
    Minutes,
    OpeningArea,
    PipeDiameter,
    Pressure,
    Ratio,
    SmallVolume,
    Velocity,
)


@equation(
    latex=r"Q = @open_share \cdot \min\left(@weir_coefficient \cdot \pi \cdot @diameter "
    r"\cdot @head^{1.5}, @orifice_coefficient \cdot \frac{\pi}{4} \cdot @diameter^{2} "
    r"\cdot \sqrt{2 \cdot 9.80665 \cdot @head}\right)",
    source="weir coefficient from memory, opening coefficient 0.6 as in hydraulics textbooks",
    valid="low heads; beyond a third of the diameter it gulps",
    basis="from memory",
)
def standpipe_capacity(
    diameter: PipeDiameter,
    head: Head,
    weir_coefficient: Ratio = 1.84,
    orifice_coefficient: Ratio = 0.6,
    open_share: Fraction = 1.0,
) -> Flow:
    """Flow that a standpipe takes: as a weir, or as an opening when it drowns.

    Floats or arrays that broadcast.

    >>> round(standpipe_capacity(0.1023, 0.05) * 60000)
    293
    """
    return open_share * least(
        weir_coefficient * pi * diameter * power(head, 1.5),
        orifice_coefficient * pi / 4.0 * diameter * diameter * sqrt(2.0 * 9.80665 * head),
    )


@equation(
    latex=r"V = \frac{\pi}{4} \cdot @diameter^{2} \cdot @length",
    source="geometry",
    valid="any",
    basis="derived",
)
def pipe_volume(diameter: PipeDiameter, length: Length) -> SmallVolume:
    """Water in a full pipe.

    Floats or arrays that broadcast.

    >>> round(pipe_volume(0.0525, 20.0), 4)
    0.0433
    """
    return pi / 4.0 * diameter * diameter * length


@equation(
    latex=r"v = \frac{@hydraulic_radius^{\frac{2}{3}} \cdot "
    r"\sqrt{@slope}}{@roughness_coefficient}",
    source="Manning's relation, SI form, hydraulics textbooks",
    valid="steady flow, rough turbulent",
    basis="derived",
)
def manning_velocity(
    hydraulic_radius: Length, slope: Ratio, roughness_coefficient: Ratio
) -> Velocity:
    """Speed in a channel or a pipe partly full.

    Floats or arrays that broadcast.

    >>> round(manning_velocity(0.025, 0.01, 0.010), 3)
    0.855
    """
    return power(hydraulic_radius, 2.0 / 3.0) * sqrt(slope) / roughness_coefficient


@equation(
    latex=r"t = \frac{2 \cdot @area}{@orifice_coefficient \cdot @opening} \cdot "
    r"\sqrt{\frac{@head}{2 \cdot 9.80665}}",
    source="energy equation, integrated over the falling level",
    valid="still tank",
    basis="derived",
)
def drain_time(
    area: Area, opening: OpeningArea, head: Head, orifice_coefficient: Ratio = 0.6
) -> Minutes:
    """Time in which a tank empties through an opening in its floor.

    Floats or arrays that broadcast.

    >>> round(drain_time(10.0, 0.00785, 0.8))
    858
    """
    return 2.0 * area / (orifice_coefficient * opening) * sqrt(head / (2.0 * 9.80665))


@equation(
    latex=r"p = @atmosphere - @density \cdot 9.80665 \cdot \left(@height + @loss\right) - "
    r"@density \cdot \frac{@velocity^{2}}{2}",
    source="energy equation",
    valid="steady flow",
    basis="derived",
)
def crest_pressure(
    atmosphere: Pressure, height: Length, loss: Head, velocity: Velocity, density: Density = 998.0
) -> Pressure:
    """Absolute pressure at the crest of a siphon.

    Floats or arrays that broadcast.

    >>> round(crest_pressure(101325.0, 2.0, 0.0, 0.0))
    81751
    """
    return atmosphere - density * 9.80665 * (height + loss) - density * velocity * velocity / 2.0
