"""Definitions for drains, overflows and what runs down."""

from math import pi

from ...core import kinds
from ...core.arrays import ceil, most, power, sqrt
from ...core.equation import definition


@definition("K", example="drain_losses(0.5, 0.75) == 2.0")
def drain_losses(
    entrance: kinds.Ratio, elbow: kinds.Ratio, elbows: kinds.Count = 2.0
) -> kinds.Ratio:
    """Loss coefficients of a drain: the entrance and two elbows."""
    return entrance + elbows * elbow


@definition(
    "h",
    "energy equation; standard gravity, CGPM 1901",
    example="round(drain_head(0.1, 1.0), 4) == 0.151",
)
def drain_head(friction: kinds.Head, velocity: kinds.Velocity) -> kinds.Head:
    """Fall that a drain uses: friction, and the speed at its end."""
    return friction + velocity * velocity / (2.0 * 9.80665)


@definition(
    "h_f",
    "whole inches, at least six",
    basis="common practice",
    example="round(fall_to_build(0.21), 4) == 0.2286; fall_to_build(0.05) == 0.1524",
)
def fall_to_build(head: kinds.Head) -> kinds.Head:
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
    flow: kinds.Flow,
    head: kinds.Head,
    open_share: kinds.Fraction = 0.5,
    weir_coefficient: kinds.Ratio = 1.84,
    orifice_coefficient: kinds.Ratio = 0.6,
) -> kinds.PipeDiameter:
    """Standpipe that takes the flow with its screen partly blocked, as a weir and as an opening."""
    return most(
        flow / (open_share * weir_coefficient * pi * power(head, 1.5)),
        sqrt(4.0 * flow / (open_share * orifice_coefficient * pi * sqrt(2.0 * 9.80665 * head))),
    )


@definition("V", "conservation of mass", example="drain_down(0.05, 10.0, 0.05, 2.0) == 1.05")
def drain_down(
    pipe_volume: kinds.SmallVolume, floor: kinds.Area, head: kinds.Head, tanks: kinds.Count
) -> kinds.SmallVolume:
    """Water that runs to the sump when the pump stops: from the pipe and above the overflow."""
    return pipe_volume + floor * head * tanks


@definition("n", valid="equal standpipes", example="standpipes_needed(0.5, 0.2) == 3.0")
def standpipes_needed(flow: kinds.Flow, each: kinds.Flow) -> kinds.Count:
    """Standpipes for a flow when one takes so much."""
    return most(1.0, ceil(flow / each - 1e-9))
