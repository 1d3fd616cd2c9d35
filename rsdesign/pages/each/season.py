"""A season."""

from ..spec import Control, Page

PAGE = Page(
    name="season",
    file="76_a_season.ipynb",
    title="A season",
    question="Will they be big before the water turns cold?",
    words=(
        "Weather makes the water, water makes appetite, feed makes fish and waste.",
        "Published growth differs up to ten times. Weigh your own fish, then trust the line.",
        "What is fed today reaches the filter today. What dies in the filter shows for weeks.",
    ),
    lead="Move the day of stocking by two months.",
    short=(
        Control("goal.fish", "10", "5000"),
        Control("goal.weight", "0.25 lb", "3 lb"),
        Control("climate.shade", "0 %", "90 %"),
        Control("makeup.drained", "0 gal/day", "500 gal/day", "count the buckets"),
        Control("climate.heated"),
        Control("climate.weather"),
    ),
    more=(
        Control("stock.stocking_weight", "1 g", "200 g"),
        Control("climate.cover"),
        Control("tank.depth", "1 ft", "6 ft", "with a tape"),
        Control("filter.media_volume", "1 ft³", "200 ft³"),
        Control("site.water_temperature", "65 °F", "95 °F"),
        Control("stock.rest", "0 day", "90 day"),
    ),
    system_first=False,
    low_picture=True,
    course="season",
    figures=("stock.cycle", "stock.peak_feed", "stock.harvest", "filter.ammonia", "water.nitrate"),
    parts=("fish", "water"),
    try_this="Stock two months later. Then let chlorine slip in on day 60: for how long is ammonia up? Feed double"
    " for a day, and skip a day.",
)  # fmt: skip
