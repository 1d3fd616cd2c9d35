"""What a builder asks of a design: everything to buy, to cut, to drill and to do."""

from pathlib import Path

from .parser import add_design


def add(commands) -> None:
    """Add ``parts``."""
    parts = add_design(
        commands,
        "parts",
        _parts,
        "everything to buy in order, cuts, holes, circuits, steps of building",
    )
    prices = "a file of your own prices, in the form of data/prices.toml: [prices], [parts] or both"
    parts.add_argument("--prices", metavar="TOML", help=prices)
    table = "write what is bought as a table to a new file"
    parts.add_argument("--csv", metavar="FILE", help=table)


def _parts(args) -> str:
    from ..building.prices import NONE, own_prices
    from ..design.file import load, write_new
    from ..report.building.all_lists import building
    from ..report.building.text import parts_csv, parts_json, parts_text
    from ..sizing.system import size

    own = own_prices(args.prices) if args.prices else NONE
    found = building(size(own.into(load(args.file))), own)
    if args.csv:
        write_new(Path(args.csv), parts_csv(found, args.units))
    return (parts_json if args.json else parts_text)(found, args.units)
