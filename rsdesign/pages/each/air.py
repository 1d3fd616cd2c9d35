"""Oxygen and air."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="air",
    file="40_oxygen_air.ipynb",
    title="Oxygen and air",
    question="Will they breathe at five in the morning in July?",
    words=(
        "Warm water holds little oxygen. The closer to full, the harder air works. That is why the"
        " last bit costs most.",
        "Small air pumps press harder; blowers give much more air at low pressure.",
    ),
    lead="Keep more oxygen. See what the last bit costs.",
    headline=(
        ("loads.peak_oxygen", "Oxygen used", "in the busiest hour"),
        ("air.required", "Air needed", "they need"),
        ("air.provided", "Air you have", "blown in"),
        ("air.wire_power", "Power for air", "day and night"),
        ("air.peak_oxygen", "Oxygen held", "in the busiest hour"),
    ),
    guess=Guess("How much air must go in?", "air.required"),
    short=(
        Control("keep.oxygen", "3 mg/L", "7 mg/L"),
        Control("site.warmest_water", "70 °F", "100 °F", "with a thermometer"),
        Control("air.stone_depth", "1 ft", "6 ft"),
        Control("air.machine"),
        Control("air.diffuser"),
    ),
    more=(
        Control("air.device"),
        Control("air.count", "0", "12"),
        Control("air.flow", "0.5 cfm", "400 cfm"),
        Control("air.plate_watts", "5 W", "8000 W", "on the plate"),
        Control("air.efficiency", "0.3 %/ft", "3 %/ft"),
        Control("site.elevation", "0 ft", "8000 ft"),
        Control("wastes.oxygen_per_feed", "0.3", "0.65"),
        Control("wastes.hour_factor", "1", "2.5"),
        Control("keep.carbon_dioxide", "5 mg/L", "40 mg/L"),
        Control("air.line_length", "5 ft", "300 ft"),
        Control("air.line_diameter", "0.25 in", "4 in"),
        Control("safety.two_circuits"),
    ),
    picture="air.picture",
    charts=("air.oxygen_chart",),
    figures=(
        "loads.fish_oxygen", "loads.nitrifier_oxygen", "loads.heterotroph_oxygen",
        "loads.peak_oxygen", "air.saturation", "air.required", "air.discharge_pressure",
        "air.device", "air.count", "air.provided", "air.wire_power", "air.peak_oxygen",
        "air.largest_off", "gas.carbon_dioxide", "gas.ph",
    ),
    parts=("air", "carbon dioxide", "power"),
    card="air",
    rule="One {pound|kilogram} of oxygen for each {pound|kilogram} of feed, and as much air as the"
    " plate says. In warm fish water, high up, it gives a fifth of that.",
    tradeoff=("keep.oxygen", "air.required", "air.wire_power"),
    try_this="Keep 6 instead of 5. How many more watts?",
    blocks=("hottest", "air_kinds"),
)  # fmt: skip
