"""The second door: what can the tank and pump that I own feed?"""

from ..spec import Control, Page

PAGE = Page(
    name="have",
    file="05_i_have_a_tank.ipynb",
    title="I have a tank",
    question="What can my tank feed?",
    words=(
        "Tell us what you own. Measure what you can. Where you do not know, say so.",
        "Tank, pump, filter and air must all be there. The one that carries the fewest fish sets what"
        " you can keep. Spend money there first.",
    ),
    lead="Measure it. See what gives out first.",
    headline=(
        ("tank.volume", "Water in the tank", "of water"),
        ("pump.flow", "Flow", "through the pump"),
        ("air.provided", "Air you have", "blown in"),
        ("filter.area", "Surface you have", "for the bacteria"),
    ),
    short=(
        Control("tank.width", "3 ft", "30 ft", "with a tape, wall to wall"),
        Control("tank.depth", "1 ft", "6 ft", "with a stick, to the water line"),
        Control("filter.media_volume", "0.5 ft³", "60 ft³",
                "in buckets; {5 gallons are two thirds of a cubic foot|a bucket holds about 19 liters}", "0 ft³"),
        Control("air.plate_watts", "1 W", "2000 W", "watts on the plate of the air pump", "0 W"),
        Control("pump.bucket_time", "1 s", "300 s",
                "with a watch", "none"),
        Control("site.warmest_water", "70 °F", "100 °F", "with a thermometer, on the hottest day"),
        Control("source.disinfectant", measured="ask the water supplier; a private well has none"),
    ),
    more=(
        Control("filter.medium"),
        Control("filter.type"),
        Control("pump.bucket", "1 gal", "20 gal"),
        Control("pump.flow", "0.5 gpm", "100 gpm"),
        Control("air.flow", "0.5 cfm", "100 cfm", "on the plate"),
        Control("air.stone_depth", "1 ft", "6 ft"),
        Control("goal.weight", "0.5 lb", "3 lb"),
        Control("stock.protein", "25 %", "45 %", "on the bag"),
    ),
    figures=("tank.volume", "pump.flow", "air.provided", "filter.area"),
    parts=("tank", "pump", "filter", "air", "water"),
    try_this="Put in twice the media. What gives out next?",
    blocks=("have_answer",),
    answer=True,
    owned=True,
)  # fmt: skip
