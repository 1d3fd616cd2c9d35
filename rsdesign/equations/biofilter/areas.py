"""The biofilter: media, what leaves it, and the two refusals."""

from collections.abc import Callable

from ...core import kinds
from ...core.arrays import most, ratio
from ...core.equation import definition, equation
from . import solvers as solve
from .bed import (
    cross_section,
    filter_depth,
    floor_of_one,
    floors_together,
    hydraulic_load,
    implied_rate,
    oxygen_cap,
    rule_area,
    sphere_specific_surface,
    vessels_needed,
    wall_depth,
)
from .nitrification import (
    areal_rate,
    derate_for,
    half_order_rate,
    linear_rate,
    organic_factor,
    rate_law,
)

LIMITED_BY = ("area", "both", "flow")
"""What holds a filter back, by the number in ``limited_by``."""


@definition("A", example="round(media_area(0.1017 / 86400, 0.30e-3 / 86400)) == 339")
def media_area(ammonia_load: kinds.AmmoniaLoad, areal_rate: kinds.ArealRate) -> kinds.Area:
    """Media surface for a load at a rate."""
    return ratio(ammonia_load, areal_rate, float("inf"))


@definition("V", example="media_volume(500.0, 250.0) == 2.0")
def media_volume(area: kinds.Area, specific_surface: kinds.SpecificSurface) -> kinds.MediaVolume:
    """Media for a surface."""
    return area / specific_surface


@equation(
    latex=r"Q \left(S - S_o\right) = A r\left(S_o\right)",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="any rate that does not fall with the level",
    basis="derived",
)
def outlet(
    inlet: kinds.Concentration,
    flow: kinds.Flow,
    area: kinds.Area,
    rate: Callable,
    mixed: bool = True,
) -> kinds.Concentration:
    """Level that leaves a filter: mixed, or in plug flow.

    ``rate``: the areal rate as a function of the level, or a constant.  A filter without area
    lets everything through; without flow, nothing is left.

    >>> round(outlet(1e-3, 20.0, 100.0, lambda s: 0.22 * s, mixed=False) * 1e3, 4)
    0.3329
    """
    return solve.outlet(inlet, flow, area, solve.rate(rate), mixed)


@equation(
    latex=r"P = A r\left(S_o\right) + q \left(S - S_q\right), Q \left(S - S_o\right) = A "
    r"r\left(S_o\right)",
    source="mass balance of tank and filter, solved together by halving",
    valid="any rate that does not fall with the level",
    basis="derived",
)
def loop_outlet(
    load: kinds.AmmoniaLoad,
    flow: kinds.Flow,
    area: kinds.Area,
    rate: Callable,
    exchange: kinds.DailyFlow,
    source: kinds.Concentration,
    mixed: bool = True,
) -> kinds.Concentration:
    """Level that leaves the filter when tank and filter are in steady state.

    >>> round(loop_outlet(1.0, 2.0, 4.0, lambda s: 0.5 * s, 0.0, 0.0), 6)
    0.5
    """
    return solve.loop(load, flow, area, solve.rate(rate), exchange, source, mixed)


@definition("S", "conservation of mass", example="tank_ammonia(1.0, 2.0, 0.5, 0.0, 0.0) == 1.0")
def tank_ammonia(
    load: kinds.AmmoniaLoad,
    flow: kinds.Flow,
    outlet: kinds.Concentration,
    exchange: kinds.DailyFlow,
    source: kinds.Concentration,
) -> kinds.Concentration:
    """Level in a mixed tank that a filter feeds."""
    return (load + exchange * source + flow * outlet) / (flow + exchange)


@definition("P", "conservation of mass", example="removal(2.0, 1.0, 0.5) == 1.0")
def removal(
    flow: kinds.Flow, inlet: kinds.Concentration, outlet: kinds.Concentration
) -> kinds.AmmoniaLoad:
    """What a filter takes out."""
    return flow * (inlet - outlet)


@definition("E", example="removal_per_pass(1.0, 0.25) == 0.75")
def removal_per_pass(inlet: kinds.Concentration, outlet: kinds.Concentration) -> kinds.Fraction:
    """Share taken out in one pass: a result."""
    return 1.0 - ratio(outlet, inlet, 1.0)


