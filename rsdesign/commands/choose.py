"""What to buy, from the command line."""

import sys
from pathlib import Path

from .parser import add_design


def add(commands) -> None:
    """Add ``choose``."""
    choose = add_design(
        commands,
        "choose",
        _choose,
        "what to buy: every combination of the parts for sale by cost a year, minutes, water and work",
    )
    choose.add_argument(
        "--prices", metavar="FILE", help="a TOML file with your own prices and parts; see --list"
    )
    choose.add_argument(
        "--list", metavar="FILE", dest="listed",
        help="write the list of parts and prices to a new file, to put your own in, and stop",
    )  # fmt: skip
    choose.add_argument(
        "--csv", metavar="FILE", help="write every design found as a table to a new file"
    )
    choose.add_argument(
        "--save", metavar="NAME:FILE",
        help="write a design found to a new design file: 'cheapest:new.toml' or 'sure:new.toml'",
    )  # fmt: skip


def _choose(args) -> str:
    from ..core.choices import DesignError
    from ..core.folders import data_folder
    from ..design.file import load, save, write_new
    from ..report.choose import choose_json, choose_text
    from ..report.tables import csv_text
    from ..studies.choose.frames import choose

    if args.listed:
        write_new(Path(args.listed), (data_folder() / "offers.toml").read_text(encoding="utf-8"))
        return f"The list of parts is in {args.listed}. Put your own prices in, then give it with --prices."
    name, _, target = (args.save or "").partition(":")
    if args.save and not (name and target):
        raise DesignError(
            f"--save {args.save}: write it as 'cheapest:new.toml' or 'sure:new.toml'."
        )
    design = load(args.file)
    frame = choose(
        design, args.prices, system=args.units, progress=_told if sys.stderr.isatty() else None
    )
    if args.csv:
        write_new(Path(args.csv), csv_text(frame))
    if args.save:
        if name not in frame.index:
            there = ", ".join(frame.index) or "none"
            raise DesignError(
                f"--save {args.save}: there is no design {name!r}; there are: {there}."
            )
        if Path(target).exists():
            raise DesignError(f"{target} is there already; choose another name.")
        save(frame.attrs["designs"][list(frame.index).index(name)], target)
    return choose_json(frame) if args.json else choose_text(frame, design)


def _told(share: float, words: str) -> None:
    """How far it is, on one line of a terminal."""
    sys.stderr.write(f"\r{100 * share:3.0f} %  {words[:60]:60}")
    if share >= 1.0:
        sys.stderr.write("\r" + " " * 70 + "\r")
    sys.stderr.flush()
