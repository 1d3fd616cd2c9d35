"""Fish, feed and tank."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="fish",
    file="10_fish_feed_tank.ipynb",
    title="Fish, feed and tank",
    question="How much will they eat on the hungriest day, and how big is the tank?",
    words=(
        "Feed runs the whole system. Waste, air and filter all follow the feed on the biggest day,"
        " not the average day.",
        "A round tank spins. The spin carries the dirt to the middle drain. Too shallow, and the"
        " sun heats it fast.",
    ),
    lead="Add fish.",
    headline=(
        ("stock.peak_feed", "Feed, biggest day", "sets every part"),
        ("stock.peak_biomass", "Most fish", "at once in the tank"),
        ("tank.volume", "Water in the tank", "you have"),
        ("tank.required", "Tank needed", "these fish need"),
        ("turning.turnover", "Time to swap", "to swap the water"),
    ),
    guess=Guess("How much feed on the biggest day?", "stock.peak_feed"),
    short=(
        Control("goal.fish", "10", "5000"),
        Control("goal.weight", "0.5 lb", "3 lb"),
        Control("tank.width", "3 ft", "30 ft", "with a tape, wall to wall"),
        Control("tank.depth", "1 ft", "6 ft", "to the water line, not the rim"),
        Control("stock.interval", "28 day", "300 day"),
    ),
    more=(
        Control("stock.species"),
        Control("stock.protein", "25 %", "45 %", "on the bag"),
        Control("stock.feed_conversion", "1", "3"),
        Control("stock.survival", "50 %", "100 %"),
        Control("stock.stocking_weight", "1 g", "200 g"),
        Control("site.water_temperature", "60 °F", "95 °F"),
        Control("tank.shape"),
        Control("tank.count", "1", "12"),
        Control("tank.freeboard", "2 in", "24 in"),
        Control("tank.density", "0.05 lb/gal", "0.8 lb/gal"),
        Control("tank.jet_velocity", "0.5 ft/s", "8 ft/s"),
        Control("tank.drain_share", "5 %", "100 %"),
    ),
    picture="tank.picture",
    charts=("plan.chart",),
    figures=(
        "stock.peak_feed", "stock.mean_feed", "stock.peak_biomass", "stock.to_stock", "stock.cycle",
        "stock.harvest", "tank.volume", "tank.required", "tank.density", "turning.turnover",
        "turning.rotation", "tank.wall", "tank.floor_load",
    ),
    parts=("fish", "tank"),
    card="tank",
    rule="{Four gallons for each pound|33 liters for each kilogram} of tilapia, and more than"
    " {2.5 feet|75 cm} of water where summers are hot. Air and filter must carry that many fish too.",
    tradeoff=("tank.depth", "tank.volume", "standby.minutes_peak"),
    try_this="Keep the water and make the tank {1.5 ft|0.5 m} deep, then {4 ft|1.2 m} deep. Which one gives you"
    " more minutes when the power fails?",
)  # fmt: skip