@definition(
    "Da",
    "Damköhler number, chemical reactor textbooks",
    example="damkohler(2.0, 0.5, 2.0, 1.0) == 0.5",
)
def damkohler(
    area: kinds.Area,
    rate_at_tank: kinds.ArealRate,
    flow: kinds.Flow,
    total_ammonia: kinds.Concentration,
) -> kinds.Ratio:
    """What the media could take over what the flow brings."""
    return ratio(area * rate_at_tank, flow * total_ammonia)


@equation(
    latex=r"i = \left[Da \ge 0.3\right] + \left[Da > 3\right], Da = @damkohler",
    source="a third and three times the balance",
    basis="common practice",
)
def limited_by(damkohler: kinds.Ratio) -> kinds.Index:
    """What holds the filter back: 0 area, 1 both, 2 flow.

    >>> limited_by(0.1), limited_by(1.0), limited_by(9.0)
    (0.0, 1.0, 2.0)
    """
    return 1.0 * (damkohler >= 0.3) + 1.0 * (damkohler > 3.0)


@definition("S_o", "conservation of mass", example="outlet_for(0.5, 1.0, 1.0) == 0.5")
def outlet_for(
    load: kinds.AmmoniaLoad, flow: kinds.Flow, total_ammonia: kinds.Concentration
) -> kinds.Concentration:
    """Level that must leave the filter to hold a level in the tank."""
    return most(0.0, total_ammonia - ratio(load, flow, float("inf")))


@definition("Q", "conservation of mass", example="least_flow(2.0, 0.5) == 4.0")
def least_flow(load: kinds.AmmoniaLoad, total_ammonia: kinds.Concentration) -> kinds.Flow:
    """Flow below which no filter can hold the level."""
    return load / total_ammonia


@equation(
    latex=r"A = \frac{P}{r\left(S_o\right)}, A = Q \int_{S_o}^{S} \frac{dS}{r}",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="flow above load over level",
    basis="derived",
)
def area_required(
    load: kinds.AmmoniaLoad,
    flow: kinds.Flow,
    total_ammonia: kinds.Concentration,
    rate: Callable,
    mixed: bool = True,
) -> kinds.Area:
    """Media surface that holds a level; infinite where no area can do this.

    >>> area_required(1.0, 1.0, 2.0, lambda s: 0.5 * s)
    2.0
    """
    return solve.area(load, flow, total_ammonia, solve.rate(rate), mixed)


@equation(
    latex=r"Q = \frac{P}{S - S_o}, A r\left(S_o\right) = P",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="area times rate at the level above the load",
    basis="derived",
)
def flow_required(
    load: kinds.AmmoniaLoad,
    area: kinds.Area,
    total_ammonia: kinds.Concentration,
    rate: Callable,
    mixed: bool = True,
) -> kinds.Flow:
    """Flow that an area needs to hold a level; infinite where no flow can do this.

    >>> round(flow_required(1.0, 4.0, 1.0, lambda s: 0.5 * s), 6)
    2.0
    """
    return solve.flow(load, area, total_ammonia, solve.rate(rate), mixed)


@definition(
    "M",
    "two equivalents for each mole of nitrogen; 7.05 with growth of cells",
    valid="complete nitrification",
    example="alkalinity_use(1.0) == 7.14",
)
def alkalinity_use(ammonia_load: kinds.AmmoniaLoad) -> kinds.ChemicalDose:
    """Alkalinity (as CaCO3) that the filter takes."""
    return 7.14 * ammonia_load


__all__ = [
    "LIMITED_BY", "alkalinity_use", "area_required", "areal_rate", "cross_section", "damkohler", "derate_for",
    "filter_depth", "floor_of_one", "floors_together", "flow_required", "half_order_rate",
    "hydraulic_load", "implied_rate", "least_flow",
    "limited_by", "linear_rate", "loop_outlet", "media_area", "media_volume", "organic_factor",
    "outlet", "outlet_for", "oxygen_cap", "rate_law", "removal",
    "removal_per_pass", "rule_area", "sphere_specific_surface", "tank_ammonia",
    "vessels_needed", "wall_depth",
]  # fmt: skip
