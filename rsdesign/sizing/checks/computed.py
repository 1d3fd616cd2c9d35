"""Figures of checks that no stage of the sizing has; ``data/checks.csv`` names them."""

from typing import Any

import numpy as np

from ...equations.air.blowers import altitude_factor
from ...equations.air.devices import choose
from ...equations.pumps import airlift

NEAR = 0.01
"""How far beyond its range a trial still counts: a 6 in pipe is 15.24 cm, 2.64 ft is 80.5 cm."""


def hottest_water(sizing) -> Any:
    """Water of the hottest week [°C], never below that of the growing season."""
    return np.maximum(sizing.air.temperature, sizing.design.site.water_temperature)


def coldest_water(sizing) -> Any:
    """Water of the coldest week in which the fish are fed [°C], never above the growing season's."""
    return np.minimum(sizing.filter.temperature, sizing.design.site.water_temperature)


def ammonia_without_beds(sizing) -> Any:
    """Total ammonia [kg/m³] a day after the plant beds stop."""
    return sizing.filter.ammonia + sizing.water.beds_climb


def ph_apart(sizing) -> Any:
    """Distance of the pH measured from the pH computed."""
    return np.abs(sizing.gas.ph_difference)


def cheapest_machine(sizing) -> Any:
    """The machine, of any kind, that brings the same air for the fewest watts."""
    choice, air = sizing.design.air, sizing.air
    thinner = altitude_factor.__wrapped__(air.pressure, choice.intake_temperature)
    by_need = choice.flow is None and choice.plate_watts is None
    return choose(air.in_all if by_need else air.total, air.discharge_pressure, thinner)


def watts_over_least(sizing) -> Any:
    """Watts over those of the cheapest machine; None where no machine gives that air."""
    best = cheapest_machine(sizing)
    least = best.plate_watts * best.count
    return None if np.any(least <= 0.0) else sizing.air.wire_power / least


def airlifts_like_measured(sizing) -> Any:
    """Whether pipe, depth, air and water of an airlift lie within the published trials."""
    choice, pump = sizing.design.pump, sizing.pump
    studied = (
        (choice.airlift_pipe, airlift.STUDIED_PIPES),
        (sizing.tank.depth, airlift.STUDIED_DEPTHS),
        (choice.airlift_air, airlift.STUDIED_AIR),
        (pump.flow / np.maximum(pump.count, 1.0), airlift.STUDIED_WATER),
    )
    return np.all(
        [(x >= low * (1 - NEAR)) & (x <= high * (1 + NEAR)) for x, (low, high) in studied], axis=0
    )


COMPUTED = {
    function.__name__: function
    for function in (
        hottest_water,
        coldest_water,
        ammonia_without_beds,
        ph_apart,
        watts_over_least,
        airlifts_like_measured,
    )
}
"""The computed figures by the names that the table uses."""
