"""Moving water with air: how much an airlift gives, and how many are needed."""

from math import pi

from ...core.arrays import clip, most, power, root, sqrt
from ...core.equation import definition, equation
from ...core.kinds import AirFlow, Flow, Length, PipeDiameter, Ratio

GRAVITY = 9.80665

STUDIED_PIPES = (0.076, 0.152)
"""Pipes of Wurts et al. 1994 [m]."""

STUDIED_DEPTHS = (0.5, 0.8)
"""Depths at which they put the air in [m]."""

STUDIED_AIR = (71 / 60000, 324 / 60000)
"""Air they gave to one airlift [m³/s]."""

STUDIED_WATER = (66 / 60000, 225 / 60000)
"""Water that one airlift moved, least and most of all they measured [m³/s]."""


def _lift_flow(air_flow, diameter, submerged, lift, losses):
    """Water flow of one airlift: the weight of the mixture against the water outside.

    Drift-flux: gas fraction e = jg / (1.2 (jg + jl) + 0.35 sqrt(g D)); the driving head
    e (submerged + lift) - lift is used up by fittings and friction.  Halving on jl.
    """
    area = pi / 4.0 * diameter * diameter
    gas = air_flow / area
    drift = 0.35 * sqrt(GRAVITY * diameter)
    whole = submerged + lift

    def surplus(liquid):
        share = gas / (1.2 * (gas + liquid) + drift)
        drive = share * whole - lift
        friction = 0.02 * whole / diameter * (1.0 + gas / most(liquid, 1e-9))
        return (losses + friction) * liquid * liquid / (2.0 * GRAVITY) - drive

    return area * root(surplus, 0.0 * gas, 3.0 + 0.0 * gas, 40)


@definition("x", example="submergence_ratio(0.75, 0.25) == 0.75")
def submergence_ratio(submerged: Length, lift: Length) -> Ratio:
    """Submerged part of an airlift pipe over the whole."""
    return submerged / (submerged + lift)


@equation(
    latex=r"K = 21.9 \cdot \left(\frac{\min\left(\max\left(@diameter, 0.076\right), "
    r"0.152\right)}{0.076}\right)^{2.27} \cdot \left(\frac{\min\left(\max\left(@submerged, "
    r"0.5\right), 0.8\right)}{0.8}\right)^{-1.65}",
    source="three numbers set so that the model gives what Wurts et al. 1994, World Aquaculture"
    " 25(4):51-54, abstract, measured at next to no lift: 66 L/min (least of all: 7.6 cm pipe,"
    " 71 L/min of air at 50 cm), 111 (7.6 cm, 71 at 80 cm) and 225 (most of all: 15.2 cm, 324 at"
    " 80 cm)",
    valid="pipes 7.6 to 15.2 cm, air put in at 50 to 80 cm; held at the ends of that beyond",
    basis="derived",
)
def airlift_losses(diameter: PipeDiameter, submerged: Length) -> Ratio:
    """Loss coefficient of a floating airlift, from its inlet to the elbow at its top.

    >>> round(airlift_losses(0.076, 0.8), 1), round(airlift_losses(0.152, 0.8), 1)
    (21.9, 105.6)
    """
    wide = clip(diameter, *STUDIED_PIPES) / STUDIED_PIPES[0]
    deep = clip(submerged, *STUDIED_DEPTHS) / STUDIED_DEPTHS[1]
    return 21.9 * power(wide, 2.27) * power(deep, -1.65)


@equation(
    latex=r"Q = A j_l, \left(K + \frac{f L}{D}\right) \frac{j_l^2}{2 g} = e L - h",
    source="drift-flux model, slug rise 1.2 j + 0.35 sqrt(g D), Nicklin 1962; losses from"
    " Wurts et al. 1994, see the loss coefficient",
    valid="pipes 7.6 to 15.2 cm (3 to 6 in), air 71 to 324 L/min put in at 50 to 80 cm, next to no"
    " lift: 66 to 225 L/min of water, as studied; lifts to 0.3 m by the model alone",
    basis="derived",
)
def airlift_flow(
    air_flow: AirFlow, diameter: PipeDiameter, submerged: Length, lift: Length, losses: Ratio = 21.9
) -> Flow:
    """Water that one airlift moves.

    >>> round(airlift_flow(71 / 60000, 0.076, 0.8, 0.0) * 60000)
    111
    """
    return _lift_flow(air_flow, diameter, submerged, lift, losses)
