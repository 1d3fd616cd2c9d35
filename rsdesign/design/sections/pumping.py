"""Pump, pipe, drain and overflow."""

from ...core import kinds
from ...core.choices import choice
from .section import section


@section()
class Pump:
    """Moving the water, and bringing it back."""

    kind: str = choice("pump.kind")
    airlift_pipe: kinds.PipeDiameter = choice("pump.airlift_pipe")
    airlift_air: kinds.AirFlow = choice("pump.airlift_air")
    flow: kinds.Flow | None = choice("pump.flow")
    none: bool = choice("pump.none")
    bucket: kinds.SmallVolume = choice("pump.bucket")
    bucket_time: kinds.Time | None = choice("pump.bucket_time")
    model: str | None = choice("pump.model")
    count: kinds.Count | None = choice("pump.count")
    lift: kinds.Head = choice("pump.lift")
    length: kinds.Length = choice("pump.length")
    elbows: kinds.Count = choice("pump.elbows")
    pipe: str | None = choice("pump.pipe")
    roughness: kinds.Roughness = choice("pump.roughness")
    efficiency: kinds.Fraction = choice("pump.efficiency")
    velocity: kinds.Velocity = choice("pump.velocity")
    hazen_williams: kinds.Ratio = choice("pump.hazen_williams")
    drain_velocity: kinds.Velocity = choice("pump.drain_velocity")
    drain_pipe: str | None = choice("pump.drain_pipe")
    drain_length: kinds.Length = choice("pump.drain_length")
    drain_fall: kinds.Head | None = choice("pump.drain_fall")
    standpipe: str | None = choice("pump.standpipe")
    standpipe_head: kinds.Head = choice("pump.standpipe_head")
    sump_spare: kinds.SmallVolume | None = choice("pump.sump_spare")
    low_level_stop: bool = choice("pump.low_level_stop")
    siphon_break: bool = choice("pump.siphon_break")
