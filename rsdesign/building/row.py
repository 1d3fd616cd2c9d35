"""One row of the bill of materials."""

from dataclasses import dataclass, replace

from ..core.kinds import KINDS
from .prices import OwnPrices, listed_parts
from .problems import Phrase

GROUPS = {
    "vessels": "Tanks and vessels",
    "ground": "Ground, stands and covers",
    "machines": "Machines and what stands ready",
    "drains": "Drains, gravity pipes and their fittings",
    "pressure": "Pressure pipe and its fittings",
    "air": "Air pipe, hose and bubbles",
    "electric": "Electric, with the electrician",
    "media": "Media and mats",
    "water": "Water, tests and care",
}
"""What is bought together, in the order in which it is bought."""
ORDER = tuple(GROUPS)


NOTHING = Phrase("")


@dataclass(frozen=True, slots=True)
class Row:
    """A purchase: what, of which size, how many, at which price, for what, and why.

    ``count`` is in plain units of ``kind`` ("count" for pieces, "length", "area", "media volume",
    "power") and ``price`` is money for one of them.  ``budget`` names the part of the yearly budget that
    it belongs to, "" where that counts nothing for it.  ``own``: whether the price is the user's.
    """

    group: str
    name: str
    label: str
    size: Phrase
    count: float
    kind: str
    price: float
    used: str
    why: str
    budget: str = ""
    own: bool = False
    spare: bool = False
    listed: str = ""
    """The price of the budget's list that this price follows; "" for a price of ``[parts]``."""
    note: Phrase = NOTHING
    """What a buyer asks about it, in a sentence or two; no words where there is no question."""

    @property
    def amount(self) -> float:
        """Count times price."""
        return self.count * self.price

    def unit(self, system: str):
        """The unit in which the count is shown."""
        return KINDS[self.kind].shown(system)


def priced(
    own: OwnPrices, group: str, name: str, label: str, size: Phrase, count: float, used: str, why: str,
    by: float | None = None, budget: str = "", spare: bool = False, note: Phrase = NOTHING,
) -> Row:  # fmt: skip
    """A row whose price comes from the list of parts, or from one's own file."""
    found = own.parts.get(name) or listed_parts()[name]
    return Row(group, name, label, size, float(count), found.kind, found.of(by), used, why, budget,
               found.own, spare, note=note)  # fmt: skip


def pieces(row: Row, each: float, count: float) -> Row:
    """A row priced by the area or the length as so many pieces of ``each`` in its plain unit."""
    return replace(row, count=float(count), kind="count", price=row.price * each)
