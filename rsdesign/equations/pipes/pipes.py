"""Water in pipes: speed, friction, and flow by gravity."""

import math
from math import pi

import numpy as np

from ...core import kinds
from ...core.arrays import clip, log10, most, power, ratio, sqrt, where
from ...core.equation import definition, equation
from ..water import properties

GRAVITY = 9.80665
TWO_OVER_LN_10 = 2.0 / math.log(10.0)
"""The slope of twice the logarithm to base ten, times its argument."""
STEEPEST = 0.9
"""Slopes of a round beyond this are not believed, and the plain round stands."""
LAMINAR, TURBULENT = 2000.0, 4000.0
"""Reynolds numbers between which the friction factor passes from one law to the other."""


def _turbulent(reynolds, roughness):
    """Colebrook's friction factor: Swamee and Jain's guess, then Newton's method on 1/sqrt(f).

    The guess is within 2 %, and Newton's method squares the error: three steps reach the last bits.
    """
    re = most(reynolds, LAMINAR)  # below, the share of this law is nothing
    rough, smooth = roughness / 3.7, 2.51 / re
    x = -2.0 * log10(rough + 5.74 * power(re, -0.9))
    for _ in range(3):
        inside = rough + smooth * x
        x = x - (x + 2.0 * log10(inside)) / (1.0 + TWO_OVER_LN_10 * smooth / inside)
    return 1.0 / (x * x)


def _friction(reynolds, roughness):
    laminar = 64.0 / most(reynolds, 1e-9)
    share = clip((reynolds - LAMINAR) / (TURBULENT - LAMINAR), 0.0, 1.0)
    return laminar + share * (_turbulent(reynolds, roughness) - laminar)


def head_of(flow, diameter, length, roughness, losses, viscosity):
    """Head lost in a pipe with its fittings, by the water's viscosity."""
    speed = 4.0 * flow / (pi * diameter * diameter)
    friction = _friction(speed * diameter / viscosity, roughness / diameter)
    return (friction * length / diameter + losses) * speed * speed / (2.0 * GRAVITY)


def gravity_flow_of(head, diameter, length, roughness, losses, viscosity):
    """Flow whose friction, fittings and exit speed use up a fall.

    Rounds on the friction factor; each pair of rounds is carried on to its limit (Aitken 1926), so
    that nine rounds reach what forty plain ones reach in laminar flow.
    """
    drive, relative = 2.0 * GRAVITY * most(head, 0.0), roughness / diameter

    def again(speed):
        friction = _friction(most(speed * diameter / viscosity, 1.0), relative)
        return sqrt(drive / (friction * length / diameter + losses + 1.0))

    speed = sqrt(drive / (0.02 * length / diameter + losses + 1.0))
    for _ in range(4):
        once = again(speed)
        twice = again(once)
        slope = ratio(twice - once, once - speed, 0.0)
        step = where(abs(slope) < STEEPEST, ratio(slope, 1.0 - slope), 0.0)
        speed = twice + step * (twice - once)
    return again(speed) * pi / 4.0 * diameter * diameter


def _next_size(required, sizes):
    needed = np.multiply(required, 1.0 - 1e-9)
    found = np.append(sizes, np.inf)[np.searchsorted(sizes, needed)]
    return float(found) if np.ndim(found) == 0 else found


@definition("v", example="round(velocity(0.002, 0.05), 3) == 1.019")
def velocity(flow: kinds.Flow, diameter: kinds.PipeDiameter) -> kinds.Velocity:
    """Mean speed in a round pipe."""
    return 4.0 * flow / (pi * diameter * diameter)


@definition("Re", example="round(reynolds(1.0, 0.05, 1e-6)) == 50000")
def reynolds(
    velocity: kinds.Velocity,
    diameter: kinds.PipeDiameter,
    kinematic_viscosity: kinds.KinematicViscosity,
) -> kinds.Ratio:
    """Reynolds number of flow in a pipe."""
    return velocity * diameter / kinematic_viscosity


@equation(
    latex=r"\frac{1}{\sqrt{f}} = -2 \log_{10}\left(\frac{e}{3.7} + \frac{2.51}{Re "
    r"\sqrt{f}}\right)",
    source="Colebrook 1939; 64/Re below 2,000; a straight blend between 2,000 and 4,000",
    valid="any flow; uncertain between 2,000 and 4,000",
)
def friction_factor(reynolds: kinds.Ratio, relative_roughness: kinds.Ratio) -> kinds.Ratio:
    """Darcy friction factor.

    Fanning's factor is a quarter of this.

    >>> round(friction_factor(1e5, 0.001), 4)
    0.0222
    """
    return _friction(reynolds, relative_roughness)


