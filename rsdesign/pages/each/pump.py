"""Pump and pipe."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="pump",
    file="50_pump_pipe.ipynb",
    title="Pump and pipe",
    question="What does lift cost you?",
    words=(
        "You pay for lift day and night.",
        "Wide pipe costs once; narrow pipe costs each month.",
    ),
    lead="Raise the lift. See the watts.",
    headline=(
        ("pump.flow", "Flow", "that you get"),
        ("flow.required", "Flow needed", "they need"),
        ("pump.head", "Total head", "lift and friction"),
        ("pump.wire_power", "Power for flow", "day and night"),
        ("pump.velocity", "Speed", "in the pipe"),
    ),
    guess=Guess("How many watts will the pump draw, by its plate?", "pump.plate_watts"),
    short=(
        Control("pump.lift", "0 ft", "15 ft", "with a tape, water to water"),
        Control("pump.length", "3 ft", "200 ft"),
        Control("pump.elbows", "0", "20"),
        Control("pump.pipe"),
        Control("pump.kind"),
    ),
    more=(
        Control("pump.model"),
        Control("pump.count", "1", "10"),
        Control("pump.bucket_time", "1 s", "300 s", "with a watch"),
        Control("pump.flow", "0.5 gpm", "500 gpm"),
        Control("pump.efficiency", "10 %", "70 %"),
        Control("pump.velocity", "1 ft/s", "8 ft/s"),
        Control("pump.drain_pipe"),
        Control("pump.drain_fall", "0.05 ft", "5 ft"),
        Control("pump.drain_length", "3 ft", "100 ft"),
        Control("pump.standpipe"),
        Control("pump.sump_spare", "0 gal", "100 gal"),
        Control("pump.low_level_stop"),
        Control("pump.siphon_break"),
        Control("filter.removal", "10 %", "80 %"),
    ),
    picture="pump.levels",
    charts=("pump.curves",),
    figures=(
        "flow.required", "flow.for_ammonia", "flow.for_oxygen", "flow.for_fines", "pump.model",
        "pump.flow", "pump.count", "pump.head", "pump.friction", "pump.pipe",
        "pump.velocity", "pump.plate_watts", "pump.wire_power", "pump.drain_pipe", "pump.drains",
        "pump.drain_fall", "pump.drain_velocity",
        "pump.standpipe", "pump.overflow", "pump.drain_down",
    ),
    parts=("pump", "drain", "overflow"),
    card="pump",
    rule="Swap the water of the tank once an hour. The mass balance finds what ammonia, oxygen"
    " and fine waste need, which may be more or less.",
    tradeoff=("pump.lift", "pump.plate_watts", "pump.flow"),
    try_this="Raise the tank {2 ft|0.6 m}. What does that cost in watts, day and night?",
)  # fmt: skip
