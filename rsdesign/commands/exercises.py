"""Commands for exercises: codes, sheets, marks, and the list of the bank."""

import csv
import json
from pathlib import Path

from ..core.choices import DesignError


def add(commands) -> None:
    """Add ``exercises`` with its own commands to the parser's commands."""
    parser = commands.add_parser(
        "exercises", help="make a class, print its sheets, mark what comes back"
    )
    inner = parser.add_subparsers(dest="what", metavar="WHAT", required=True)
    codes = inner.add_parser("codes", help="make a class of N codes")
    codes.add_argument("count", type=int, metavar="N", help="how many learners")
    codes.add_argument("-o", dest="out", metavar="FILE", required=True,
                       help="the file of the class, to keep on your own machine")  # fmt: skip
    codes.set_defaults(run=_codes)
    sheet = inner.add_parser("sheet", help="print sheets and cards, and the key apart")
    sheet.add_argument("set", metavar="SET", help="ninety-minutes, three-hours, five-sessions,"
                       " or a topic for practice")  # fmt: skip
    sheet.add_argument("--codes", metavar="FILE", required=True, help="the file of the class")
    sheet.add_argument(
        "-o", dest="out", metavar="DIR", required=True, help="a folder for the pages"
    )
    sheet.add_argument("--examples", action="store_true", help="print worked examples with other"
                       " numbers before the first problem of each topic")  # fmt: skip
    sheet.add_argument("--count", action="store_true",
                       help="only say how many pages it would be; write nothing")  # fmt: skip
    sheet.set_defaults(run=_sheet)
    mark = inner.add_parser("mark", help="mark a folder of what was handed in")
    mark.add_argument("folder", metavar="DIR", help="files, short texts and grids that came back")
    mark.add_argument("--codes", metavar="FILE", help="the file of the class (DIR/class.toml)")
    mark.add_argument("--reasons", metavar="CSV", help="points for reasons that you read: columns"
                      " code, exercise, rubric (0 to 3)")  # fmt: skip
    mark.add_argument("-o", dest="out", metavar="CSV", required=True, help="the marks to write")
    mark.add_argument("--gradebook", metavar="CSV", help="write a row for each learner, a column for"
                      " each exercise")  # fmt: skip
    mark.add_argument("--ids", metavar="CSV", help="your own list with the columns code and id, for"
                      " the gradebook")  # fmt: skip
    mark.add_argument("--statistics", metavar="CSV", help="write facility, discrimination and common"
                      " slips of each exercise")  # fmt: skip
    mark.add_argument("--fixes", metavar="TOML", help="corrections of the key; says whose points"
                      " they change")  # fmt: skip
    mark.set_defaults(run=_mark)
    export = inner.add_parser("export", help="a set for a course platform, with its key")
    export.add_argument("set", metavar="SET", help="a set, or a topic for practice")
    export.add_argument("--codes", metavar="FILE", required=True, help="the file of the class")
    export.add_argument("--form", choices=("qti", "cartridge"), default="qti",
                        help="QTI 2.1, or Common Cartridge 1.1")  # fmt: skip
    export.add_argument("--learners", type=int, default=1, metavar="N",
                        help="the numbers of the first N codes, side by side (1)")  # fmt: skip
    export.add_argument("-o", dest="out", metavar="ZIP", required=True, help="the package to write")
    export.set_defaults(run=_export)
    listing = inner.add_parser("list", help="the bank, filtered")
    listing.add_argument("--topic", help="such as tank, biofilter or costs")
    listing.add_argument("--form", help="such as 'one step', chain or rank")
    listing.add_argument("--minutes", type=float, help="at most so many minutes")
    listing.add_argument("--level", type=int, help="at most this level, 1 to 3")
    listing.add_argument("--paper", action="store_true", help="only those that need no page")
    listing.add_argument("--json", action="store_true", help="give the list as JSON")
    listing.set_defaults(run=_list)


def _codes(args) -> str:
    from ..teaching.classbook import new_class, write_class

    book = new_class(args.count)
    write_class(book, args.out)
    return (
        f"{args.out} holds a class of {args.count} codes and its key. Keep it on this machine.\n"
        f"Next: rsdesign exercises sheet ninety-minutes --codes {args.out} -o sheets"
    )


def _sheet(args) -> str:
    from ..teaching import sheets
    from ..teaching.classbook import read_class
    from ..teaching.papergrid import grid
    from ..teaching.paperlength import needs_notes, pages_words
    from ..teaching.sets import set_plan

    book, plan = read_class(args.codes), set_plan(args.set)
    paper = pages_words(plan.name, book.codes, book.key, args.examples)
    if args.count:
        return paper
    folder = Path(args.out)

    def spare(found) -> bool:
        return needs_notes(found, args.examples)

    pages = {
        "sheets.html": sheets.sheets(plan.name, book.codes, book.key, args.examples, spare),
        "cards.html": sheets.cards(book.codes, plan.title),
        "grid.csv": grid(plan, book.codes),
        "key-for-the-instructor.html": sheets.key(plan.name, book.codes, book.key),
    }
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in pages.items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
    except OSError as wrong:
        raise DesignError(f"{args.out} cannot be written: {wrong.strerror}.") from None
    return (
        f"{args.out} holds sheets.html and cards.html to print from a browser, grid.csv for answers"
        " on paper,\nand key-for-the-instructor.html with every answer: keep that one apart.\n"
        f"{paper}"
    )


