"""What all commands share: a parser whose errors are one sentence, and the arguments of several."""

import argparse
import datetime

from ..core.choices import DesignError
from ..core.days import read_day


class Parser(argparse.ArgumentParser):
    """A parser that raises ``DesignError`` with one sentence."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.register("type", int, whole_number())
        self.register("type", float, decimal_number)

    def error(self, message: str):
        text = message.removeprefix("argument ")
        raise DesignError(
            f"{text[0].upper()}{text[1:].rstrip('.')}. 'rsdesign --help' shows what can be asked."
        )


def whole_number(low: int | None = None, high: int | None = None):
    """A reader of a whole number as it is typed, from ``low`` to ``high`` where they are given."""
    allowed = "" if low is None else f" from {low} to {high}"

    def read(text: str) -> int:
        try:
            value = int(text)
            if low is None or low <= value <= high:
                return value
        except ValueError:
            pass
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a whole number{allowed}")

    return read


def decimal_number(text: str) -> float:
    """A number as it is typed."""
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a number") from None


def money(text: str) -> float:
    """A sum of money as it is typed on a page or here."""
    from ..core.units import KINDS, UnitError, parse

    try:
        value = parse(text, KINDS["money"])
    except UnitError:
        value = -1.0
    if not 0 <= value < 1e12:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a sum of money from 0 up")
    return value


def date(text: str) -> datetime.date:
    """A day as it is typed."""
    try:
        return read_day(text)
    except DesignError as wrong:
        raise argparse.ArgumentTypeError(str(wrong).rstrip(".")) from None


def add_units(parser) -> None:
    """The display system."""
    words = "gallons, pounds and feet, or litres, kilograms and metres"
    parser.add_argument("--units", choices=("us", "metric"), default="us", help=words)


def add_design(commands, name: str, run, help: str):
    """A command that asks something of a design file; gives its parser."""
    parser = commands.add_parser(name, help=help)
    parser.add_argument(
        "file", metavar="FILE", help="a design file, such as data/designs/family.toml"
    )
    add_units(parser)
    parser.add_argument("--json", action="store_true", help="give the results as JSON")
    parser.set_defaults(run=run)
    return parser
