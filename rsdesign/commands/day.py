"""A question to a design about one day: what its meals do to the water hour by hour."""

from pathlib import Path

from .parser import add_design


def add(commands) -> None:
    """Add ``day``."""
    day = add_design(commands, "day", _day, "the water hour by hour, after each meal")
    hours = "hours of the meals, such as '8:00, 12:00, 16:00'"
    day.add_argument("--meals", metavar="HOURS", help=hours)
    best = "place so many equal meals where the worst hour is best"
    day.add_argument("--best", metavar="COUNT", type=int, help=best)
    table = "write the day, every quarter of an hour, as a table to a new file"
    day.add_argument("--csv", metavar="FILE", help=table)


def _day(args) -> str:
    from ..core.choices import DesignError
    from ..design.file import load, write_new
    from ..report.feeding_day import feeding_csv, feeding_json, feeding_text
    from ..season import best_meals, feeding_day
    from ..sizing.system import size

    if args.meals is not None and args.best is not None:
        raise DesignError("Give --meals or --best, not both: one tells the hours, one finds them.")
    sizing = size(load(args.file))
    meals = args.meals if args.best is None else best_meals(sizing, args.best)
    frame = feeding_day(sizing, meals, system=args.units)
    if args.csv:
        whole = feeding_day(sizing, meals, every=15, system=args.units)
        write_new(Path(args.csv), feeding_csv(whole))
    return feeding_json(frame) if args.json else feeding_text(sizing, frame)