def _export(args) -> str:
    from ..teaching import export
    from ..teaching.classbook import read_class

    book = read_class(args.codes)
    make = export.qti_package if args.form == "qti" else export.cartridge
    data = make(args.set, book.codes[: max(args.learners, 0)], book.key)
    try:
        Path(args.out).write_bytes(data)
    except OSError as wrong:
        raise DesignError(f"{args.out} cannot be written: {wrong.strerror}.") from None
    return f"{args.out} is written. {export.HOLDS_KEY}"


def _mark(args) -> str:
    from ..teaching import gradebook
    from ..teaching.attemptlog import AttemptLog, folder_of
    from ..teaching.classbook import read_class
    from ..teaching.classtable import common_mistakes, first_five_minutes
    from ..teaching.marking import mark_folder
    from ..teaching.regrade import NONE, changes, read_fixes
    from ..teaching.statistics import gain, gain_words, reliability_words

    class_file = args.codes or Path(args.folder) / "class.toml"
    book = read_class(class_file)
    reasons = _reasons(args.reasons) if args.reasons else None
    fixes = read_fixes(Path(args.fixes)) if args.fixes else NONE
    ids = gradebook.read_ids(args.ids) if args.ids else None
    log = AttemptLog(folder_of(class_file))  # what was counted on this machine, if anything was
    given = (args.folder, book.key, book.codes, reasons, log.read)
    found = mark_folder(*given, fixes)
    _write(args.out, gradebook.marks_csv(found))
    if args.gradebook:
        _write(args.gradebook, gradebook.wide_csv(found, ids))
    if args.statistics:
        _write(args.statistics, gradebook.items_csv(found))
    who = "1 learner" if len(found.marks) == 1 else f"{len(found.marks)} learners"
    lines = [f"{who} marked; {args.out} is written."]
    lines += [f"  {m.learner}: {m.points:g} of {m.out_of:g}{' (late)' if m.late else ''}"
              for m in found.marks]  # fmt: skip
    lines += [f"  Note: {note}" for note in found.notes]
    lines += [f"  Not marked, {name}: {sentence}" for name, sentence in found.refused]
    if fixes:
        changed = changes(mark_folder(*given).marks, found.marks)
        lines.append("Points that the corrections changed:" if changed else
                     "The corrections change nobody's points.")  # fmt: skip
        lines += [f"  {line}" for line in changed]
    if found.marks:
        lines += [reliability_words(found.marks), gain_words(gain(found.marks))]
    mistakes = common_mistakes(found.marks)[:5]
    if mistakes:
        lines.append("Most common mistakes:")
        lines += [f"  {name}, {mistake}: {n}" for name, mistake, n in mistakes]
    first = first_five_minutes(found.marks)
    if first:
        lines.append("For the first five minutes of the next lesson:")
        lines += [f"  {line}" for line in first]
    return "\n".join(lines)


def _write(path: str, text: str) -> None:
    try:
        Path(path).write_text(text, encoding="utf-8", newline="\n")
    except OSError as wrong:
        raise DesignError(f"{path} cannot be written: {wrong.strerror}.") from None


def _reasons(path: str) -> dict[str, dict[str, float]]:
    """Points for reasons by code and exercise, from a CSV file."""
    found: dict[str, dict[str, float]] = {}
    try:
        with Path(path).open(encoding="utf-8-sig", newline="") as file:
            for row in csv.DictReader(file):
                rubric = float(row["rubric"])
                if not 0 <= rubric <= 3:
                    raise ValueError
                found.setdefault(row["code"].strip().upper(), {})[row["exercise"].strip()] = rubric
    except OSError as wrong:
        raise DesignError(f"{path} cannot be read: {wrong.strerror}.") from None
    except (KeyError, ValueError, TypeError, AttributeError):
        raise DesignError(
            f"{path} needs the columns code, exercise and rubric, with a rubric from 0 to 3."
        ) from None
    return found


def _list(args) -> str:
    from ..teaching.bank import find
    from ..teaching.model import TOPICS
    from ..teaching.sets import set_plans

    found = find(args.topic, args.minutes, args.level, True if args.paper else None, args.form)
    if args.json:
        return json.dumps(
            [
                {"id": e.id, "topic": e.topic, "form": e.form, "title": e.title, "level": e.level,
                 "minutes": e.minutes, "paper": e.paper, "objective": e.objective,
                 "source": e.published.source if e.published else None}
                for e in found
            ],
            ensure_ascii=False, indent=1,
        )  # fmt: skip
    if not found:
        return "No exercise is like that; ask for less."
    lines = []
    for topic, words in TOPICS.items():
        rows = [e for e in found if e.topic == topic]
        if rows:
            lines.append(f"{words} ({topic})")
        lines += [
            f"  {e.id:<22} {e.form:<17} level {e.level}  {e.minutes:>3g} min"
            f"  {'paper' if e.paper else 'pages'}  {e.title}"
            for e in rows
        ]
    lines.append(f"{len(found)} exercises. Sets: {', '.join(set_plans())}.")
    return "\n".join(lines)
