"""Prices of a design: its own where it names them, else the price list in ``data/prices.toml``."""

import functools
import tomllib
from dataclasses import dataclass
from pathlib import Path

from ..core.choices import DesignError
from ..core.folders import data_folder
from ..core.kinds import Number, UnitError
from ..core.units import parse
from .model import FIELDS, Design

NAMES = tuple(
    path.partition(".")[2]
    for path, field in FIELDS.items()
    if field.section == "prices" and field.kind is not None
)
"""Every price by its name in a design."""


@dataclass(frozen=True, slots=True)
class Price:
    """One price: its plain number, and where and when it comes from."""

    name: str
    value: Number
    date: str
    source: str


@functools.cache
def listed(path: Path | None = None) -> dict[str, Price]:
    """The price list, by name.  Raises ``DesignError`` when it misses a price or misspells one."""
    path = path or data_folder() / "prices.toml"
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        rows = table["prices"]
        found = {
            name: Price(name, _number(name, row["price"]), row["date"], table["note"])
            for name, row in rows.items()
        }
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, KeyError, TypeError) as wrong:
        raise DesignError(f"The price list {path.name} cannot be read: {wrong}.") from None
    missing = set(NAMES) - set(found)
    if missing:
        raise DesignError(f"The price list {path.name} lacks {', '.join(sorted(missing))}.")
    return found


def _number(name: str, text: str) -> float:
    if name not in NAMES:
        raise DesignError(f"The price list names {name!r}, which is not a price.")
    try:
        return parse(text, FIELDS[f"prices.{name}"].measure)
    except UnitError as wrong:
        raise DesignError(f"The price of {name}: {wrong}") from None


def prices_of(design: Design) -> dict[str, Price]:
    """Every price that a design is reckoned with.

    Parameters:
        design: the ``Design``; a price given in it comes before the list.
    Returns: each ``Price`` by its name, with its plain number, date and source (``data/prices.toml``).
    Raises: ``DesignError`` when the list misses a price or misspells one.

    >>> "electricity" in prices_of(__import__("rsdesign").Design())
    True
    """
    found = dict(listed())
    for name in NAMES:
        own = getattr(design.prices, name)
        if own is not None:
            found[name] = Price(name, own, "", "the design")
    return found
