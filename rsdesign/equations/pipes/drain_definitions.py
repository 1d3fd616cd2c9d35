"""Definitions for drains, overflows and what runs down."""

from math import pi

from ...core.arrays import ceil, most, power, sqrt
from ...core.equation import definition
from ...core.kinds import (
    Area,
    Count,
    Flow,
    Fraction,
    Head,
    PipeDiameter,
    Ratio,
    SmallVolume,
    Velocity,
)


@definition("K", example="drain_losses(0.5, 0.75) == 2.0")
def drain_losses(entrance: Ratio, elbow: Ratio, elbows: Count = 2.0) -> Ratio:
    """Loss coefficients of a drain: the entrance and two elbows."""
    return entrance + elbows * elbow


@definition(
    "h",
    "energy equation; standard gravity, CGPM 1901",
    example="round(drain_head(0.1, 1.0), 4) == 0.151",
)
def drain_head(friction: Head, velocity: Velocity) -> Head:
    """Fall that a drain uses: friction, and the speed at its end."""
    return friction + velocity * velocity / (2.0 * 9.80665)


@definition(
    "h_f",
    "whole inches, at least six",
    basis="common practice",
    example="round(fall_to_build(0.21), 4) == 0.2286; fall_to_build(0.05) == 0.1524",
)
def fall_to_build(head: Head) -> Head:
    """Fall to build from tank to settler for a head that the drain uses."""
    return most(0.1524, 0.0254 * ceil(head / 0.0254 - 1e-9))


@definition(
    "D",
    "weir coefficient from memory, orifice coefficient 0.6 as in hydraulics textbooks",
    valid="low heads",
    basis="from memory",
    example="round(standpipe_needed(0.002, 0.05), 3) == 0.093",
)
def standpipe_needed(
    flow: Flow,
    head: Head,
    open_share: Fraction = 0.5,
    weir_coefficient: Ratio = 1.84,
    orifice_coefficient: Ratio = 0.6,
) -> PipeDiameter:
    """Standpipe that takes the flow with its screen partly blocked, as a weir and as an opening."""
    return most(
        flow / (open_share * weir_coefficient * pi * power(head, 1.5)),
        sqrt(4.0 * flow / (open_share * orifice_coefficient * pi * sqrt(2.0 * 9.80665 * head))),
    )


@definition("V", "conservation of mass", example="drain_down(0.05, 10.0, 0.05, 2.0) == 1.05")
def drain_down(pipe_volume: SmallVolume, floor: Area, head: Head, tanks: Count) -> SmallVolume:
    """Water that runs to the sump when the pump stops: from the pipe and above the overflow."""
    return pipe_volume + floor * head * tanks


@definition("n", valid="equal standpipes", example="standpipes_needed(0.5, 0.2) == 3.0")
def standpipes_needed(flow: Flow, each: Flow) -> Count:
    """Standpipes for a flow when one takes so much."""
    return most(1.0, ceil(flow / each - 1e-9))
