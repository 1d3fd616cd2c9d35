"""Tanks: volume, shape, load on the floor, and water that turns."""

from math import pi

from ...core import kinds
from ...core.arrays import sqrt
from ...core.equation import definition, equation


def _rotation(flow, jet_velocity, radius, depth, drag):
    """The positive root of the torque balance."""
    k = drag * 2.0 * pi * radius * radius * (depth / radius + 0.2)
    return (-flow + sqrt(flow * flow + 4.0 * k * flow * jet_velocity)) / (2.0 * k)


@definition("V", example="volume_for(4000.0, 80.0) == 50.0")
def volume_for(biomass: kinds.Mass, density: kinds.StockingDensity) -> kinds.Volume:
    """Water for a weight of fish at a density."""
    return biomass / density


@definition(
    "V",
    "at least 4 US gal for each lb of tilapia",
    valid="tilapia with air",
    basis="common practice",
    example="round(rule_volume(255.7), 2) == 8.54",
)
def rule_volume(biomass: kinds.Mass, each: kinds.SpecificVolume = 0.0333816178) -> kinds.Volume:
    """Water by the rule of thumb: 4 US gallons for each pound of fish."""
    return biomass * each


@definition("V", "geometry", example="round(circular_volume(3.6576, 0.8128), 2) == 8.54")
def circular_volume(diameter: kinds.Length, depth: kinds.Length) -> kinds.Volume:
    """Water in a round tank."""
    return pi / 4.0 * diameter * diameter * depth


@definition("D", "geometry", example="round(diameter_for(8.54, 0.8128), 2) == 3.66")
def diameter_for(volume: kinds.Volume, depth: kinds.Length) -> kinds.Length:
    """Diameter of a round tank for a volume."""
    return sqrt(4.0 * volume / (pi * depth))


@definition("D", "geometry", example="round(equivalent_diameter(10.507), 2) == 3.66")
def equivalent_diameter(floor: kinds.Area) -> kinds.Length:
    """Diameter of the circle with the same floor."""
    return sqrt(4.0 * floor / pi)


@definition("D", example="density(4000.0, 50.0) == 80.0")
def density(biomass: kinds.Mass, volume: kinds.Volume) -> kinds.StockingDensity:
    """Weight of fish for each volume of water."""
    return biomass / volume


@definition("t", example="turnover_time(6.0, 0.002) == 3000.0")
def turnover_time(volume: kinds.Volume, flow: kinds.Flow) -> kinds.Minutes:
    """Time in which the flow equals the water in the tank."""
    return volume / flow


@definition(
    "m", "hydrostatics", valid="still water", example="round(floor_load(0.8128, 996.2)) == 810"
)
def floor_load(depth: kinds.Length, density: kinds.Density) -> kinds.FloorLoad:
    """Weight of water on each area of floor."""
    return depth * density


@definition("x", example="diameter_depth_ratio(4.0, 1.0) == 4.0")
def diameter_depth_ratio(diameter: kinds.Length, depth: kinds.Length) -> kinds.Ratio:
    """Distance across over water depth."""
    return diameter / depth


@definition("H_w", example="wall_height(1.0, 0.25) == 1.25")
def wall_height(depth: kinds.Length, freeboard: kinds.Length) -> kinds.Length:
    """Height of the wall."""
    return depth + freeboard


@definition(
    "T",
    "thin-walled cylinder under water pressure; standard gravity",
    valid="thin walls",
    example="round(hoop_tension(1.0, 4.0, 1000.0)) == 19613",
)
def hoop_tension(
    depth: kinds.Length, diameter: kinds.Length, density: kinds.Density
) -> kinds.Tension:
    """Pull around a round wall for each height of it, at the floor, where it is largest."""
    return density * 9.80665 * depth * diameter / 2.0


@definition("A", example="jet_area(0.003, 1.0) == 0.003")
def jet_area(flow: kinds.Flow, jet_velocity: kinds.Velocity) -> kinds.OpeningArea:
    """Opening of all inlet jets together."""
    return flow / jet_velocity


@definition("Q_d", example="drain_flow(0.004, 0.25) == 0.001")
def drain_flow(flow: kinds.Flow, share: kinds.Fraction) -> kinds.Flow:
    """Flow out of the centre drain."""
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
    flow: kinds.Flow,
    jet_velocity: kinds.Velocity,
    diameter: kinds.Length,
    depth: kinds.Length,
    drag: kinds.Ratio = 0.004,
) -> kinds.Velocity:
    """Speed of the water at the wall, from the torque of the jets and the drag of wall and floor.

    >>> round(rotation_velocity(0.00336, 1.0, 3.6576, 0.8128), 2)
    0.22
    """
    return _rotation(flow, jet_velocity, diameter / 2.0, depth, drag)


@definition("A", "the water surface under lids", example="lid_area(7.0, 2.0, 0.9) == 12.6")
def lid_area(floor: kinds.Area, tanks: kinds.Count, covered: kinds.Fraction) -> kinds.Area:
    """Lids to buy for tanks of equal floors."""
    return floor * tanks * covered
