"""Moving water with air: how much an airlift gives, and how many are needed."""

from math import pi

from ..arrays import most, root, sqrt
from ..equation import equation
from ..kinds import AirFlow, Flow, Length, PipeDiameter, Ratio

GRAVITY = 9.80665


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


@equation(
    latex=r"x = \frac{@submerged}{@submerged + @lift}",
    source="definition",
    valid="any",
    basis="derived",
)
def submergence_ratio(submerged: Length, lift: Length) -> Ratio:
    """Submerged part of an airlift pipe over the whole.

    Floats or arrays that broadcast.

    >>> submergence_ratio(0.75, 0.25)
    0.75
    """
    return submerged / (submerged + lift)


@equation(
    latex=r"Q = A j_l, \left(K + \frac{f L}{D}\right) \frac{j_l^2}{2 g} = e L - h",
    source="drift-flux model, slug rise 1.2 j + 0.35 sqrt(g D), Nicklin 1962; losses set so that a"
    " 7.6 cm pipe with 71 L/min of air at 80 cm moves 111 L/min, Wurts et al. 1994",
    valid="lifts below 0.3 m, submergence above 0.7, pipes 2 to 6 in",
    basis="from memory",
)
def airlift_flow(
    air_flow: AirFlow, diameter: PipeDiameter, submerged: Length, lift: Length, losses: Ratio = 20.0
) -> Flow:
    """Water that one airlift moves.

    Floats or arrays that broadcast.

    >>> round(airlift_flow(0.00118, 0.076, 0.8, 0.02) * 60000)
    111
    """
    return _lift_flow(air_flow, diameter, submerged, lift, losses)
