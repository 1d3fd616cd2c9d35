"""The whole design: every part's balance, what limits, and designs side by side."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="whole",
    file="70_whole_design.ipynb",
    title="Whole design",
    question="What gives out first?",
    words=(
        "A system is as strong as its weakest part. Drag the fish up and see which part turns"
        " short.",
        "Mend that one first. Then look for the next.",
    ),
    lead="Drag the fish up. See which part turns short.",
    headline=(
        ("stock.peak_feed", "Feed, biggest day", "sets the need"),
        ("stock.harvest", "If warm all year", "fish to eat or sell"),
        ("standby.minutes_peak", "Minutes to act", "when the air stops"),
        ("filter.ammonia", "Ammonia, tank", "in the tank"),
        ("standby.daily_energy", "Energy a day", "air and pump"),
    ),
    guess=Guess("How many minutes do you have when the air stops?", "standby.minutes_peak"),
    short=(
        Control("goal.fish", "10", "5000"),
        Control("tank.width", "3 ft", "30 ft"),
        Control("filter.media_volume", "1 ft³", "200 ft³"),
        Control("air.flow", "0.5 cfm", "400 cfm"),
        Control("pump.flow", "0.5 gpm", "500 gpm"),
    ),
    more=(
        Control("goal.weight", "0.5 lb", "3 lb"),
        Control("site.warmest_water", "70 °F", "100 °F"),
        Control("keep.nitrate", "30 mg/L", "400 mg/L"),
        Control("safety.backup"),
        Control("safety.two_circuits"),
    ),
    hold="today",
    ladder=True,
    costs=("cost.harvest",),
    figures=(
        "stock.peak_feed", "tank.volume", "flow.required", "filter.area",
        "air.provided", "gas.carbon_dioxide", "gas.ph", "gas.ammonia_limit", "filter.ammonia",
        "water.exchange", "water.nitrate", "water.bicarbonate_book", "water.bicarbonate_net",
        "standby.daily_energy", "standby.minutes_peak", "standby.minutes_low", "standby.minutes_high",
    ),
    card="standby",
    tradeoff=("goal.fish", "filter.ammonia", "air.peak_oxygen"),
    try_this="You have 100 to spend. Where does it add most feed? Look under what to buy next.",
    blocks=("balance", "handout"),
    answer=True,
    year=True,
)  # fmt: skip
