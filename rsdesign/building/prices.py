"""Prices of parts by their size: the list in ``data/prices.toml``, and one's own file of the same form."""

import functools
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

from ..core.choices import DesignError
from ..core.folders import data_folder
from ..core.kinds import KINDS, UnitError
from ..core.units import clipped, parse
from ..design.model import FIELDS, Design, with_values
from ..design.prices import NAMES

SIZED_BY = {"in": "pipe diameter", "gal": "volume", "gpm": "flow", "W": "power", "L": "volume",
            "mm": "pipe diameter"}  # fmt: skip
"""The kind of a size by its unit; a size in amperes is a plain number."""
SOLD_BY = {"each": "count", "ft": "length", "m": "length", "ft²": "area", "m²": "area",
           "ft³": "media volume", "m³": "media volume", "W": "power"}  # fmt: skip
"""The kind of what a price is for, by its unit."""


@dataclass(frozen=True, slots=True)
class PartPrice:
    """The price of a part: of one at a size, and how it grows with the size.

    ``price`` is money for one plain (SI) unit of ``kind``; ``at`` a plain size, or None where it has none.
    """

    name: str
    price: float
    kind: str
    at: float | None
    exponent: float
    own: bool = False

    def of(self, size: float | None = None) -> float:
        """The price for a size.

        >>> PartPrice("elbow", 3.0, "count", 0.05, 2.0).of(0.1)
        12.0
        """
        if size is None or self.at is None:
            return self.price
        return self.price * (size / self.at) ** self.exponent


def _size(text: str) -> float:
    unit = text.rsplit(maxsplit=1)[-1]
    if unit == "A":
        return float(text.split(maxsplit=1)[0])
    return parse(text, KINDS[SIZED_BY[unit]])


def _money(value) -> float:
    price = parse(str(value), KINDS["money"])
    if not 0.0 <= price < 1e9:
        raise ValueError(f"{value!r} is not a price from 0 up")
    return price


def _row(name: str, row: dict) -> PartPrice:
    unit = row["unit"]
    factor = 1.0 if unit == "each" else KINDS[SOLD_BY[unit]].unit(unit).factor
    at = _size(row["at"]) if "at" in row else None
    return PartPrice(name, _money(row["price"]) / factor, SOLD_BY[unit], at,
                     float(row.get("exponent", 0.0)))  # fmt: skip


@functools.cache
def listed_parts() -> dict[str, PartPrice]:
    """The invented list of ``data/prices.toml``, by the part's name."""
    table = tomllib.loads((data_folder() / "prices.toml").read_text(encoding="utf-8"))
    return {name: _row(name, row) for name, row in table["parts"].items()}


@dataclass(frozen=True, slots=True)
class OwnPrices:
    """A price file of one's own: prices of the design's list, and of parts."""

    prices: dict[str, str]
    parts: dict[str, PartPrice]

    def into(self, design: Design) -> Design:
        """The design reckoned with these prices."""
        return with_values(design, {f"prices.{k}": v for k, v in self.prices.items()})


NONE = OwnPrices({}, {})


def own_prices(path: str | Path) -> OwnPrices:
    """Read a price file: ``[prices]`` and ``[parts]`` as in ``data/prices.toml``, either may be left out.

    A part may be ``elbow = "3.10"``, the price of one at the size of the list, or a whole row.
    Raises ``DesignError`` with the name that is wrong and what there is.
    """
    shown = clipped(str(path), 200)
    try:
        table = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise DesignError(
            f"The price file {shown} cannot be read: {getattr(wrong, 'strerror', None) or wrong}."
        ) from None
    spare = set(table) - {"prices", "parts", "note"}
    if spare:
        raise DesignError(
            f"The price file {shown} holds {sorted(spare)[0]!r}; it may hold [prices] and [parts]."
        )
    rows = {name: table.get(name, {}) for name in ("prices", "parts")}
    for name, row in rows.items():
        if not isinstance(row, dict):
            raise DesignError(f"In the price file {shown}, {name} is not a table: write [{name}].")
    return OwnPrices(
        {name: _own_price(shown, name, row) for name, row in rows["prices"].items()},
        {name: _own_part(shown, name, row) for name, row in rows["parts"].items()},
    )


def _own_price(shown: str, name: str, row):
    if name not in NAMES:
        raise DesignError(
            f"The price file {shown} names the price {clipped(name)!r}; there are {', '.join(NAMES)}."
        )
    text = row["price"] if isinstance(row, dict) and "price" in row else row
    try:
        return parse(str(text), FIELDS[f"prices.{name}"].measure)
    except (UnitError, ValueError) as wrong:
        raise DesignError(f"In the price file {shown}, the price of {name}: {wrong}") from None


def _own_part(shown: str, name: str, row) -> PartPrice:
    known = listed_parts()
    if name not in known:
        raise DesignError(
            f"The price file {shown} names the part {clipped(name)!r}; there are {', '.join(known)}."
        )
    try:
        if isinstance(row, dict):
            return replace(_row(name, row), own=True)
        factor = known[name].price / _listed_price(name)
        return replace(known[name], price=_money(row) * factor, own=True)
    except (UnitError, ValueError, KeyError, TypeError) as wrong:
        raise DesignError(
            f"In the price file {shown}, the part {name}: {wrong}. Write it as in data/prices.toml, such as"
            f' {name} = "3.10".'
        ) from None


def _listed_price(name: str) -> float:
    table = tomllib.loads((data_folder() / "prices.toml").read_text(encoding="utf-8"))
    return _money(table["parts"][name]["price"])
