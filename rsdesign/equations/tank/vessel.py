"""Tanks: volume, shape, load on the floor, and water that turns."""

from math import pi

from ...core.arrays import sqrt
from ...core.equation import equation
from ...core.kinds import (
    Area,
    Density,
    FloorLoad,
    Flow,
    Fraction,
    Length,
    Mass,
    Minutes,
    OpeningArea,
    Ratio,
    SpecificVolume,
    StockingDensity,
    Tension,
    Velocity,
    Volume,
)


def _rotation(flow, jet_velocity, radius, depth, drag):
    """The positive root of the torque balance."""
    k = drag * 2.0 * pi * radius * radius * (depth / radius + 0.2)
    return (-flow + sqrt(flow * flow + 4.0 * k * flow * jet_velocity)) / (2.0 * k)


@equation(
    latex=r"V = \frac{@biomass}{@density}",
    source="definition",
    valid="any",
    basis="derived",
)
def volume_for(biomass: Mass, density: StockingDensity) -> Volume:
    """Water for a weight of fish at a density.

    Floats or arrays that broadcast.

    >>> volume_for(4000.0, 80.0)
    50.0
    """
    return biomass / density


@equation(
    latex=r"V = @biomass \cdot @each",
    source="at least 4 US gal for each lb of tilapia",
    valid="tilapia with air",
    basis="common practice",
)
def rule_volume(biomass: Mass, each: SpecificVolume = 0.0333816178) -> Volume:
    """Water by the rule of thumb: 4 US gallons for each pound of fish.

    Floats or arrays that broadcast.

    >>> round(rule_volume(255.7), 2)
    8.54
    """
    return biomass * each


@equation(
    latex=r"V = \frac{\pi}{4} \cdot @diameter^{2} \cdot @depth",
    source="geometry",
    valid="any",
    basis="derived",
)
def circular_volume(diameter: Length, depth: Length) -> Volume:
    """Water in a round tank.

    Floats or arrays that broadcast.

    >>> round(circular_volume(3.6576, 0.8128), 2)
    8.54
    """
    return pi / 4.0 * diameter * diameter * depth


@equation(
    latex=r"D = \sqrt{\frac{4 \cdot @volume}{\pi \cdot @depth}}",
    source="geometry",
    valid="any",
    basis="derived",
)
def diameter_for(volume: Volume, depth: Length) -> Length:
    """Diameter of a round tank for a volume.

    Floats or arrays that broadcast.

    >>> round(diameter_for(8.54, 0.8128), 2)
    3.66
    """
    return sqrt(4.0 * volume / (pi * depth))


@equation(
    latex=r"D = \sqrt{\frac{4 \cdot @floor}{\pi}}",
    source="geometry",
    valid="any",
    basis="derived",
)
def equivalent_diameter(floor: Area) -> Length:
    """Diameter of the circle with the same floor.

    Floats or arrays that broadcast.

    >>> round(equivalent_diameter(10.507), 2)
    3.66
    """
    return sqrt(4.0 * floor / pi)


@equation(
    latex=r"D = \frac{@biomass}{@volume}",
    source="definition",
    valid="any",
    basis="derived",
)
def density(biomass: Mass, volume: Volume) -> StockingDensity:
    """Weight of fish for each volume of water.

    Floats or arrays that broadcast.

    >>> density(4000.0, 50.0)
    80.0
    """
    return biomass / volume


@equation(
    latex=r"t = \frac{@volume}{@flow}",
    source="definition",
    valid="any",
    basis="derived",
)
def turnover_time(volume: Volume, flow: Flow) -> Minutes:
    """Time in which the flow equals the water in the tank.

    Floats or arrays that broadcast.

    >>> turnover_time(6.0, 0.002)
    3000.0
    """
    return volume / flow


@equation(
    latex=r"m = @depth \cdot @density",
    source="hydrostatics",
    valid="still water",
    basis="derived",
)
def floor_load(depth: Length, density: Density) -> FloorLoad:
    """Weight of water on each area of floor.

    Floats or arrays that broadcast.

    >>> round(floor_load(0.8128, 996.2))
    810
    """
    return depth * density


@equation(
    latex=r"x = \frac{@diameter}{@depth}",
    source="definition",
    valid="any",
    basis="derived",
)
def diameter_depth_ratio(diameter: Length, depth: Length) -> Ratio:
    """Distance across over water depth.

    Floats or arrays that broadcast.

    >>> diameter_depth_ratio(4.0, 1.0)
    4.0
    """
    return diameter / depth


@equation(
    latex=r"H_w = @depth + @freeboard",
    source="definition",
    valid="any",
    basis="derived",
)
def wall_height(depth: Length, freeboard: Length) -> Length:
    """Height of the wall.

    Floats or arrays that broadcast.

    >>> wall_height(1.0, 0.25)
    1.25
    """
    return depth + freeboard


@equation(
    latex=r"T = @density \cdot 9.80665 \cdot @depth \cdot \frac{@diameter}{2}",
    source="thin-walled cylinder under water pressure; standard gravity",
    valid="thin walls",
    basis="derived",
)
def hoop_tension(depth: Length, diameter: Length, density: Density) -> Tension:
    """Pull around a round wall for each height of it, at the floor, where it is largest.

    Floats or arrays that broadcast.

    >>> round(hoop_tension(1.0, 4.0, 1000.0))
    19613
    """
    return density * 9.80665 * depth * diameter / 2.0


@equation(
    latex=r"A = \frac{@flow}{@jet_velocity}",
    source="definition",
    valid="any",
    basis="derived",
)
def jet_area(flow: Flow, jet_velocity: Velocity) -> OpeningArea:
    """Opening of all inlet jets together.

    Floats or arrays that broadcast.

    >>> jet_area(0.003, 1.0)
    0.003
    """
    return flow / jet_velocity


@equation(
    latex=r"Q_d = @flow \cdot @share",
    source="definition",
    valid="any",
    basis="derived",
)
def drain_flow(flow: Flow, share: Fraction) -> Flow:
    """Flow out of the centre drain.

    Floats or arrays that broadcast.

    >>> drain_flow(0.004, 0.25)
    0.001
    """
    return flow * share


@equation(
    latex=r"v = \frac{-@flow + \sqrt{@flow^{2} + 8 \cdot @drag \cdot \pi \cdot "
    r"\left(\frac{@diameter}{2}\right)^{2} \cdot \left(\frac{2 \cdot "
    r"@depth}{@diameter} + 0.2\right) \cdot @flow \cdot @jet_velocity}}{4 \cdot @drag "
    r"\cdot \pi \cdot \left(\frac{@diameter}{2}\right)^{2} \cdot \left(\frac{2 \cdot "
    r"@depth}{@diameter} + 0.2\right)}",
    source="torque balance of jets against skin friction, coefficient 0.004 (0.003 to 0.006)",
    valid="round tanks without big obstacles",
    basis="derived",
)
def rotation_velocity(
    flow: Flow, jet_velocity: Velocity, diameter: Length, depth: Length, drag: Ratio = 0.004
) -> Velocity:
    """Speed of the water at the wall, from the torque of the jets and the drag of wall and floor.

    Floats or arrays that broadcast.

    >>> round(rotation_velocity(0.00336, 1.0, 3.6576, 0.8128), 2)
    0.22
    """
    return _rotation(flow, jet_velocity, diameter / 2.0, depth, drag)