@equation(
    latex=r"h = @friction_factor \cdot \frac{@length}{@diameter} \cdot "
    r"\frac{@velocity^{2}}{2 \cdot 9.80665}",
    source="Darcy-Weisbach",
    valid="full pipes",
    basis="derived",
)
def friction_head(
    friction_factor: kinds.Ratio,
    length: kinds.Length,
    diameter: kinds.PipeDiameter,
    velocity: kinds.Velocity,
) -> kinds.Head:
    """Head lost to friction in a straight pipe.

    >>> round(friction_head(0.02, 10.0, 0.05, 1.0), 3)
    0.204
    """
    return friction_factor * length / diameter * velocity * velocity / (2.0 * GRAVITY)


@equation(
    latex=r"h = @minor_losses \cdot \frac{@velocity^{2}}{2 \cdot 9.80665}",
    source="definition",
    basis="derived",
)
def minor_head(velocity: kinds.Velocity, minor_losses: kinds.Ratio) -> kinds.Head:
    """Head lost in fittings.

    >>> round(minor_head(1.0, 2.0), 3)
    0.102
    """
    return minor_losses * velocity * velocity / (2.0 * GRAVITY)


@equation(
    latex=r"h = \left(f \frac{L}{D} + \Sigma K\right) \frac{v^2}{2 g}",
    source="Darcy-Weisbach with Colebrook's friction factor; loss coefficients of the fittings",
    valid="full pipes",
    basis="derived",
)
def head_loss(
    flow: kinds.Flow,
    diameter: kinds.PipeDiameter,
    length: kinds.Length,
    roughness: kinds.Roughness,
    minor_losses: kinds.Ratio,
    temperature: kinds.Temperature,
) -> kinds.Head:
    """Head lost in a pipe with its fittings, fresh water.

    >>> round(head_loss(0.002, 0.0525, 20.0, 1e-4, 5.0, 28.0), 2)
    0.65
    """
    return head_of(
        flow, diameter, length, roughness, minor_losses, properties.kinematic_viscosity(temperature)
    )


@equation(
    latex=r"h = 10.67 \cdot @length \cdot \frac{@flow^{1.852}}{@c^{1.852} \cdot "
    r"@diameter^{4.87}}",
    source="Hazen and Williams, SI form of engineering handbooks",
    valid="water, turbulent, above 25 mm and 0.3 m/s",
    basis="derived",
)
def hazen_williams(
    flow: kinds.Flow, diameter: kinds.PipeDiameter, length: kinds.Length, c: kinds.Ratio
) -> kinds.Head:
    """Head lost in a straight pipe by Hazen and Williams.

    >>> round(hazen_williams(0.002, 0.0525, 20.0, 130.0), 2)
    0.45
    """
    return 10.67 * length * power(flow, 1.852) / (power(c, 1.852) * power(diameter, 4.87))


@definition("D", example="round(diameter_for_velocity(0.002, 1.0186), 3) == 0.05")
def diameter_for_velocity(flow: kinds.Flow, velocity: kinds.Velocity) -> kinds.PipeDiameter:
    """Pipe that keeps to a speed."""
    return sqrt(4.0 * flow / (pi * velocity))


@equation(latex=r"D = \min\{s : s \ge D_{req}\}", source="definition", basis="derived")
def next_size(required: kinds.PipeDiameter, sizes: kinds.PipeDiameter) -> kinds.PipeDiameter:
    """The next size that the trade sells; infinite where none is big enough.

    ``sizes``: a row of sizes, rising.  A size within 1e-9 of the need will do, so that inches and
    millimetres choose alike.

    >>> next_size(0.045, np.array([0.0409, 0.0525]))
    0.0525
    """
    return _next_size(required, sizes)


@equation(
    latex=r"h = \left(f \frac{L}{D} + \Sigma K + 1\right) \frac{v^2}{2 g}",
    source="energy equation with Colebrook's friction factor",
    valid="full pipes",
    basis="derived",
)
def gravity_flow(
    head: kinds.Head,
    diameter: kinds.PipeDiameter,
    length: kinds.Length,
    roughness: kinds.Roughness,
    minor_losses: kinds.Ratio,
    temperature: kinds.Temperature,
) -> kinds.Flow:
    """Flow that a fall drives through a pipe, its exit speed counted.

    >>> round(gravity_flow(0.15, 0.1023, 6.0, 1e-4, 2.0, 28.0) * 60000)
    408
    """
    return gravity_flow_of(
        head, diameter, length, roughness, minor_losses, properties.kinematic_viscosity(temperature)
    )
