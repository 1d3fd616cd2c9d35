"""The command line: size a design, ask what limits it, or start a new one."""

import argparse
import sys

from .core.choices import DesignError
from .teaching import commands as commands_exercises


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are one sentence."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.register("type", int, _typed(int, "whole number"))
        self.register("type", float, _typed(float, "number"))

    def error(self, message: str):
        text = message[0].upper() + message[1:]
        raise DesignError(f"{text.rstrip('.')}. 'rsdesign --help' shows what can be asked.")


def _typed(kind: type, words: str):
    """A reader of what was typed that says what it should have been."""

    def read(text: str):
        try:
            return kind(text)
        except ValueError:
            raise argparse.ArgumentTypeError(f"{text!r} is not a {words}") from None

    return read


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="rsdesign",
        description="Design a small recirculating fish system: say how much fish you want, and see"
        " every part it needs, what limits it, and how each number came about.",
        epilog="A teaching estimate, not engineering design. Ask your fish and wildlife agency"
        " before you buy fish, and a licensed electrician before power goes near water.",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    size = commands.add_parser("size", help="work out the whole system of a design file")
    _file(size)
    size.add_argument("--working", metavar="PART",
                      help="show step by step how the figures of one part came about")  # fmt: skip
    size.add_argument("--plan", action="store_true", help="show the stocking plan week by week")
    size.add_argument("--figures", action="store_true", help="show every figure of every stage")
    size.set_defaults(run=_size)
    limits = commands.add_parser(
        "limits", help="what can the parts I own carry, and what to buy next"
    )
    _file(limits)
    limits.add_argument("--budget", type=_money, metavar="MONEY", help="the most to spend")
    limits.set_defaults(run=_limits)
    _studies(commands)
    new = commands.add_parser(
        "new", help="write a design file to start from, with words on each choice"
    )
    new.add_argument("file", metavar="FILE", help="the file to write, such as mine.toml")
    new.add_argument(
        "--water",
        metavar="NAME",
        help="fill in a source water: tap, chloramine tap, well or rain (invented examples)",
    )
    _units(new)
    new.set_defaults(run=_new)
    hand = commands.add_parser(
        "handout", help="a paper to take home: drawing, parts, working, tasks, cards for the wall"
    )
    hand.add_argument("file", metavar="FILE", help="a design file")
    hand.add_argument("-o", "--out", metavar="OUT", required=True,
                      help="the file to make; its ending says what: .pdf, .html or .xlsx")  # fmt: skip
    hand.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper of the PDF"
    )
    hand.add_argument("--stocked", type=_date, metavar="DATE",
                      help="the day the first fish come, such as 2027-03-15")  # fmt: skip
    _units(hand)
    hand.set_defaults(run=_handout)
    serve = commands.add_parser("serve", help="open the workbooks in your browser")
    serve.add_argument("--port", type=int, default=8866, help="the port to use (8866)")
    serve.add_argument("--no-browser", action="store_true", help="do not open a browser")
    serve.add_argument("--pool", type=int, default=1, metavar="N",
                       help="programs that stand ready for the next visitor (1)")  # fmt: skip
    _room(serve)
    serve.add_argument("--class", dest="class_file", metavar="FILE",
                       help="the file of a class: learners then need their code only")  # fmt: skip
    serve.set_defaults(run=_serve)
    books = commands.add_parser("workbooks", help="copy the workbooks into a folder of yours")
    books.add_argument("folder", metavar="DIR", help="a new folder")
    books.set_defaults(run=_workbooks)
    commands_exercises.add(commands)
    return parser


def _room(serve) -> None:
    """What is asked when others are to reach the workbooks."""
    serve.add_argument("--name", action="append", default=[], metavar="HOST",
                       help="a further name of this server, such as that of a proxy before it")  # fmt: skip
    serve.add_argument("--most", type=int, default=60, metavar="N",
                       help="the most pages that may be open at once (60)")  # fmt: skip
    room = serve.add_argument_group("a room", "phones on the same network, no internet needed")
    room.add_argument("--lan", action="store_true",
                      help="open the workbooks to the local network, behind a code")  # fmt: skip
    room.add_argument("--check", action="store_true",
                      help="tell whether a phone can reach this machine, and what to do if not")  # fmt: skip
    room.add_argument(
        "--wifi", default="", metavar="NAME", help="the network's name, for the poster"
    )
    room.add_argument("--wifi-password", default="", metavar="PW", help="its password")
    room.add_argument("--address", default="", metavar="A", help="listen on this address only")
    room.add_argument("--token", default="", metavar="CODE",
                      help="a code of your own instead of one made at random")  # fmt: skip


