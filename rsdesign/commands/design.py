"""Commands on a design as a whole: size it, ask what limits it, start one, print it."""

from pathlib import Path

from ..core.choices import DesignError
from ..report.handout.booklets import NAMES
from .parser import add_design, add_units, date, money


def add_questions(commands) -> None:
    """Add ``size`` and ``limits``."""
    size = add_design(commands, "size", _size, "work out the whole system of a design file")
    size.add_argument(
        "--working", metavar="PART", help="show step by step how the figures of one part came about"
    )
    size.add_argument("--plan", action="store_true", help="show the stocking plan week by week")
    size.add_argument("--figures", action="store_true", help="show every figure of every stage")
    limits = add_design(
        commands, "limits", _limits, "what can the parts I own carry, and what to buy next"
    )
    limits.add_argument("--budget", type=money, metavar="MONEY", help="the most to spend")


def add_files(commands) -> None:
    """Add ``new`` and ``handout``."""
    new = commands.add_parser(
        "new", help="write a design file to start from, with words on each choice"
    )
    new.add_argument("file", metavar="FILE", help="the file to write, such as mine.toml")
    new.add_argument(
        "--water",
        metavar="NAME",
        help="fill in a source water: tap, chloramine tap, well or rain (invented examples)",
    )
    add_units(new)
    new.set_defaults(run=_new)
    paper = commands.add_parser(
        "handout", help="a paper to take home: drawing, parts, working, tasks, cards for the wall"
    )
    paper.add_argument("file", metavar="FILE", help="a design file")
    out = "the file to make; its ending says what: .pdf, .html or .xlsx"
    paper.add_argument("-o", "--out", metavar="OUT", required=True, help=out)
    paper.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper of the PDF"
    )
    which = "which booklet; without it a PDF is the plan, and .html and .xlsx have all"
    paper.add_argument("--booklet", choices=NAMES, help=which)
    stocked = "the day the first fish come, such as 2027-03-15"
    paper.add_argument("--stocked", type=date, metavar="DATE", help=stocked)
    add_units(paper)
    paper.set_defaults(run=_handout)


def add_drawings(commands) -> None:
    """Add ``drawings``."""
    sheets = commands.add_parser(
        "drawings", help="sheets to build by, true to scale: plan, section, pipes, holes, lists"
    )
    sheets.add_argument("file", metavar="FILE", help="a design file")
    out = "the folder to put them in; it is made where there is none"
    sheets.add_argument("-o", "--out", metavar="FOLDER", required=True, help=out)
    forms = "svg for a browser, dxf for a drawing program, pdf for paper"
    sheets.add_argument("--format", choices=("svg", "dxf", "pdf"), default="pdf", help=forms)
    sheets.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper of the sheets"
    )
    add_units(sheets)
    sheets.set_defaults(run=_drawings)


def _drawings(args) -> str:
    from ..building.layout import layout
    from ..design.file import load
    from ..report.drawings.building.files import write_drawings
    from ..sizing.system import size

    found = layout(size(load(args.file)))
    written = write_drawings(found, args.out, args.format, args.units, args.paper)
    lines = [f"{path} is written." for path in written]
    if found.problems:
        lines.append("As it stands, this cannot be built. Change the design first:")
        lines += [f"- {problem.said(args.units)}" for problem in found.problems]
    return "\n".join(lines)


def _size(args) -> str:
    from ..design.file import load

    design = load(args.file)  # what is wrong in a file is said before the rest is loaded
    from ..report import text as report
    from ..report.plan import plan_text
    from ..sizing import working
    from ..sizing.system import size

    sizing = size(design)
    if args.working:
        text = working.working_text(sizing, args.working, args.units)
        return text + report.card_text(sizing, args.working, args.units)
    if args.json:
        return report.as_json(sizing, args.units)
    if args.plan:
        return plan_text(sizing, args.units)
    return report.size_text(sizing, args.units, every=args.figures)


def _limits(args) -> str:
    from ..design.file import load

    design = load(args.file, goal=False)
    from ..report.limits import limits_json, limits_text
    from ..studies.limits import limits

    found = limits(design, budget=args.budget)
    return (limits_json if args.json else limits_text)(found, args.units)


def _new(args) -> str:
    from ..design.catalogue import source_values
    from ..design.file import write_new
    from ..design.starter import starter

    try:
        given = source_values(args.water) if args.water else {}
    except KeyError as unknown:
        raise DesignError(f"{unknown.args[0]}.") from None
    write_new(Path(args.file), starter(args.units, given))
    return f"{args.file} is written. Open it, change what you know, then: rsdesign size {args.file}"


def _handout(args) -> str:
    from ..design.file import load
    from ..report.handout.files import check_path, make, write
    from ..sizing.system import size

    out = Path(args.out)
    form = check_path(out)  # before any work
    sizing = size(load(args.file))
    write(out, make(sizing, form, args.units, args.paper, args.stocked, args.booklet or ""))
    return f"{args.out} is written."
