"""How sure it is."""

from ..spec import Control, Page

PAGE = Page(
    name="spread",
    file="78_how_sure.ipynb",
    title="How sure",
    question="How sure is this design?",
    words=(
        "Every part is built once. Then fish, feed, weather and prices fall out either way.",
        "Each draw is one such year. The chance is the share of draws in which a check stands.",
        "A part that is sized to fit just stands, so in half of the draws it falls short.",
    ),
    lead="Add media until the filter stands in nine draws of ten.",
    short=(
        Control("filter.media_volume", "1 ft³", "200 ft³"),
        Control("air.flow", "0.5 cfm", "400 cfm"),
        Control("pump.flow", "0.5 gpm", "500 gpm"),
        Control("goal.fish", "10", "5000"),
    ),
    more=(
        Control("stock.feed_conversion", "1", "2.5"),
        Control("wastes.hour_factor", "1", "2.5"),
        Control("tank.width", "3 ft", "40 ft", "with a tape"),
        Control("solids.area", "1 ft²", "400 ft²"),
        Control("prices.electricity", "0.05 per kWh", "0.6 per kWh", "on the bill"),
        Control("prices.wage", "0 per h", "40 per h"),
        Control("climate.heated"),
        Control("climate.weather"),
    ),
    system_first=False,
    low_picture=True,
    spread=True,
    figures=("stock.peak_feed", "air.provided", "filter.ammonia", "pump.flow", "standby.minutes_peak"),
    try_this="Hold every part as it is, then take a tenth of the fish away. Which check gains most? Then tick what"
    " you have measured.",
)  # fmt: skip