def _studies(commands) -> None:
    """Questions to a design beyond its sizing: cost, candidates, heat, failures, water."""
    cost = commands.add_parser("cost", help="what it costs and brings in, hours paid and unpaid")
    _file(cost)
    cost.add_argument("--heated", action="store_true",
                      help="count the heat that holds the chosen water temperature all year")  # fmt: skip
    cost.set_defaults(run=_cost)
    compare = commands.add_parser("compare", help="candidates for a part by cost a year")
    _file(compare)
    compare.add_argument("part", metavar="PART", nargs="+",
                         help="tank, settler, filter, air, pump or backup")  # fmt: skip
    compare.add_argument("--candidates", metavar="TOML", help="a file of your own candidates")
    compare.set_defaults(run=_compare)
    heat = commands.add_parser(
        "heat", help="how warm the water gets without a heater, and what holding it costs"
    )
    _file(heat)
    heat.add_argument("--site", metavar="NAME", help="weather of an invented place, such as"
                      " 'low desert'")  # fmt: skip
    heat.add_argument("--climate", metavar="CSV", help="your own weather, twelve months in a table"
                      " like those in data/climate")  # fmt: skip
    heat.set_defaults(run=_heat)
    outage = commands.add_parser(
        "outage", help="the minutes there are when something stops, and what must stand ready"
    )
    _file(outage)
    outage.set_defaults(run=_outage)
    water = commands.add_parser(
        "water", help="new water, what stays behind when it evaporates, doses, and the garden"
    )
    _file(water)
    water.set_defaults(run=_water)


def _file(parser) -> None:
    parser.add_argument(
        "file", metavar="FILE", help="a design file, such as data/designs/family.toml"
    )
    _units(parser)
    parser.add_argument("--json", action="store_true", help="give the results as JSON")


def _units(parser) -> None:
    words = "gallons, pounds and feet, or litres, kilograms and metres"
    parser.add_argument("--units", choices=("us", "metric"), default="us", help=words)


def _money(text: str) -> float:
    from .core.units import KINDS, UnitError, parse  # noqa: PLC0415  (light import of the package)

    try:
        value = parse(text, KINDS["money"])
    except UnitError:
        value = -1.0
    if not 0 <= value < 1e12:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a sum of money from 0 up")
    return value


def _date(text: str):
    import datetime  # noqa: PLC0415

    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text[:40]!r} is not a date; write year-month-day, such as 2027-03-15"
        ) from None


def _size(args) -> str:
    from .design.file import load  # noqa: PLC0415
    from .report import text as report  # noqa: PLC0415  (each command loads what it needs)
    from .report.plan import plan_text  # noqa: PLC0415
    from .sizing import working  # noqa: PLC0415  (each command loads what it needs)
    from .sizing.system import size  # noqa: PLC0415

    sizing = size(load(args.file))
    if args.working:
        text = working.working_text(sizing, args.working, args.units)
        return text + report.card_text(sizing, args.working, args.units)
    if args.json:
        return report.as_json(sizing, args.units)
    if args.plan:
        return plan_text(sizing, args.units)
    return report.size_text(sizing, args.units, every=args.figures)


def _limits(args) -> str:
    from .design.file import load  # noqa: PLC0415
    from .report import limits as limitreport  # noqa: PLC0415
    from .studies.limits import limits  # noqa: PLC0415

    found = limits(load(args.file, goal=False), budget=args.budget)
    write = limitreport.limits_json if args.json else limitreport.limits_text
    return write(found, args.units)


def _cost(args) -> str:
    from .design.file import load  # noqa: PLC0415
    from .design.model import with_values  # noqa: PLC0415
    from .report import cost as costreport  # noqa: PLC0415
    from .sizing.system import size  # noqa: PLC0415

    design = load(args.file)
    if args.heated:
        design = with_values(design, {"climate.heated": "yes"})
    write = costreport.cost_json if args.json else costreport.cost_text
    return write(size(design), args.units)


def _compare(args) -> str:
    import json  # noqa: PLC0415

    from .design.file import load  # noqa: PLC0415
    from .report import cost as costreport  # noqa: PLC0415
    from .sizing.system import size  # noqa: PLC0415
    from .studies.compare import candidates  # noqa: PLC0415

    sizing = size(load(args.file))
    found = {part: candidates(part, args.candidates) for part in args.part}
    if args.json:
        texts = [json.loads(costreport.compare_json(sizing, p, c)) for p, c in found.items()]
        return json.dumps(texts, ensure_ascii=False, indent=1)
    return "\n\n".join(costreport.compare_text(sizing, p, c, args.units) for p, c in found.items())


