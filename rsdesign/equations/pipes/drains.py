"""Overflows, pipes partly full, and water that runs down."""

from math import pi

from ...core import kinds
from ...core.arrays import least, power, sqrt
from ...core.equation import definition, equation


@equation(
    latex=r"Q = @open_share \cdot \min\left(@weir_coefficient \cdot \pi \cdot @diameter "
    r"\cdot @head^{1.5}, @orifice_coefficient \cdot \frac{\pi}{4} \cdot @diameter^{2} "
    r"\cdot \sqrt{2 \cdot 9.80665 \cdot @head}\right)",
    source="weir coefficient from memory, orifice coefficient 0.6 as in hydraulics textbooks",
    valid="low heads; beyond a third of the diameter it draws air",
    basis="from memory",
)
def standpipe_capacity(
    diameter: kinds.PipeDiameter,
    head: kinds.Head,
    weir_coefficient: kinds.Ratio = 1.84,
    orifice_coefficient: kinds.Ratio = 0.6,
    open_share: kinds.Fraction = 1.0,
) -> kinds.Flow:
    """Flow that a standpipe takes: as a weir, or as an orifice once submerged.

    >>> round(standpipe_capacity(0.1023, 0.05) * 60000)
    293
    """
    return open_share * least(
        weir_coefficient * pi * diameter * power(head, 1.5),
        orifice_coefficient * pi / 4.0 * diameter * diameter * sqrt(2.0 * 9.80665 * head),
    )


@definition("V", "geometry", example="round(pipe_volume(0.0525, 20.0), 4) == 0.0433")
def pipe_volume(diameter: kinds.PipeDiameter, length: kinds.Length) -> kinds.SmallVolume:
    """Water in a full pipe."""
    return pi / 4.0 * diameter * diameter * length


@definition(
    "v",
    "Manning's relation, SI form, hydraulics textbooks",
    valid="steady flow, rough turbulent",
    example="round(manning_velocity(0.025, 0.01, 0.010), 3) == 0.855",
)
def manning_velocity(
    hydraulic_radius: kinds.Length, slope: kinds.Ratio, roughness_coefficient: kinds.Ratio
) -> kinds.Velocity:
    """Speed in a channel or a pipe partly full."""
    return power(hydraulic_radius, 2.0 / 3.0) * sqrt(slope) / roughness_coefficient


@definition(
    "t",
    "energy equation, integrated over the falling level",
    valid="still tank",
    example="round(drain_time(10.0, 0.00785, 0.8)) == 858",
)
def drain_time(
    area: kinds.Area,
    opening: kinds.OpeningArea,
    head: kinds.Head,
    orifice_coefficient: kinds.Ratio = 0.6,
) -> kinds.Minutes:
    """Time in which a tank empties through an opening in its floor."""
    return 2.0 * area / (orifice_coefficient * opening) * sqrt(head / (2.0 * 9.80665))


@definition(
    "p",
    "energy equation",
    valid="steady flow",
    example="round(crest_pressure(101325.0, 2.0, 0.0, 0.0)) == 81751",
)
def crest_pressure(
    atmosphere: kinds.Pressure,
    height: kinds.Length,
    loss: kinds.Head,
    velocity: kinds.Velocity,
    density: kinds.Density = 998.0,
) -> kinds.Pressure:
    """Absolute pressure at the crest of a siphon."""
    return atmosphere - density * 9.80665 * (height + loss) - density * velocity * velocity / 2.0
