"""Questions to a design beyond its sizing: cost, candidates, heat, failures, new water."""

from ..core.choices import DesignError
from .parser import add_design


def add(commands) -> None:
    """Add ``cost``, ``compare``, ``heat``, ``outage`` and ``water``."""
    cost = add_design(commands, "cost", _cost, "what it costs and brings in, hours paid and unpaid")
    heated = "count the heat that holds the chosen water temperature all year"
    cost.add_argument("--heated", action="store_true", help=heated)
    compare = add_design(commands, "compare", _compare, "candidates for a part by cost a year")
    compare.add_argument(
        "part", metavar="PART", nargs="+", help="tank, settler, filter, air, pump or backup"
    )
    compare.add_argument("--candidates", metavar="TOML", help="a file of your own candidates")
    heat = add_design(
        commands,
        "heat",
        _heat,
        "how warm the water gets without a heater, and what holding it costs",
    )
    site = "weather of an invented place, such as 'low desert'"
    heat.add_argument("--site", metavar="NAME", help=site)
    climate = "your own weather, twelve months in a table like those in data/climate"
    heat.add_argument("--climate", metavar="CSV", help=climate)
    add_design(
        commands,
        "outage",
        _outage,
        "the minutes there are when something stops, and what must stand ready",
    )
    add_design(
        commands,
        "water",
        _water,
        "new water, what stays behind when it evaporates, doses, and the garden",
    )


def _sized(file: str, changes: dict | None = None):
    from ..design.file import load
    from ..design.model import with_values
    from ..sizing.system import size

    return size(with_values(load(file), changes or {}))


def _cost(args) -> str:
    from ..report.cost import cost_json, cost_text

    sizing = _sized(args.file, {"climate.heated": "yes"} if args.heated else None)
    return (cost_json if args.json else cost_text)(sizing, args.units)


def _compare(args) -> str:
    from ..report.cost import compare_json, compare_text
    from ..studies.compare import candidates

    sizing = _sized(args.file)
    found = {part: candidates(part, args.candidates) for part in args.part}
    if args.json:
        return compare_json(sizing, found)
    return "\n\n".join(compare_text(sizing, p, c, args.units) for p, c in found.items())


def _heat(args) -> str:
    from ..design import weather as climate
    from ..report.heat import heat_json, heat_text
    from ..studies.heat.study import study

    if args.site and args.climate:
        raise DesignError("Give --site or --climate, not both: one names a place, one a file.")
    weather = None
    if args.climate:
        weather = climate.read_weather(args.climate)
    elif args.site:
        weather = climate.place(args.site)
    return (heat_json if args.json else heat_text)(study(_sized(args.file), weather), args.units)


def _outage(args) -> str:
    from ..report.outage import outage_json, outage_text
    from ..studies.outage.study import study

    return (outage_json if args.json else outage_text)(study(_sized(args.file)), args.units)


def _water(args) -> str:
    from ..report.makeup import water_json, water_text
    from ..studies.makeup.study import study

    return (water_json if args.json else water_text)(study(_sized(args.file)), args.units)
