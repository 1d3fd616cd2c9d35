"""The money of a season, day by day: what is bought, and what the harvest brings."""

from dataclasses import dataclass

import numpy as np

from ..core.unit_table import DAY
from ..design.prices import prices_of
from ..equations.costs.budget import line
from ..equations.water import carbonate
from ..sizing.system import Sizing
from .crop import Fish
from .water_course import WaterCourse

YEAR = 365.25
RECEIPTS = ("sales", "home_use")
EVEN = ("test_kits", "supplies", "permit")
"""Sums for the year that fall evenly on its days."""


@dataclass(frozen=True, slots=True, eq=False)
class Money:
    """Money by line, days x designs, all above zero; and what is left of it at the end of each day."""

    lines: dict[str, np.ndarray]
    flow: np.ndarray
    balance: np.ndarray

    def left_open(self) -> np.ndarray:
        """What the balance leaves open beside the sum of its lines."""
        came = sum(self.lines[name] for name in RECEIPTS)
        went = sum(value for name, value in self.lines.items() if name not in RECEIPTS)
        return self.balance - np.cumsum(came, axis=0) + np.cumsum(went, axis=0)


def money_of(sizing: Sizing, fish: Fish, water: WaterCourse, moved, base) -> Money:
    """The money of each day; own hours and what was bought before the season are left out."""
    s, d = sizing, sizing.design
    price = {name: found.value for name, found in prices_of(d).items()}
    new, out = moved["new"] * DAY, moved["out"] * DAY
    good = fish.harvested * d.terms.saleable
    home = good * d.terms.home_share
    sold = good - home
    treated = 0.0 if d.source.disinfectant == "none" else 1.0
    amounts = {
        "sales": (sold, "fish"),
        "home_use": (home, "home_fish"),
        "fingerlings": (fish.fingerlings, "fingerling"),
        "feed": (fish.feed, "feed"),
        "electricity": (s.standby.daily_energy + 0.0 * new, "electricity"),
        "heating": (water.heating * DAY, "electricity"),
        "water": (new, "water"),
        "dechlorinator": (new * treated, "dechlorinator"),
        "discharge": (out, "discharge"),
        "base": (carbonate.bicarbonate_dose.__wrapped__(base), "base"),
        "ice": (sold, "ice"),
    }
    lines = {
        n: line.__wrapped__(amount, price[p]) + 0.0 * new for n, (amount, p) in amounts.items()
    }
    lines |= {name: price[name] / YEAR + 0.0 * new for name in EVEN}
    flow = sum(v if n in RECEIPTS else -v for n, v in lines.items())
    return Money(lines, flow, np.cumsum(flow, axis=0))
