"""When to stock and when to harvest, in words that all papers share."""

import datetime

from ..core.kinds import KINDS
from ..core.units import show
from ..season.batch_order import day_that_suits, order_of
from ..sizing.system import Sizing
from .heat_words import day_words


def order_words(
    sizing: Sizing, system: str, start: datetime.date | str | int | None = None
) -> list[str]:
    """When to stock and until when to harvest, where a season ends; no words where none does."""
    order = order_of(sizing, start)
    if not order.ends or order.first is None or order.last is None:
        return []
    between = f"between {day_words(order.first)} and {day_words(order.last)}"
    if not order.suits:
        return [
            f"On the day of stocking that you told, the water does not suit these fish: stock {between}."
        ]
    weight = show(order.weight, KINDS["fish weight"], system)
    words = {
        "cold": "A cold night of the winter kills those left.",
        "heat": "The heat after that kills those left.",
    }[order.ends]
    stock = (
        f"Stock on {day_words(order.first)}, the first day on which the water suits these fish."
        if start is None
        else f"The water suits these fish {between}."
    )
    return [stock, f"Harvest on day {order.days} at the latest, at about {weight}. {words}"]


def moved_words(sizing: Sizing, told: datetime.date | None) -> str:
    """That all dates are for a later day than the one told, where the water does not suit the fish on it; else ""."""
    day = day_that_suits(sizing, told)
    if told is None or day is None or day == told:
        return ""
    return (
        f"On the day of stocking that you told, {told.isoformat()}, the water does not suit these fish. The dates here"
        f" are for {day.isoformat()}, the first day after it that suits them."
    )
