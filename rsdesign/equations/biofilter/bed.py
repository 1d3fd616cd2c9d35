"""The bed of a filter: its surface, cross-section and depth, and the trade's rule."""

from ...core.arrays import ceil, least, most, ratio
from ...core.equation import equation
from ...core.kinds import (
    AmmoniaLoad,
    Area,
    ArealRate,
    AreaPerFeed,
    Concentration,
    Count,
    FeedRate,
    Flow,
    Fraction,
    GrainSize,
    HydraulicLoad,
    Length,
    MediaVolume,
    SpecificSurface,
)


@equation(
    latex=r"r = \frac{@ammonia_load}{@area}",
    source="definition",
    valid="any",
    basis="derived",
)
def implied_rate(ammonia_load: AmmoniaLoad, area: Area) -> ArealRate:
    """What each area must take of a load.

    Floats or arrays that broadcast.

    >>> implied_rate(1.0, 4.0)
    0.25
    """
    return ratio(ammonia_load, area)


@equation(
    latex=r"A = \frac{@volume}{@depth}",
    source="geometry",
    valid="upright walls",
    basis="derived",
)
def cross_section(volume: MediaVolume, depth: Length) -> Area:
    """Cross-section of a filter of a depth, all vessels together.

    Floats or arrays that broadcast.

    >>> cross_section(2.0, 0.5)
    4.0
    """
    return volume / depth


@equation(
    latex=r"H = \max\left(@shallowest, \min\left(@deepest, \max\left(\frac{@low \cdot @volume}{@flow}, "
    r"\min\left(@wall, \frac{@high \cdot @volume}{@flow}\right)\right)\right)\right)",
    source="walls of 2 to 8 ft by the kind of filter",
    valid="upright walls",
    basis="common practice",
)
def wall_depth(
    volume: MediaVolume,
    flow: Flow,
    wall: Length,
    low: HydraulicLoad,
    high: HydraulicLoad,
    shallowest: Length,
    deepest: Length,
) -> Length:
    """Depth of a filter that is built to size: a wall that is easily built.

    Deeper only where the water would creep, shallower only where it would rush, and never beyond
    what is built.  Floats or arrays that broadcast.

    >>> wall_depth(1.0, 0.004, 1.0, 0.002, 0.01, 0.6, 1.5), wall_depth(1.0, 0.001, 1.0, 0.002, 0.01, 0.6, 1.5)
    (1.0, 1.5)
    """
    held = most(low * volume / flow, least(wall, high * volume / flow))
    return most(shallowest, least(deepest, held))


@equation(
    latex=r"v = \frac{@flow}{@cross_section}",
    source="definition",
    valid="any",
    basis="derived",
)
def hydraulic_load(flow: Flow, cross_section: Area) -> HydraulicLoad:
    """Flow over the cross-section of a filter.

    Floats or arrays that broadcast.

    >>> hydraulic_load(0.5, 2.0)
    0.25
    """
    return ratio(flow, cross_section, float("inf"))


@equation(
    latex=r"n = \max\left(1, \lceil \frac{@volume}{@floor \cdot @depth} - 10^{-9} \rceil\right)",
    source="geometry",
    valid="equal vessels side by side",
    basis="derived",
)
def vessels_needed(volume: MediaVolume, floor: Area, depth: Length) -> Count:
    """Vessels of one size for the room that media need.

    Floats or arrays that broadcast.

    >>> vessels_needed(5.0, 2.0, 1.0)
    3.0
    """
    return most(1.0, ceil(ratio(volume, floor * depth) - 1e-9))


@equation(
    latex=r"A = @each \cdot @count",
    source="definition",
    valid="any",
    basis="derived",
)
def floors_together(each: Area, count: Count) -> Area:
    """Floor of all vessels.

    Floats or arrays that broadcast.

    >>> floors_together(2.0, 3.0)
    6.0
    """
    return each * count


@equation(
    latex=r"A = \frac{@cross_section}{@count}",
    source="definition",
    valid="equal vessels side by side",
    basis="derived",
)
def floor_of_one(cross_section: Area, count: Count) -> Area:
    """Floor of one of so many vessels.

    Floats or arrays that broadcast.

    >>> floor_of_one(6.0, 3.0)
    2.0
    """
    return cross_section / count


@equation(
    latex=r"H = \frac{@volume}{@cross_section}",
    source="definition",
    valid="any",
    basis="derived",
)
def filter_depth(volume: MediaVolume, cross_section: Area) -> Length:
    """Depth of media on a cross-section.

    Floats or arrays that broadcast.

    >>> filter_depth(2.0, 4.0)
    0.5
    """
    return ratio(volume, cross_section)


@equation(
    latex=r"a = \frac{6 \cdot \left(1 - @void_fraction\right)}{@diameter}",
    source="geometry",
    valid="any",
    basis="derived",
)
def sphere_specific_surface(void_fraction: Fraction, diameter: GrainSize) -> SpecificSurface:
    """Surface for each volume of a heap of equal spheres.

    Floats or arrays that broadcast.

    >>> round(sphere_specific_surface(0.42, 0.02))
    174
    """
    return 6.0 * (1.0 - void_fraction) / diameter


@equation(
    latex=r"E = \frac{\max\left(0, @oxygen_inlet - @oxygen_floor\right)}{4.57 \cdot 1.3 "
    r"\cdot @total_ammonia}",
    source="stoichiometry of nitrification, three tenths on top for other bacteria, 2 mg/L left",
    valid="filters without air of their own",
    basis="common practice",
)
def oxygen_cap(
    oxygen_inlet: Concentration, total_ammonia: Concentration, oxygen_floor: Concentration = 2e-3
) -> Fraction:
    """Most of the ammonia that the oxygen in the water allows to be taken in one pass.

    Floats or arrays that broadcast.

    >>> round(oxygen_cap(5e-3, 1e-3), 2)
    0.5
    """
    return most(0.0, ratio(oxygen_inlet - oxygen_floor, 4.57 * 1.3 * total_ammonia, float("inf")))


@equation(
    latex=r"A = @feed \cdot @each",
    source="300 ft² of media for each lb of feed a day",
    valid="tilapia and catfish",
    basis="common practice",
)
def rule_area(feed: FeedRate, each: AreaPerFeed = 5308834.443) -> Area:
    """Media surface by the rule of thumb: 300 ft² for each pound of feed a day.

    Floats or arrays that broadcast.

    >>> round(rule_area(3.45 / 86400))
    212
    """
    return feed * each
