"""The biofilter: media, what leaves it, and the two refusals."""

from collections.abc import Callable

import numpy as np

from ..arrays import exp, log, most, ratio, root, where
from ..equation import equation
from ..kinds import (
    AmmoniaLoad,
    Area,
    ArealRate,
    AreaPerFeed,
    ChemicalDose,
    Concentration,
    DailyFlow,
    FeedRate,
    Flow,
    Fraction,
    GrainSize,
    HydraulicLoad,
    Index,
    Length,
    MediaVolume,
    OxygenRate,
    Ratio,
    SpecificSurface,
)
from .nitrification import areal_rate, half_order_rate, linear_rate, organic_factor, rate_law

LIMITED_BY = ("area", "both", "flow")
"""What holds a filter back, by the number in ``limited_by``."""

_LOWEST, _HIGHEST = log(1e-9), log(10.0)
_STEPS, _ROUNDS = 48, 22
_GAUSS = tuple(
    (1.0 + float(x), float(w)) for x, w in zip(*np.polynomial.legendre.leggauss(8), strict=True)
)


def _rate(rate):
    """A rate as a function of the level, whether given as one or as a constant."""
    return rate if callable(rate) else lambda level: rate + 0.0 * level


def _along(level, reach, rate, steps, sign):
    """The level after a length of plug flow: Runge-Kutta in the logarithm of the level.

    ``reach`` is area over flow; ``sign`` is -1 downstream and +1 upstream.  Exact for a rate in
    proportion to the level.
    """
    x = log(level)
    h = sign * reach / steps

    def slope(y):
        s = exp(y)
        return rate(s) / s

    for _ in range(steps):
        a = slope(x)
        b = slope(x + 0.5 * h * a)
        c = slope(x + 0.5 * h * b)
        d = slope(x + h * c)
        x = x + h * (a + 2.0 * (b + c) + d) / 6.0
    return exp(x)


def _mixed_outlet(inlet, flow, area, rate):
    def surplus(outlet):
        return area * rate(outlet) - flow * (inlet - outlet)

    return root(surplus, 0.0 * inlet, inlet, _ROUNDS)


def _loop(load, flow, area, rate, exchange, source, mixed):
    """The outlet level at which tank and filter are at rest."""

    def surplus(x):
        outlet = exp(x)
        tank = (load + exchange * source + flow * outlet) / (flow + exchange)
        if mixed:
            return area * rate(outlet) - flow * (tank - outlet)
        return area - flow * _reach(outlet, tank, rate)

    return exp(root(surplus, _LOWEST + 0.0 * load, _HIGHEST + 0.0 * load, _ROUNDS))


def _reach(low, high, rate):
    """Area for each flow that takes plug flow from one level to another: the integral of 1/rate.

    Gauss and Legendre's eight points in the logarithm of the level, in which the integrand is
    nearly straight.
    """
    x, half = log(low), 0.5 * log(high / low)
    total = 0.0
    for at, weight in _GAUSS:
        level = exp(x + half * at)
        total = total + weight * level / most(rate(level), 1e-30)
    return half * total


def _outlet(inlet, flow, area, rate, mixed):
    reach = ratio(area, flow, 1e6)
    if mixed:
        return _mixed_outlet(inlet, 1.0, reach, rate)
    return _along(most(inlet, 1e-30), reach, rate, _STEPS, -1.0)


def _area(load, flow, level, rate, mixed):
    last = level - ratio(load, flow, float("inf"))
    possible = last > level * 1e-12
    outlet = where(possible, last, level)
    if mixed:
        needed = ratio(load, rate(outlet), float("inf"))
    else:
        needed = flow * _reach(outlet, level, rate)
    return where(possible, needed, where(load > 0.0, float("inf"), 0.0))


def _flow(load, area, level, rate, mixed):
    possible = area * rate(level) > load * (1.0 + 1e-12)
    enough = where(possible, area, 0.0 * area)
    if not mixed:
        return where(possible, _plug_flow(load, enough, level, rate), float("inf"))
    # mixed: the outlet whose rate over this area is the load gives the flow at once
    outlet = root(lambda s: enough * rate(s) - load, 0.0 * level, level + 0.0 * load, _ROUNDS)
    return where(possible, ratio(load, level - outlet, float("inf")), float("inf"))


def _plug_flow(load, area, level, rate):
    """Flow at which a plug-flow bed of this area takes the load; in the logarithm of its spare."""

    def surplus(x):
        spare = exp(x)
        flow = (1.0 + spare) * load / level
        return area - flow * _reach(level * spare / (1.0 + spare), level, rate)

    found = root(surplus, -18.0 + 0.0 * load, 18.0 + 0.0 * load, _ROUNDS)
    return (1.0 + exp(found)) * load / level


