"""Pump, pipe, drain and overflow."""

from ...core.choices import choice
from ...core.kinds import (
    AirFlow,
    Count,
    Flow,
    Fraction,
    Head,
    Length,
    PipeDiameter,
    Ratio,
    Roughness,
    SmallVolume,
    Time,
    Velocity,
)
from .section import section


@section()
class Pump:
    """Moving the water, and bringing it back."""

    kind: str = choice("pump.kind")
    airlift_pipe: PipeDiameter = choice("pump.airlift_pipe")
    airlift_air: AirFlow = choice("pump.airlift_air")
    flow: Flow | None = choice("pump.flow")
    none: bool = choice("pump.none")
    bucket: SmallVolume = choice("pump.bucket")
    bucket_time: Time | None = choice("pump.bucket_time")
    model: str | None = choice("pump.model")
    count: Count | None = choice("pump.count")
    lift: Head = choice("pump.lift")
    length: Length = choice("pump.length")
    elbows: Count = choice("pump.elbows")
    pipe: str | None = choice("pump.pipe")
    roughness: Roughness = choice("pump.roughness")
    efficiency: Fraction = choice("pump.efficiency")
    velocity: Velocity = choice("pump.velocity")
    hazen_williams: Ratio = choice("pump.hazen_williams")
    drain_velocity: Velocity = choice("pump.drain_velocity")
    drain_pipe: str | None = choice("pump.drain_pipe")
    drain_length: Length = choice("pump.drain_length")
    drain_fall: Head | None = choice("pump.drain_fall")
    standpipe: str | None = choice("pump.standpipe")
    standpipe_head: Head = choice("pump.standpipe_head")
    sump_spare: SmallVolume | None = choice("pump.sump_spare")
    low_level_stop: bool = choice("pump.low_level_stop")
    siphon_break: bool = choice("pump.siphon_break")
