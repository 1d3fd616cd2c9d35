"""Heat and water."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="heat",
    file="54_heat_water.ipynb",
    title="Heat and water",
    question="How hot at 5 pm in July, and how many buckets of water a day?",
    words=(
        "Water leaves, salt stays. Deep water warms slowly.",
        "Shade saves water twice: less heat, and less lost to the air.",
    ),
    guess=Guess("How much water does the tank lose to the air on the hot day?", "heat.evaporation"),
    short=(
        Control("climate.weather"),
        Control("climate.cover"),
        Control("climate.shade", "0 %", "90 %"),
        Control("climate.insulation"),
        Control("makeup.drained", "0 gal/day", "500 gal/day", "count the buckets"),
    ),
    more=(
        Control("climate.heated"),
        Control("climate.shelter"),
        Control("climate.cover_hours"),
        Control("climate.wall_board", "0.5 in", "4 in"),
        Control("tank.depth", "1 ft", "6 ft", "with a tape"),
        Control("site.water_temperature", "65 °F", "95 °F"),
        Control("source.disinfectant"),
        Control("source.residual", "0 mg/L", "4 mg/L", "ask the supplier"),
        Control("makeup.treatment"),
        Control("makeup.base"),
        Control("makeup.splash", "0 %/day", "3 %/day"),
        Control("source.alkalinity", "0 mg/L", "500 mg/L", "water test"),
        Control("source.hardness", "0 mg/L", "1000 mg/L", "water test"),
        Control("source.chloride", "0 mg/L", "1000 mg/L", "water test"),
        Control("source.nitrate", "0 mg/L", "50 mg/L", "water test"),
        Control("source.iron", "0 mg/L", "10 mg/L", "water test"),
        Control("source.carbon_dioxide", "0 mg/L", "100 mg/L", "water test at the well head"),
        Control("keep.nitrate", "20 mg/L", "400 mg/L"),
        Control("makeup.crop_rate", "50 lb/(acre year)", "300 lb/(acre year)"),
    ),
    picture="heat.flows",
    charts=("heat.day_chart", "heat.year_chart", "heat.salt_chart"),
    figures=(
        "filter.ammonia", "filter.unionized", "gas.ph", "water.exchange", "water.daily_share",
        "water.nitrate", "water.alkalinity_in", "water.bicarbonate_book", "water.bicarbonate_net",
    ),
    parts=("fish", "water"),
    try_this="Put the lid on at night only, then by day only. What does the hottest hour do?",
    blocks=("heat_and_water",),
    tables=True,
)  # fmt: skip