@equation(
    latex=r"A = \frac{@ammonia_load}{@areal_rate}",
    source="definition",
    valid="any",
    basis="derived",
)
def media_area(ammonia_load: AmmoniaLoad, areal_rate: ArealRate) -> Area:
    """Media surface for a load at a rate.

    Floats or arrays that broadcast.

    >>> round(media_area(0.1017 / 86400, 0.30e-3 / 86400))
    339
    """
    return ratio(ammonia_load, areal_rate, float("inf"))


@equation(
    latex=r"V = \frac{@area}{@specific_surface}",
    source="definition",
    valid="any",
    basis="derived",
)
def media_volume(area: Area, specific_surface: SpecificSurface) -> MediaVolume:
    """Media for a surface.

    Floats or arrays that broadcast.

    >>> media_volume(500.0, 250.0)
    2.0
    """
    return area / specific_surface


@equation(
    latex=r"Q \left(S - S_o\right) = A r\left(S_o\right)",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="any rate that does not fall with the level",
    basis="derived",
)
def outlet(
    inlet: Concentration, flow: Flow, area: Area, rate: Callable, mixed: bool = True
) -> Concentration:
    """Level that leaves a filter: mixed, or in plug flow.

    ``rate``: the areal rate as a function of the level, or a constant.  A filter without area
    lets everything through; without flow, nothing is left.  Floats or arrays that broadcast.

    >>> round(outlet(1e-3, 20.0, 100.0, lambda s: 0.22 * s, mixed=False) * 1e3, 4)
    0.3329
    """
    return _outlet(inlet, flow, area, _rate(rate), mixed)


@equation(
    latex=r"P = A r\left(S_o\right) + q \left(S - S_q\right), Q \left(S - S_o\right) = A "
    r"r\left(S_o\right)",
    source="mass balance of tank and filter, solved together by halving",
    valid="any rate that does not fall with the level",
    basis="derived",
)
def loop_outlet(
    load: AmmoniaLoad,
    flow: Flow,
    area: Area,
    rate: Callable,
    exchange: DailyFlow,
    source: Concentration,
    mixed: bool = True,
) -> Concentration:
    """Level that leaves the filter when tank and filter are at rest.

    Floats or arrays that broadcast.

    >>> round(loop_outlet(1.0, 2.0, 4.0, lambda s: 0.5 * s, 0.0, 0.0), 6)
    0.5
    """
    return _loop(load, flow, area, _rate(rate), exchange, source, mixed)


@equation(
    latex=r"S = \frac{@load + @exchange \cdot @source + @flow \cdot @outlet}{@flow + "
    r"@exchange}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def tank_ammonia(
    load: AmmoniaLoad, flow: Flow, outlet: Concentration, exchange: DailyFlow, source: Concentration
) -> Concentration:
    """Level in a mixed tank that a filter feeds.

    Floats or arrays that broadcast.

    >>> tank_ammonia(1.0, 2.0, 0.5, 0.0, 0.0)
    1.0
    """
    return (load + exchange * source + flow * outlet) / (flow + exchange)


