"""Money and minutes."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="cost",
    file="60_cost.ipynb",
    title="Cost",
    question="What does your fish cost you, with your own hours paid and unpaid?",
    words=(
        "Price divided by years is the real price. Your minutes are part of it.",
        "All prices here are invented until you put in your own.",
    ),
    guess=Guess("What does your fish cost you, with your own hours paid?", "cost.each"),
    short=(
        Control("climate.weather"),
        Control("climate.heated"),
        Control("prices.fish", "1 per lb", "20 per lb"),
        Control("prices.feed", "0.2 per lb", "3 per lb", "on the bag's price tag"),
        Control("prices.electricity", "0.05 per kWh", "0.6 per kWh", "on the bill"),
        Control("prices.wage", "0 per h", "40 per h"),
        Control("terms.loss_every", "1 year", "20 year"),
    ),
    more=(
        Control("terms.home_share", "0 %", "100 %"),
        Control("prices.home_fish", "1 per lb", "20 per lb"),
        Control("prices.fingerling", "0.05", "3"),
        Control("prices.water", "0 per 1000 gal", "30 per 1000 gal"),
        Control("prices.tank", "0.2 per gal", "6 per gal"),
        Control("prices.media", "2 per ft³", "120 per ft³"),
        Control("prices.air_machine", "0.2 per W", "6 per W"),
        Control("prices.pump", "0.2 per W", "6 per W"),
        Control("terms.life_tank", "2 year", "25 year"),
        Control("terms.life_pump", "1 year", "12 year"),
        Control("terms.life_air", "1 year", "12 year"),
        Control("terms.rate", "0 %", "20 %"),
        Control("terms.saleable", "50 %", "100 %"),
    ),
    picture="money.towers",
    charts=("money.cash_chart",),
    costs=("cost.harvest", "cost.batches", "cost.each", "cost.each_unpaid", "cost.net", "cost.net_unpaid",
           "cost.wage_earned", "cost.investment", "cost.minutes", "cost.energy"),
    figures=("stock.mean_feed", "standby.watts", "standby.daily_energy", "water.exchange"),
    parts=("power", "water"),
    try_this="A tank at three times the price that lasts five times as long: which costs less a year?",
    blocks=("budget", "candidates"),
    tables=True,
    year=True,
)  # fmt: skip
