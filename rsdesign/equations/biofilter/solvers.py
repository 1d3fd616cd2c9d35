"""Root searches and integrals behind the biofilter relations; plain numbers, no units."""

import numpy as np

from ...core.arrays import exp, log, most, ratio, root, where

_LOWEST, _HIGHEST = log(1e-9), log(10.0)
_STEPS, _ROUNDS = 48, 22
GAUSS = tuple(
    (1.0 + float(x), float(w)) for x, w in zip(*np.polynomial.legendre.leggauss(8), strict=True)
)


def rate(rate):
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


def loop(load, flow, area, rate, exchange, source, mixed):
    """The outlet level of tank and filter in steady state; none where nothing comes in."""

    def surplus(x):
        outlet = exp(x)
        tank = (load + exchange * source + flow * outlet) / (flow + exchange)
        if mixed:
            return area * rate(outlet) - flow * (tank - outlet)
        return area - flow * _reach(outlet, tank, rate)

    level = exp(root(surplus, _LOWEST + 0.0 * load, _HIGHEST + 0.0 * load, _ROUNDS))
    return where(load + exchange * source > 0.0, level, 0.0 * level)


def _reach(low, high, rate):
    """Area for each flow that takes plug flow from one level to another: the integral of 1/rate.

    Gauss and Legendre's eight points in the logarithm of the level, in which the integrand is
    nearly straight.
    """
    x, half = log(low), 0.5 * log(high / low)
    total = 0.0
    for at, weight in GAUSS:
        level = exp(x + half * at)
        total = total + weight * level / most(rate(level), 1e-30)
    return half * total


def outlet(inlet, flow, area, rate, mixed):
    """The level that leaves a filter, mixed or in plug flow."""
    reach = ratio(area, flow, 1e6)
    if mixed:
        return _mixed_outlet(inlet, 1.0, reach, rate)
    return _along(most(inlet, 1e-30), reach, rate, _STEPS, -1.0)


def area(load, flow, level, rate, mixed):
    """Media surface that holds a level; infinite where the flow cannot carry the load."""
    last = level - ratio(load, flow, float("inf"))
    possible = last > level * 1e-12
    outlet = where(possible, last, level)
    if mixed:
        needed = ratio(load, rate(outlet), float("inf"))
    else:
        needed = flow * _reach(outlet, level, rate)
    return where(possible, needed, where(load > 0.0, float("inf"), 0.0))


def flow(load, area, level, rate, mixed):
    """Flow that holds a level with a media surface; infinite where the surface is too small."""
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
