"""The start page: a place and a wish, then a whole balanced system from four choices."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="start",
    file="00_start.ipynb",
    title="Start",
    question="How much fish do you want?",
    words=(
        "You say how much fish you want. We work out what the fish need.",
        "Every part has a number: what it gives, divided by what is needed. If a number is below"
        " 100 %, that part is too small.",
        "What you leave open, we choose, and we say what we took.",
    ),
    lead="Say how much. The parts grow to fit.",
    headline=(
        ("stock.peak_feed", "Feed, biggest day", "sets every part"),
        ("stock.harvest", "If warm all year", "fish to eat or sell"),
        ("filter.required_volume", "Media needed", "for the bacteria"),
        ("air.required", "Air needed", "blown in"),
        ("standby.daily_energy", "Energy a day", "air and pump"),
    ),
    guess=Guess("How much feed will your fish eat on their biggest day?", "stock.peak_feed"),
    short=(
        Control("goal.fish", "10", "5000"),
        Control("goal.weight", "0.5 lb", "3 lb"),
        Control("site.warmest_water", "70 °F", "100 °F", "with a thermometer, in the hottest week"),
        Control("climate.heated"),
        Control("site.elevation", "0 ft", "8000 ft"),
        Control("goal.harvest", "20 lb/year", "20000 lb/year"),
        Control("climate.weather"),
    ),
    more=(
        Control("stock.species"),
        Control("site.water_temperature", "60 °F", "95 °F"),
        Control("site.coldest_feeding_water", "50 °F", "90 °F"),
        Control("source.kind"),
        Control("source.disinfectant"),
        Control("source.alkalinity", "0 mg/L", "500 mg/L", "with a test kit"),
        Control("source.ph", "6", "9", "with a test kit, after a day of air"),
        Control("source.supply", "10 gal/day", "20000 gal/day", "seconds to fill a bucket"),
        Control("safety.backup"),
        Control("safety.two_circuits"),
    ),
    costs=("cost.harvest", "cost.batches"),
    figures=(
        "stock.peak_feed", "stock.mean_feed", "stock.peak_biomass", "stock.to_stock", "tank.volume", "filter.required",
        "air.required", "flow.required", "standby.daily_energy", "standby.minutes_peak",
        "standby.minutes_low", "standby.minutes_high",
    ),
    card="stock",
    rule="The rule of thumb gives each {pound of fish four gallons|kilogram of fish 33 liters} of water."
    " It says nothing of air or filter, and those give out first.",
    tradeoff=("goal.fish", "filter.required", "air.required"),
    try_this="Halve the size at harvest. Which part shrinks first?",
    blocks=("way_in", "hottest", "may_i"),
    year=True,
)  # fmt: skip
