"""The bill of materials: every purchase of a layout with its size, count, price, use and order."""

import math
from dataclasses import dataclass

from ..equations.costs.annual import equivalent_annual
from ..studies.enterprise import ITEMS, Item, bought
from .circuits import circuits
from .cuts import cuts
from .graph import Layout
from .parts_electric import electric
from .parts_flow import fittings, pipes
from .parts_machines import machine_rows
from .parts_rest import rest
from .parts_vessels import big_things
from .prices import NONE, OwnPrices
from .row import ORDER, Row


@dataclass(frozen=True, slots=True, eq=False)
class Bill:
    """Every row in the order in which it is bought, beside the parts that the budget counts."""

    layout: Layout
    rows: tuple[Row, ...]
    items: tuple[Item, ...]
    """The parts of the budget, with their life."""

    @property
    def planned(self) -> dict[str, float]:
        """First cost of each part as the budget reckons it, by the budget's name."""
        return {item.name: float(item.cost) for item in self.items}

    @property
    def total(self) -> float:
        """All rows together."""
        return math.fsum(row.amount for row in self.rows)

    def of(self, item: str) -> float:
        """What the rows of one part of the budget come to; "" for what the budget does not count."""
        return math.fsum(row.amount for row in self.rows if row.budget == item)

    @property
    def plan_total(self) -> float:
        """The first cost that the budget reckons with."""
        return math.fsum(self.planned.values())

    @property
    def more_a_year(self) -> float:
        """What this list adds to the cost of a year: equal yearly cost at each part's life, repairs, insurance.

        What the budget does not count lasts as long as the tanks.
        """
        terms = self.layout.sizing.design.terms
        kept = float(terms.repairs) + float(terms.insurance)
        found = (self.total - self.plan_total) * kept
        lives = {item.name: float(item.life) for item in self.items}
        for name, plan in (*self.planned.items(), ("", 0.0)):
            more = self.of(name) - plan
            life = lives[name or "tank"]
            found += float(equivalent_annual(more, life, terms.rate, more * float(terms.salvage)))
        return found

    def differences(self) -> tuple[tuple[str, float, float, str], ...]:
        """Part, the budget's first cost, the rows' amount, why they differ; the rest last."""
        labels = {name: label for name, _, label, *_ in ITEMS}
        found = [
            (labels[name], plan, self.of(name), WHY[name]) for name, plan in self.planned.items()
        ]
        return (*found, ("Not in the budget's plan", 0.0, self.of(""), WHY[""]))


WHY = {
    "tank": "the same price and size",
    "settler": "the same price and size",
    "media": "the same price; here in whole bags",
    "vessel": "the same price and size",
    "air_machine": "the same plates and price, spares too",
    "stones": "the same; discs cost as much as the stones that they stand in for",
    "pump": "the same plates and price",
    "pipe": "the budget: a price for each foot that the design counts; here whole lengths of every pipe as laid"
    " out, with fittings, valves, screens, hose, straps, adapters and cement",
    "backup": "here by the watts of air that a power cut asks for, with batteries and charger or what it needs",
    "lid": "the same price and area",
    "meters": "the same set",
    "electrics": "here by the circuit, with wire, breakers and ground-fault protection",
    "": "sump, screen box, beds, pits, stands, sand, covers, spare pump and spare parts, alarm and its sensors,"
    " fence and gate, a heater where the design has one, mats and small things",
}
"""Why the list and the budget's plan differ, by the budget's name."""


def bill(layout: Layout, own: OwnPrices = NONE) -> Bill:
    """Everything to buy for a layout.

    Parameters:
        layout: what ``layout`` gives; its design holds the prices of the budget.
        own: prices of parts from one's own file, ``own_prices``.
    Returns: the ``Bill``.

    >>> from rsdesign import Design, size
    >>> from rsdesign.building.layout import layout
    >>> bill(layout(size(Design().with_(goal_fish=180)))).rows[0].label
    'Fish tank'
    """
    items = bought(layout.sizing)
    plan = {item.name: float(item.cost) for item in items}
    cut = cuts(layout)
    rows = [
        *big_things(layout, plan, own),
        *pipes(layout, cut, own),
        *fittings(layout, cut, own),
        *machine_rows(layout, own),
        *electric(layout, circuits(layout), own),
        *rest(layout, plan, own),
    ]
    rows.sort(key=lambda row: ORDER.index(row.group))
    return Bill(layout, tuple(rows), items)
