"""The bed of a filter: its surface, cross-section and depth, and the trade's rule."""

from ..arrays import most, ratio
from ..equation import equation
from ..kinds import (
    AmmoniaLoad,
    Area,
    ArealRate,
    AreaPerFeed,
    Concentration,
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
    latex=r"A = \frac{@flow}{@hydraulic_load}",
    source="definition",
    valid="any",
    basis="derived",
)
def cross_section(flow: Flow, hydraulic_load: HydraulicLoad) -> Area:
    """Cross-section of a filter.

    Floats or arrays that broadcast.

    >>> cross_section(0.5, 0.25)
    2.0
    """
    return flow / hydraulic_load


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
