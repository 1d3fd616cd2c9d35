"""How sure a design is, from the command line."""

from pathlib import Path

from .parser import add_design, whole_number


def add(commands) -> None:
    """Add ``spread``."""
    spread = add_design(
        commands,
        "spread",
        _spread,
        "how sure it is: the chance that each check stands, what fish cost, what to measure first",
    )
    spread.add_argument(
        "--draws", type=whole_number(100, 20000), default=2000, help="how many draws"
    )
    spread.add_argument(
        "--seed", type=whole_number(0, 2**32 - 1), default=1,
        help="the same number gives the same draws",
    )  # fmt: skip
    spread.add_argument(
        "--known", metavar="PATH", action="append", default=[],
        help="an input that you measured, such as air.efficiency; give it as often as you measured",
    )  # fmt: skip
    spread.add_argument("--csv", metavar="FILE", help="write every draw as a table to a new file")


def _spread(args) -> str:
    from ..design.file import load, write_new
    from ..report.spread import spread_json, spread_text
    from ..report.tables import csv_text
    from ..studies.spread.study import spread

    found = spread(load(args.file), args.draws, args.seed, tuple(args.known))
    if args.csv:
        write_new(Path(args.csv), csv_text(found.each_draw(args.units)))
    return (spread_json if args.json else spread_text)(found, args.units)
