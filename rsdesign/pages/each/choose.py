"""What to buy."""

from ..spec import Control, Page

PAGE = Page(
    name="choose",
    file="65_what_to_buy.ipynb",
    title="What to buy",
    question="What should I buy?",
    words=(
        "What is cheap to buy may cost most a year. Power, hours and a short life count too.",
        "The cheapest that just stands falls short in most draws. A little more money buys rest.",
        "Two things that cost the same within the doubt of their prices are the same. Choose by what you like.",
    ),
    lead="Put in your price of power. See whether other parts win.",
    short=(
        Control("prices.electricity", "0.05 per kWh", "0.6 per kWh", "on the bill"),
        Control("prices.wage", "0 per h", "40 per h"),
        Control("goal.fish", "10", "5000"),
        Control("terms.rate", "0 %", "20 %"),
    ),
    more=(
        Control("safety.answer", "1 min", "120 min", "with a stop watch and a drill"),
        Control("pump.lift", "0.5 ft", "12 ft", "with a level"),
        Control("pump.length", "5 ft", "300 ft", "with a tape"),
        Control("tank.density", "0.05 lb/gal", "0.6 lb/gal"),
        Control("prices.water", "0 per 1000 gal", "30 per 1000 gal"),
        Control("terms.repairs", "0 %", "10 %"),
        Control("climate.heated"),
        Control("climate.weather"),
    ),
    system_first=False,
    low_picture=True,
    choosing=True,
    figures=("standby.minutes_peak", "standby.daily_energy", "tank.volume", "filter.area", "air.provided"),
    parts=("power",),
    costs=("cost.investment", "cost.each", "cost.minutes"),
    try_this="Double the price of power. Which part changes first? Then put in a quote for a tank: is it still the"
    " same within the doubt?",
    blocks=("buy",),
)  # fmt: skip