@equation(
    latex=r"P = @flow \cdot \left(@inlet - @outlet\right)",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def removal(flow: Flow, inlet: Concentration, outlet: Concentration) -> AmmoniaLoad:
    """What a filter takes out.

    Floats or arrays that broadcast.

    >>> removal(2.0, 1.0, 0.5)
    1.0
    """
    return flow * (inlet - outlet)


@equation(
    latex=r"E = 1 - \frac{@outlet}{@inlet}",
    source="definition",
    valid="any",
    basis="derived",
)
def removal_per_pass(inlet: Concentration, outlet: Concentration) -> Fraction:
    """Share taken out in one pass: a result.

    Floats or arrays that broadcast.

    >>> removal_per_pass(1.0, 0.25)
    0.75
    """
    return 1.0 - ratio(outlet, inlet, 1.0)


@equation(
    latex=r"Da = \frac{@area \cdot @rate_at_tank}{@flow \cdot @total_ammonia}",
    source="Damkohler number, chemical reactor textbooks",
    valid="any",
    basis="derived",
)
def damkohler(
    area: Area, rate_at_tank: ArealRate, flow: Flow, total_ammonia: Concentration
) -> Ratio:
    """What the media could take over what the flow brings.

    Floats or arrays that broadcast.

    >>> damkohler(2.0, 0.5, 2.0, 1.0)
    0.5
    """
    return ratio(area * rate_at_tank, flow * total_ammonia)


@equation(
    latex=r"i = \left[Da \ge 0.3\right] + \left[Da > 3\right], Da = @damkohler",
    source="a third and three times the balance",
    valid="any",
    basis="common practice",
)
def limited_by(damkohler: Ratio) -> Index:
    """What holds the filter back: 0 area, 1 both, 2 flow.

    Floats or arrays that broadcast.

    >>> limited_by(0.1), limited_by(1.0), limited_by(9.0)
    (0.0, 1.0, 2.0)
    """
    return 1.0 * (damkohler >= 0.3) + 1.0 * (damkohler > 3.0)


@equation(
    latex=r"S_o = \max\left(0, @total_ammonia - \frac{@load}{@flow}\right)",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def outlet_for(load: AmmoniaLoad, flow: Flow, total_ammonia: Concentration) -> Concentration:
    """Level that must leave the filter to hold a level in the tank.

    Floats or arrays that broadcast.

    >>> outlet_for(0.5, 1.0, 1.0)
    0.5
    """
    return most(0.0, total_ammonia - ratio(load, flow, float("inf")))


@equation(
    latex=r"Q = \frac{@load}{@total_ammonia}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def least_flow(load: AmmoniaLoad, total_ammonia: Concentration) -> Flow:
    """Flow below which no filter can hold the level.

    Floats or arrays that broadcast.

    >>> least_flow(2.0, 0.5)
    4.0
    """
    return load / total_ammonia


@equation(
    latex=r"A = \frac{P}{r\left(S_o\right)}, A = Q \int_{S_o}^{S} \frac{dS}{r}",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="flow above load over level",
    basis="derived",
)
def area_required(
    load: AmmoniaLoad, flow: Flow, total_ammonia: Concentration, rate: Callable, mixed: bool = True
) -> Area:
    """Media surface that holds a level; infinite where no area can do this.

    Floats or arrays that broadcast.

    >>> area_required(1.0, 1.0, 2.0, lambda s: 0.5 * s)
    2.0
    """
    return _area(load, flow, total_ammonia, _rate(rate), mixed)


@equation(
    latex=r"Q = \frac{P}{S - S_o}, A r\left(S_o\right) = P",
    source="mass balance of a mixed bed, or its integral along a plug-flow bed",
    valid="area times rate at the level above the load",
    basis="derived",
)
def flow_required(
    load: AmmoniaLoad, area: Area, total_ammonia: Concentration, rate: Callable, mixed: bool = True
) -> Flow:
    """Flow that an area needs to hold a level; infinite where no flow can do this.

    Floats or arrays that broadcast.

    >>> round(flow_required(1.0, 4.0, 1.0, lambda s: 0.5 * s), 6)
    2.0
    """
    return _flow(load, area, total_ammonia, _rate(rate), mixed)


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
def rule_area(feed: FeedRate, each: AreaPerFeed = 5308469.2) -> Area:
    """Media surface by the old rule: 300 ft² for each pound of feed a day.

    Floats or arrays that broadcast.

    >>> round(rule_area(3.45 / 86400))
    212
    """
    return feed * each


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
    latex=r"R = 4.57 \cdot @ammonia_load",
    source="3.43 to nitrite and 1.14 to nitrate, without growth of cells; waste-water text, "
    "equation 10.17",
    valid="complete nitrification",
    basis="derived",
)
def oxygen_use(ammonia_load: AmmoniaLoad) -> OxygenRate:
    """Oxygen that the filter bacteria use.

    Floats or arrays that broadcast.

    >>> oxygen_use(1.0)
    4.57
    """
    return 4.57 * ammonia_load


@equation(
    latex=r"M = 7.14 \cdot @ammonia_load",
    source="two equivalents for each mole of nitrogen; 7.05 with growth of cells",
    valid="complete nitrification",
    basis="derived",
)
def alkalinity_use(ammonia_load: AmmoniaLoad) -> ChemicalDose:
    """Alkalinity (as CaCO3) that the filter takes.

    Floats or arrays that broadcast.

    >>> alkalinity_use(1.0)
    7.14
    """
    return 7.14 * ammonia_load


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


__all__ = [
    "LIMITED_BY",
    "alkalinity_use",
    "area_required",
    "areal_rate",
    "cross_section",
    "damkohler",
    "filter_depth",
    "flow_required",
    "half_order_rate",
    "implied_rate",
    "least_flow",
    "limited_by",
    "linear_rate",
    "loop_outlet",
    "media_area",
    "media_volume",
    "organic_factor",
    "outlet",
    "outlet_for",
    "oxygen_cap",
    "oxygen_use",
    "rate_law",
    "removal",
    "removal_per_pass",
    "rule_area",
    "sphere_specific_surface",
    "tank_ammonia",
]
