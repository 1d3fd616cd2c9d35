"""Starting the filter."""

from ..spec import Control, Page

PAGE = Page(
    name="startup",
    file="72_starting_the_filter.ipynb",
    title="Starting the filter",
    question="When may the fish come, and how much may they eat?",
    words=(
        "A new filter is empty. Its bacteria must grow, and that takes weeks.",
        "First ammonia rises, then nitrite. When both are gone a day after a dose, the filter is ripe"
        " for that dose, not for more.",
        "Nobody can name the day. Plan with the late end of the band, and let your test kit decide.",
    ),
    lead="Bring in old media.",
    short=(
        Control("goal.fish", "10", "5000"),
        Control("filter.media_volume", "1 ft³", "200 ft³"),
        Control("site.coldest_feeding_water", "60 °F", "90 °F", "with a thermometer"),
        Control("source.chloride", "0 mg/L", "500 mg/L", "water test"),
    ),
    more=(
        Control("air.flow", "0.5 cfm", "400 cfm"),
        Control("keep.alkalinity", "50 mg/L", "250 mg/L"),
        Control("source.alkalinity", "0 mg/L", "500 mg/L", "water test"),
        Control("keep.total_ammonia", "0.5 mg/L", "4 mg/L"),
    ),
    system_first=False,
    low_picture=True,
    course="startup",
    figures=(
        "filter.ammonia",
        "filter.temperature",
        "filter.area",
        "stock.peak_feed",
        "tank.volume",
    ),
    parts=("filter",),
    try_this="Bring in a bag of ripe media. How many weeks does it save? Then dose ten times as much: how many days?"
    " Give no baking soda. What stops the bacteria?",
)
