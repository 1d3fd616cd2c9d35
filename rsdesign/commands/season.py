"""A growing season from the command line."""

from pathlib import Path

from .parser import add_design, whole_number


def add(commands) -> None:
    """Add ``season``."""
    season = add_design(
        commands,
        "season",
        _season,
        "a growing season week by week, what it costs, and when to stock and harvest",
    )
    season.add_argument(
        "--start", metavar="DAY", help="day of stocking: 2027-04-15, or a day of the year, 1 to 365"
    )
    season.add_argument(
        "--days",
        type=whole_number(1, 730),
        default=None,
        help="how many days to follow; left out, a year, or to the harvest where cold or heat ends the season",
    )
    season.add_argument(
        "--growth", choices=("slow", "middle", "fast"), default="middle",
        help="which published line of growth decides",
    )  # fmt: skip
    season.add_argument(
        "--weight", metavar="DAY:WEIGHT", action="append", default=[],
        help="your own weighing, such as '60:120 g'; give it as often as you weighed",
    )  # fmt: skip
    season.add_argument(
        "--what-if", metavar="NAME:DAY", action="append", default=[], dest="what_ifs",
        help="such as 'chlorine slip:60' or 'heat wave:90:7:4' (name, day, days, amount)",
    )  # fmt: skip
    season.add_argument("--csv", metavar="FILE", help="write every day as a table to a new file")


def _season(args) -> str:
    from ..design.file import load, write_new
    from ..report.order import order_words
    from ..report.season import season_json, season_text
    from ..report.tables import csv_text
    from ..season.batch_order import days_to_follow
    from ..season.growing_season import growout, read_start, read_weighing
    from ..season.when import best_stocking_day, harvest_day
    from ..sizing.system import size

    sizing = size(load(args.file))
    start = read_start(args.start or "")
    weights = [read_weighing(text) for text in args.weight] or None
    usual = 365 if args.what_ifs else days_to_follow(sizing, start)
    frame = growout(
        sizing, args.days or usual, start, args.growth, weights, args.what_ifs, system=args.units
    )
    if args.csv:
        write_new(Path(args.csv), csv_text(frame.set_index("day")))
    if args.json:
        return season_json(frame)
    when = (
        best_stocking_day(sizing, system=args.units),
        harvest_day(sizing, start, system=args.units),
    )
    return season_text(frame, sizing.design, *when, order_words(sizing, args.units, start))
