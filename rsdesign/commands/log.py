"""A log of water tests from the command line."""

from pathlib import Path

from .parser import add_units


def add(commands) -> None:
    """Add ``log``."""
    words = "what a log of water tests shows, what to do, today's feed and the next tests"
    log = commands.add_parser("log", help=words)
    log.add_argument(
        "file", metavar="LOG", help="a log, .csv or .xlsx, such as data/logs/school_autumn.csv"
    )
    log.add_argument(
        "--design", metavar="FILE", help="the design of the system, for its own limits and feed"
    )
    log.add_argument(
        "--stocked", metavar="DATE", help="the day the fish came; else the first day of the log"
    )
    log.add_argument(
        "--course", choices=("season", "startup"), default="season",
        help="what of the design stands beside the tests: a growing season, or the start of its filter",
    )  # fmt: skip
    log.add_argument(
        "--kit", metavar="TEST:HOW", action="append", default=[], dest="kits",
        help="how a test reports, such as 'nitrite: as ion' or 'nitrate: colours as ion'",
    )  # fmt: skip
    log.add_argument(
        "--tune", action="store_true", help="tune the design's numbers by the log; needs --design"
    )
    log.add_argument(
        "--save", metavar="FILE", help="with --tune: write the design with the tuned numbers"
    )
    log.add_argument("--csv", metavar="FILE", help="write every test as a table to a new file")
    log.add_argument("--json", action="store_true", help="give the results as JSON")
    add_units(log)
    log.set_defaults(run=_log)


def _log(args) -> str:
    from ..design.file import load, write_new
    from ..records.findings import log_findings
    from ..records.kit_words import read_kit
    from ..records.next_steps import beside_design, next_tests, todays_feed
    from ..records.reading import read_log
    from ..report.log import log_json, log_text
    from ..report.tables import csv_text
    from ..sizing.system import size

    log = read_log(Path(args.file), dict(read_kit(text) for text in args.kits))
    sizing = size(load(args.design)) if args.design else None
    findings = log_findings(log, sizing)
    feed = beside = None
    if sizing is not None and len(log):
        feed = todays_feed(log, sizing, findings, args.stocked) if args.course == "season" else None
        beside = beside_design(log, sizing, args.course, args.stocked, args.units)
    if args.csv:
        write_new(Path(args.csv), csv_text(log.frame(args.units).set_index("line")))
    tuned = _tuned(args, log, sizing) if args.tune or args.save else None
    told = log_json if args.json else log_text
    return told(log, findings, next_tests(log, findings), feed, beside, args.units, tuned)


def _tuned(args, log, sizing):
    """The numbers that the log tunes; the design with them is written where a file is named."""
    from ..core.choices import DesignError
    from ..design.file import save
    from ..records.tuning import tune

    if sizing is None:
        raise DesignError("--tune needs a design to tune: add --design with its file.")
    tuned = tune(log, sizing)
    if args.save:
        save(tuned.design(), args.save, args.units)
    return tuned
