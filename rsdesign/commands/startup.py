"""The start of a filter from the command line."""

from pathlib import Path

from .parser import add_design, whole_number


def add(commands) -> None:
    """Add ``startup``."""
    startup = add_design(
        commands,
        "startup",
        _startup,
        "the days until the filter is ripe, as a band, and what is safe to feed",
    )
    startup.add_argument(
        "--way", choices=("fishless", "fish in"), default="fishless",
        help="dose ammonia first (fishless), or feed fish from the first day (fish in)",
    )  # fmt: skip
    startup.add_argument(
        "--ammonia", choices=("ammonium chloride", "ammonia water"), default="ammonium chloride",
        help="what is dosed",
    )  # fmt: skip
    for name, default, words in (
        ("dose", "3 mg/L", "ammonia nitrogen that a dose brings the water to"),
        ("seed", None, "bacteria brought in over those of the ripe filter, such as '1 %%'"),
        ("feed-start", "25 %", "feed of the first day with fish, over the biggest feed day"),
        ("feed-rise", "10 %", "rise of the feed each day"),
        ("temperature", None, "of the water, such as '80 °F'"),
        ("chloride", None, "in the water, such as '100 mg/L'; salt raises it"),
    ):
        startup.add_argument(f"--{name}", metavar="VALUE", default=default, help=words)
    startup.add_argument(
        "--days", type=whole_number(7, 365), default=90, help="how many days to follow"
    )
    startup.add_argument(
        "--no-base", action="store_true", help="dose no baking soda, whatever the alkalinity does"
    )
    startup.add_argument("--csv", metavar="FILE", help="write every day as a table to a new file")


def _startup(args) -> str:
    from ..design.file import load, write_new
    from ..report.building.all_lists import water_of
    from ..report.startup import startup_json, startup_text
    from ..report.tables import csv_text
    from ..season.filter_start import startup
    from ..sizing.system import size

    design = load(args.file)
    sizing = size(design)
    frame = startup(
        sizing, args.way, ammonia=args.ammonia, dose=args.dose, seed=args.seed,
        feed_start=args.feed_start, feed_rise=args.feed_rise, days=args.days,
        temperature=args.temperature, chloride=args.chloride,
        hold_alkalinity=not args.no_base, system=args.units,
    )  # fmt: skip
    if args.csv:
        write_new(Path(args.csv), csv_text(frame))
    if args.json:
        return startup_json(frame)
    return startup_text(frame, design, water_of(sizing))
