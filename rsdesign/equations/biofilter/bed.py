"""The bed of a filter: its surface, cross-section and depth, and the trade's rule."""

from ...core import kinds
from ...core.arrays import ceil, least, most, ratio
from ...core.equation import definition


@definition("r", example="implied_rate(1.0, 4.0) == 0.25")
def implied_rate(ammonia_load: kinds.AmmoniaLoad, area: kinds.Area) -> kinds.ArealRate:
    """Removal rate that each area of media must reach for a load."""
    return ratio(ammonia_load, area)


@definition("A", "geometry", valid="vertical walls", example="cross_section(2.0, 0.5) == 4.0")
def cross_section(volume: kinds.MediaVolume, depth: kinds.Length) -> kinds.Area:
    """Cross-section of a filter of a depth, all vessels together."""
    return volume / depth


@definition(
    "H", "walls of 2 to 8 ft by the kind of filter", valid="vertical walls", basis="common practice"
)
def wall_depth(
    volume: kinds.MediaVolume,
    flow: kinds.Flow,
    wall: kinds.Length,
    low: kinds.HydraulicLoad,
    high: kinds.HydraulicLoad,
    shallowest: kinds.Length,
    deepest: kinds.Length,
) -> kinds.Length:
    """Depth of a filter that is built to size: a wall that is easily built.

    Deeper only where the water would creep, shallower only where it would rush, and never beyond
    what is built.

    >>> wall_depth(1.0, 0.004, 1.0, 0.002, 0.01, 0.6, 1.5), wall_depth(1.0, 0.001, 1.0, 0.002, 0.01, 0.6, 1.5)
    (1.0, 1.5)
    """
    held = most(low * volume / flow, least(wall, high * volume / flow))
    return most(shallowest, least(deepest, held))


@definition("v", example="hydraulic_load(0.5, 2.0) == 0.25")
def hydraulic_load(flow: kinds.Flow, cross_section: kinds.Area) -> kinds.HydraulicLoad:
    """Hydraulic loading rate: flow over the cross-section of a filter."""
    return ratio(flow, cross_section, float("inf"))


@definition(
    "n",
    "geometry",
    valid="equal vessels side by side",
    example="vessels_needed(5.0, 2.0, 1.0) == 3.0",
)
def vessels_needed(
    volume: kinds.MediaVolume, floor: kinds.Area, depth: kinds.Length
) -> kinds.Count:
    """Vessels of one size for the volume that media need."""
    return most(1.0, ceil(ratio(volume, floor * depth) - 1e-9))


@definition("A", example="floors_together(2.0, 3.0) == 6.0")
def floors_together(each: kinds.Area, count: kinds.Count) -> kinds.Area:
    """Floor of all vessels."""
    return each * count


@definition("A", valid="equal vessels side by side", example="floor_of_one(6.0, 3.0) == 2.0")
def floor_of_one(cross_section: kinds.Area, count: kinds.Count) -> kinds.Area:
    """Floor of one of so many vessels."""
    return cross_section / count


@definition("H", example="filter_depth(2.0, 4.0) == 0.5")
def filter_depth(volume: kinds.MediaVolume, cross_section: kinds.Area) -> kinds.Length:
    """Depth of media on a cross-section."""
    return ratio(volume, cross_section)


@definition("a", "geometry", example="round(sphere_specific_surface(0.42, 0.02)) == 174")
def sphere_specific_surface(
    void_fraction: kinds.Fraction, diameter: kinds.GrainSize
) -> kinds.SpecificSurface:
    """Specific surface area of a packed bed of equal spheres."""
    return 6.0 * (1.0 - void_fraction) / diameter


@definition(
    "E",
    "stoichiometry of nitrification, three tenths on top for other bacteria, 2 mg/L left",
    valid="filters without air of their own",
    basis="common practice",
    example="round(oxygen_cap(5e-3, 1e-3), 2) == 0.5",
)
def oxygen_cap(
    oxygen_inlet: kinds.Concentration,
    total_ammonia: kinds.Concentration,
    oxygen_floor: kinds.Concentration = 2e-3,
) -> kinds.Fraction:
    """Most of the ammonia that the oxygen in the water allows to be taken in one pass."""
    return most(0.0, ratio(oxygen_inlet - oxygen_floor, 4.57 * 1.3 * total_ammonia, float("inf")))


@definition(
    "A",
    "300 ft² of media for each lb of feed a day",
    valid="tilapia and catfish",
    basis="common practice",
    example="round(rule_area(3.45 / 86400)) == 212",
)
def rule_area(feed: kinds.FeedRate, each: kinds.AreaPerFeed = 5308834.443) -> kinds.Area:
    """Media surface by the rule of thumb: 300 ft² for each pound of feed a day."""
    return feed * each
