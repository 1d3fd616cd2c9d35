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
from .section import RULE, names, section


@section()
class Pump:
    """Moving the water, and bringing it back."""

    kind: str = choice(
        "pump",
        label="What moves the water",
        help="An airlift moves water with air; it suits lifts below a foot.",
        source="the user",
        options=("pump", "airlift"),
    )
    airlift_pipe: PipeDiameter = choice(
        "3 in", "1 in", "8 in", label="Airlift pipe", source="2 to 6 in, common practice"
    )
    airlift_air: AirFlow = choice(
        "2.5 cfm", "0.1 cfm", "60 cfm", label="Air to each airlift", source="Wurts et al. 1994"
    )
    flow: Flow | None = choice(
        None,
        "0.1 gpm",
        "100000 gpm",
        label="Flow you measured",
        help="Measured at the height where the pump will work.",
        source="bucket and clock",
    )
    none: bool = choice(
        False,
        label="No pump yet",
        help="Then the parts you own carry no fish; the sizing takes a pump for the plan.",
        source="the user",
        sweep=False,
    )
    bucket: SmallVolume = choice("5 gal", "0.1 gal", "500 gal", label="Bucket", source="the bucket")
    bucket_time: Time | None = choice(
        None,
        "1 s",
        "3600 s",
        label="Seconds to fill the bucket",
        help="Hold the hose at the height where it will work.",
        source="clock",
    )
    model: str | None = choice(
        None, label="Size of pump", source="the plate", options=names("pumps")
    )
    count: Count | None = choice(
        None,
        1.0,
        100.0,
        label="Pumps running",
        help="Left open, as many of this size as the flow needs.",
        sweep=False,
        source="the user",
    )
    lift: Head = choice("3 ft", "0 ft", "60 ft", label="Lift", source="level and tape")
    length: Length = choice(
        "50 ft", "1 ft", "5000 ft", label="Pipe from pump to tank", source="tape measure"
    )
    elbows: Count = choice(6.0, 0.0, 200.0, label="Elbows", sweep=False, source="counted")
    pipe: str | None = choice(
        None, label="Pressure pipe", source="the pipe", options=names("pipes")
    )
    roughness: Roughness = choice(
        "0.1 mm",
        "0 mm",
        "3 mm",
        label="Roughness of pipe in use",
        source="0.05 to 0.3 mm with slime, common practice",
    )
    efficiency: Fraction = choice(
        0.35,
        0.05,
        0.85,
        label="Water power over power at the wall",
        source="0.2 to 0.4 for small pumps, common practice",
    )
    velocity: Velocity = choice(
        "1 m/s",
        "0.3 m/s",
        "3 m/s",
        label="Most speed in the pressure pipe",
        source="1 to 2 m/s, common practice",
    )
    hazen_williams: Ratio = choice(
        130.0, 60.0, 160.0, label="Hazen-Williams C of pipe in use", source=RULE
    )
    drain_velocity: Velocity = choice(
        "1 m/s",
        "0.3 m/s",
        "3 m/s",
        label="Most speed in the drain",
        help="A little faster than the 2 ft/s that keeps waste moving.",
        source=RULE,
    )
    drain_pipe: str | None = choice(
        None, label="Drain pipe", source="the pipe", options=names("pipes")
    )
    drain_length: Length = choice(
        "20 ft", "1 ft", "2000 ft", label="Drain to the settler", source="tape measure"
    )
    drain_fall: Head | None = choice(
        None,
        "0.5 in",
        "20 ft",
        label="Fall from tank to settler",
        help="Left open, as much as the drain needs, in whole inches from 6 up.",
        source="level",
    )
    standpipe: str | None = choice(
        None, label="Overflow standpipe", source="the pipe", options=names("pipes")
    )
    standpipe_head: Head = choice(
        "2 in",
        "0.2 in",
        "12 in",
        label="Water over the standpipe",
        help="At full flow with the screen half blocked.",
        source=RULE,
    )
    sump_spare: SmallVolume | None = choice(
        None, "0 gal", "100000 gal", label="Spare room in the sump", source="tape measure"
    )
    low_level_stop: bool = choice(True, label="Pump stops at low water", source=RULE, sweep=False)
    siphon_break: bool = choice(True, label="Hole that breaks a siphon", source=RULE, sweep=False)
