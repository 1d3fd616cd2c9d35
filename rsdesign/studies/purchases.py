"""What may be bought next: the price table, and a design with one purchase added."""

from dataclasses import dataclass

from ..core import tables
from ..core.kinds import KINDS, Money, Years
from ..core.tables import SourcedRow
from ..core.units import parse
from ..sizing.system import Sizing


@dataclass(frozen=True, slots=True)
class Purchase(SourcedRow):
    """One thing to buy.  ``adds`` is a medium, "air", "pump" or "tank"; ``amount`` how much."""

    name: str
    label: str
    price: Money
    life: Years
    adds: str
    amount: str


def purchases() -> tuple[Purchase, ...]:
    """Every row of the price table."""
    return tables.read("purchases", Purchase)


def bought(base: Sizing, purchase: Purchase, count: int) -> dict | None:
    """The choices that so many of one purchase change, added to what is owned.

    ``None`` where the thing does not fit: a medium other than the design's, or a part that the
    sizing chooses anyway.
    """
    design = base.design
    air, pump = design.air, design.pump
    owned = {
        "air": any(x is not None for x in (air.flow, air.plate_watts, air.device)),
        "pump": pump.none or any(x is not None for x in (pump.flow, pump.bucket_time, pump.model)),
        "tank": design.tank.width is not None,
        design.filter.medium: design.filter.media_volume is not None,
    }
    if not owned.get(purchase.adds, False):
        return None
    if purchase.adds == "tank":
        return {"tank.count": float(base.stock.tanks) + count}
    if purchase.adds == "air":
        more = count * parse(purchase.amount, KINDS["air flow"])
        return {"air.flow": base.air.total + more, "air.device": None, "air.plate_watts": None}
    if purchase.adds == "pump":
        more = count * parse(purchase.amount, KINDS["flow"])
        has = 0.0 if pump.none else base.pump.flow
        return {"pump.flow": has + more, "pump.bucket_time": None, "pump.model": None,
                "pump.none": False}  # fmt: skip
    more = count * parse(purchase.amount, KINDS["media volume"])
    return {"filter.media_volume": base.filter.media_volume + more}
