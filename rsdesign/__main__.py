"""The command line: size a design, ask what limits it, or start a new one."""

import sys

from .commands import (
    choose,
    day,
    design,
    exercises,
    lab,
    log,
    parts,
    season,
    slides,
    spread,
    startup,
    studies,
    workbooks,
)
from .commands.parser import Parser
from .core.choices import DesignError


def _parser() -> Parser:
    parser = Parser(
        prog="rsdesign",
        description="Design a small recirculating fish system: say how much fish you want, and see"
        " every part it needs, what limits it, and how each number came about.",
        epilog="A teaching estimate, not engineering design. Ask your fish and wildlife agency"
        " before you buy fish, and a licensed electrician before power goes near water.",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    design.add_questions(commands)
    studies.add(commands)
    startup.add(commands)
    season.add(commands)
    day.add(commands)
    log.add(commands)
    parts.add(commands)
    spread.add(commands)
    choose.add(commands)
    design.add_files(commands)
    design.add_drawings(commands)
    workbooks.add(commands)
    lab.add(commands)
    exercises.add(commands)
    slides.add(commands)
    return parser


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