def _heat(args) -> str:
    from .design import weather as climate  # noqa: PLC0415
    from .design.file import load  # noqa: PLC0415
    from .report import heat as heatreport  # noqa: PLC0415
    from .sizing.system import size  # noqa: PLC0415
    from .studies.heat.study import study  # noqa: PLC0415

    if args.site and args.climate:
        raise DesignError("Give --site or --climate, not both: one names a place, one a file.")
    weather = None
    if args.climate:
        weather = climate.read_weather(args.climate)
    elif args.site:
        weather = climate.place(args.site)
    found = study(size(load(args.file)), weather)
    if args.json:
        return heatreport.heat_json(found, args.units)
    return heatreport.heat_text(found, args.units)


def _outage(args) -> str:
    from .design.file import load  # noqa: PLC0415
    from .report import outage as outagereport  # noqa: PLC0415
    from .studies.outage.study import study  # noqa: PLC0415

    found = study(load(args.file))
    write = outagereport.outage_json if args.json else outagereport.outage_text
    return write(found, args.units)


def _water(args) -> str:
    from .design.file import load  # noqa: PLC0415
    from .report import outage as outagereport  # noqa: PLC0415
    from .studies.makeup.study import study  # noqa: PLC0415

    found = study(load(args.file))
    write = outagereport.water_json if args.json else outagereport.water_text
    return write(found, args.units)


def _handout(args) -> str:
    from pathlib import Path  # noqa: PLC0415

    from .design.file import load  # noqa: PLC0415
    from .report.handout.files import check_path, make, write  # noqa: PLC0415
    from .sizing.system import size  # noqa: PLC0415

    out = Path(args.out)
    form = check_path(out)  # before any work
    sizing = size(load(args.file))
    write(out, make(sizing, form, args.units, args.paper, args.stocked))
    return f"{args.out} is written."


def _new(args) -> str:
    from pathlib import Path  # noqa: PLC0415

    from .design.catalogue import source_values  # noqa: PLC0415
    from .design.file import write_new  # noqa: PLC0415
    from .design.starter import starter  # noqa: PLC0415

    try:
        given = source_values(args.water) if args.water else {}
    except KeyError as unknown:
        raise DesignError(f"{unknown.args[0]}.") from None
    write_new(Path(args.file), starter(args.units, given))
    return f"{args.file} is written. Open it, change what you know, then: rsdesign size {args.file}"


def _serve(args) -> str:
    if not 1 <= args.port <= 65535 or not 0 <= args.pool <= 40:
        raise DesignError("A port is a number from 1 to 65535, and --pool one from 0 to 40.")
    if not 1 <= args.most <= 1000:
        raise DesignError("--most is a number of pages from 1 to 1000.")
    wants = [w for w in ("check", "wifi", "wifi_password", "address", "token") if getattr(args, w)]
    if wants and not args.lan:
        raise DesignError(f"--{wants[0].replace('_', '-')} belongs to a room: add --lan. Without it"
                          " only this machine can reach the workbooks.")  # fmt: skip
    try:
        if args.check:
            from .pages.room.check import check  # noqa: PLC0415

            return check(args.port, only=args.address, color=sys.stdout.isatty())
        from .pages.room.lan import LanAccess  # noqa: PLC0415
        from .pages.server.app import serve  # noqa: PLC0415
    except ImportError as missing:
        raise DesignError(
            f"The workbooks need the package {missing.name}; install rsdesign again."
        ) from None
    lan = None
    if args.lan:
        lan = LanAccess(args.port, "/", args.wifi, args.wifi_password, args.address, args.token)
    if args.class_file:
        from .pages.classroom.class_session import use_class  # noqa: PLC0415

        warning = use_class(args.class_file)
        if warning:
            print(warning, file=sys.stderr)
    serve(args.port, not args.no_browser, args.pool, lan, tuple(args.name), args.most)
    return "The workbooks are closed."


def _workbooks(args) -> str:
    import shutil  # noqa: PLC0415
    from pathlib import Path  # noqa: PLC0415

    from .core.tables import workbooks_folder  # noqa: PLC0415

    target = Path(args.folder)
    if target.exists():
        raise DesignError(f"{args.folder} is there already; name a new folder.")
    try:
        shutil.copytree(workbooks_folder(), target)
    except OSError as wrong:
        raise DesignError(f"{args.folder} cannot be written: {wrong.strerror}.") from None
    return f"The workbooks are in {args.folder}. Open them with: jupyter lab {args.folder}"


def main(argv: list[str] | None = None) -> int:
    """Run one command; give 0, or 2 with one sentence on standard error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        args = _parser().parse_args(argv)
        print(args.run(args))
    except DesignError as wrong:
        print(f"rsdesign: {wrong}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        return 0
    except SystemExit as done:  # --help
        return int(done.code or 0)
    return 0


def run() -> None:
    """The console entry point."""
    sys.exit(main())


if __name__ == "__main__":
    run()
