"""What may be bought next: the price table, and a design with one purchase added."""

from dataclasses import dataclass

from .. import tables
from ..design import Design, with_values
from ..kinds import KINDS, Money, Years
from ..sizing import Sizing
from ..units import parse


@dataclass(frozen=True, slots=True)
class Purchase:
    """One thing to buy.  ``adds`` is a medium, "air", "pump" or "tank"; ``amount`` how much."""

    name: str
    label: str
    price: Money
    life: Years
    adds: str
    amount: str
    source: str
    place: str
    basis: str
    range: str


def purchases() -> tuple[Purchase, ...]:
    """Every row of the price table."""
    return tables.read("purchases", Purchase)


def bought(design: Design, base: Sizing, purchase: Purchase, count: int) -> Design | None:
    """The design with so many of one purchase added to what is owned.

    ``None`` where the thing does not fit: a medium other than the design's, or a part that the
    sizing chooses anyway.
    """
    if purchase.adds == "air":
        known = (design.air.flow, design.air.plate_watts, design.air.device)
        if all(value is None for value in known):
            return None
        more = count * parse(purchase.amount, KINDS["air flow"])
        return with_values(
            design,
            {"air.flow": base.air.provided + more, "air.device": None, "air.plate_watts": None},
        )
    if purchase.adds == "pump":
        known = (design.pump.flow, design.pump.bucket_time, design.pump.model)
        if all(value is None for value in known):
            return None
        more = count * parse(purchase.amount, KINDS["flow"])
        return with_values(
            design,
            {"pump.flow": base.pump.flow + more, "pump.bucket_time": None, "pump.model": None},
        )
    if purchase.adds == "tank":
        if design.tank.width is None:
            return None
        return with_values(design, {"tank.count": float(base.stock.tanks) + count})
    if design.filter.media_volume is None or purchase.adds != design.filter.medium:
        return None
    more = count * parse(purchase.amount, KINDS["media volume"])
    return with_values(design, {"filter.media_volume": base.filter.media_volume + more})
