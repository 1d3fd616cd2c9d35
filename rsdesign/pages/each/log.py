"""The log of water tests."""

from ..spec import Control, Page

PAGE = Page(
    name="log",
    file="77_my_log.ipynb",
    title="My log",
    question="What do my water tests say, and what do I do now?",
    words=(
        "One test is a number. A row of tests is a story: what rises, what falls, and since when.",
        "Leave a box empty where you did not test: no test is not zero.",
        "Act on two tests that agree, and at once where fish gasp or die.",
    ),
    lead="Type today's test, or open the invented log.",
    short=(
        Control("goal.fish", "10", "5000"),
        Control("filter.media_volume", "1 ft³", "200 ft³"),
        Control("makeup.drained", "0 gal/day", "500 gal/day", "count the buckets"),
    ),
    more=(
        Control("stock.protein", "25 %", "45 %", "on the bag"),
        Control("source.disinfectant"),
        Control("goal.weight", "0.25 lb", "3 lb"),
        Control("stock.stocking_weight", "1 g", "200 g"),
        Control("climate.weather"),
        Control("climate.heated"),
    ),
    system_first=False,
    low_picture=True,
    course="log",
    figures=("filter.ammonia", "filter.unionized", "water.nitrate", "stock.peak_feed", "water.exchange"),
    parts=("filter", "water"),
    blocks=("log_entry", "log_findings", "log_tuned"),
    answer=True,
    try_this="Open the invented log. On which day did something hurt the filter? Which test said so first?",
)  # fmt: skip
