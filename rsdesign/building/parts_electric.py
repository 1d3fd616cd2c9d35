"""Purchases: wire, breakers, protection and the electrician, counted from the circuits."""

from collections import Counter

from .circuits import Circuit, heaters
from .graph import Layout
from .prices import OwnPrices
from .problems import Phrase, phrase
from .row import Row, pieces, priced

CHECK = "a licensed electrician checks it before it is bought"


def electric(layout: Layout, found: tuple[Circuit, ...], own: OwnPrices) -> list[Row]:
    """What the circuits ask for; every count is for a licensed electrician to check."""
    rows = []
    for (volts, breaker), many in sorted(Counter((c.volts, c.breaker) for c in found).items()):
        size = Phrase(f"{volts:.0f} V, {breaker:.0f} A")
        used = "circuits " + ", ".join(
            str(c.number) for c in found if (c.volts, c.breaker) == (volts, breaker)
        )
        rows.append(
            priced(
                own, "electric", "breaker", "Breaker", size, many, used, CHECK, breaker, "electrics"
            )
        )
        rows.append(priced(own, "electric", "ground-fault protection", "Ground-fault protection (GFCI)", size,
                           many, used, CHECK, breaker, "electrics"))  # fmt: skip
        way = sum(c.way for c in found if (c.volts, c.breaker) == (volts, breaker))
        each = phrase(f"{volts:.0f} V, {breaker:.0f} A, {{way}} for each circuit: measure yours",
                      way=(way / many, "length"))  # fmt: skip
        rows.append(priced(own, "electric", "wire", "Wire in its conduit", each, way, used, CHECK, breaker,
                           "electrics"))  # fmt: skip
    many = len(found)
    rows.append(priced(own, "electric", "outlet with a cover", "Outlet with a cover for wet places",
                       Phrase("one for each circuit"), many, "each circuit", CHECK, budget="electrics"))  # fmt: skip
    rows.append(priced(own, "electric", "electrician", "Licensed electrician, for each circuit",
                       phrase("{n} circuits", n=(float(many), "count")), many, "each circuit",
                       "power near water kills", budget="electrics"))  # fmt: skip
    return [*rows, *_heaters(layout, own)]


def _heaters(layout: Layout, own: OwnPrices) -> list[Row]:
    many, watts = heaters(layout.sizing)
    if not many:
        return []
    row = priced(own, "machines", "heater", "Water heater", phrase("{watts} at the wall", watts=(watts, "power")), 1,
                 "tank", "holds the water on the cold day", note=Phrase(HEATER))  # fmt: skip
    return [pieces(row, watts, many)]


HEATER = "With a thermostat, a guard, and a switch that cuts it off when the water is low."
