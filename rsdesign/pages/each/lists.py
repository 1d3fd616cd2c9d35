"""Before the fish come, every day and every week, when it goes wrong, harvest."""

from ..spec import Control, Page

PAGE = Page(
    name="lists",
    file="80_lists.ipynb",
    title="Day by day",
    question="What do I do, and when?",
    words=(
        "Lists made from your design. Print them and hang them by the tank.",
        "When something goes wrong, feed nothing until you know what it is.",
    ),
    lead="Lists made from your design.",
    headline=(
        ("stock.to_stock", "Fingerlings", "to buy"),
        ("stock.cycle", "Days to full size", "to full size, if kept warm"),
        ("stock.peak_feed", "Feed, biggest day", "on the biggest day"),
        ("solids.sludge_each_time", "Sludge drained", "each time"),
        ("water.exchange", "New water", "new water"),
    ),
    short=(
        Control("goal.fish", "10", "5000"),
        Control("solids.drain_interval", "6 h", "96 h"),
        Control("goal.weight", "0.5 lb", "3 lb"),
        Control("source.disinfectant"),
        Control("safety.backup"),
    ),
    picture="plan.weeks",
    figures=(
        "stock.to_stock", "stock.cycle", "stock.peak_feed", "solids.sludge_each_time",
        "water.exchange", "water.bicarbonate_book", "water.bicarbonate_net", "standby.minutes_peak",
        "standby.minutes_low", "standby.minutes_high",
    ),
    parts=("fish", "water", "power"),
    try_this="Move the stocking date past your hottest week. Which list gets shorter?",
    blocks=("task_lists",),
    tables=True,
    answer=True,
)  # fmt: skip
