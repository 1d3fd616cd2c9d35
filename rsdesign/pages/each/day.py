"""A day of feeding."""

from ..spec import Control, Page

PAGE = Page(
    name="day",
    file="74_a_day.ipynb",
    title="A day of feeding",
    question="When should they eat, and which hour is the worst?",
    words=(
        "Fish breathe hardest two to three hours after a meal. That hour decides, not the mean of the day.",
        "Ammonia comes later, and most of it is harmful when the pH is high.",
        "Many small meals are kinder to the air than one big one.",
    ),
    lead="Pick other meals. See the lowest hour.",
    short=(
        Control("goal.fish", "10", "5000"),
        Control("air.flow", "0.5 cfm", "400 cfm"),
        Control("tank.depth", "1 ft", "6 ft", "with a tape"),
        Control("site.warmest_water", "70 °F", "100 °F", "with a thermometer"),
    ),
    more=(
        Control("keep.oxygen", "3 mg/L", "8 mg/L"),
        Control("safety.resting", "0.4", "1"),
        Control("wastes.hour_factor", "1.1", "2"),
        Control("filter.media_volume", "1 ft³", "200 ft³"),
    ),
    system_first=False,
    low_picture=True,
    course="day",
    figures=("air.required", "air.provided", "air.peak_oxygen", "standby.minutes_peak", "gas.ph",
             "filter.unionized"),
    parts=("air", "carbon dioxide"),
    try_this="Give one big meal, then three. Draw the moment through the day: when would an outage leave least"
    " time? Then feed at night.",
)  # fmt: skip
