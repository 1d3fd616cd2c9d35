"""What the budget bears: bad prices, bad yields, a lost batch; and what moves it most.

``extra``: the heating energy and the evaporation of a year, as ``enterprise`` takes them.
"""

from dataclasses import dataclass
from typing import Any

from ..design.model import FIELDS, with_values
from ..design.prices import prices_of
from ..equations.costs.budget import break_even_yield
from ..sizing.system import Sizing, size
from .enterprise import Enterprise, enterprise

STRESSES = (
    ("fish price half", {"prices.fish": 0.5}),
    ("feed price a quarter up", {"prices.feed": 1.25}),
    ("a fifth less fish to sell", {"terms.saleable": 0.8}),
    ("electricity half up", {"prices.electricity": 1.5}),
    ("own hours at nothing", {"prices.wage": 0.0}),
    ("a batch lost every second year", {"terms.loss_every": 0.4}),
)
"""The set that a teaching budget is tried with: words, and what is multiplied by what."""

MOVERS = ("prices.fish", "prices.feed", "prices.fingerling", "prices.electricity", "prices.wage",
          "prices.water", "prices.tank", "prices.media", "prices.air_machine", "terms.saleable",
          "terms.rate", "terms.life_tank", "stock.survival", "stock.feed_conversion")  # fmt: skip
MOVE = 0.10


@dataclass(frozen=True, slots=True)
class Stressed:
    """One bad turn: net return with own hours paid and unpaid."""

    words: str
    net: float
    net_unpaid: float


@dataclass(frozen=True, slots=True)
class Mover:
    """One figure moved by a tenth either way: how far the net return goes."""

    path: str
    label: str
    down: float
    up: float

    @property
    def span(self) -> float:
        """The distance between the two."""
        return abs(self.up - self.down)


@dataclass(frozen=True, slots=True)
class BreakEven:
    """What a figure must be for the year to pay for itself, all else held; None where none is."""

    words: str
    path: str
    value: float | None
    now: float


def _changed(sizing: Sizing, factors: dict[str, float], extra: dict[str, Any]) -> Enterprise:
    """The enterprise with some figures multiplied; what is capped stays within its range."""
    design, prices = sizing.design, prices_of(sizing.design)
    values = {}
    for path, factor in factors.items():
        section, _, name = path.partition(".")
        now: Any = (
            prices[name].value if section == "prices" else getattr(getattr(design, section), name)
        )
        about = FIELDS[path].choice
        values[path] = min(max(now * factor, about.low), about.high)
    changed = with_values(design, values)
    again = size(changed) if any(not p.startswith(("prices", "terms")) for p in factors) else None
    return enterprise(again or _same(sizing, changed), **extra)


def _same(sizing: Sizing, design) -> Sizing:
    """The sizing with another design of which only money differs."""
    import dataclasses  # noqa: PLC0415

    return dataclasses.replace(sizing, design=design)


def stressed(sizing: Sizing, **extra: Any) -> list[Stressed]:
    """The net return as it stands, and after each bad turn.

    Parameters:
        sizing: what ``size`` gives, of one design.
        extra: ``heating_energy`` [J], ``evaporation`` [m³] and ``allowed`` of ``enterprise``.
    Returns: a list, the plan first, net return in money.
    Source: ``enterprise``; which changes are tried is a choice of this project, for teaching.

    >>> from rsdesign import load, size
    >>> len(stressed(size(load("family")))) > 2
    True
    """
    base = enterprise(sizing, **extra)
    rows = [Stressed("as planned", float(base.budget.net), float(base.budget.net_unpaid))]
    for words, factors in STRESSES:
        lines = _changed(sizing, factors, extra).budget
        rows.append(Stressed(words, float(lines.net), float(lines.net_unpaid)))
    lost = base.budget
    rows.append(Stressed(
        "no batch harvested this year", float(lost.net - lost.receipts + lost.ice),
        float(lost.net_unpaid - lost.receipts + lost.ice),
    ))  # fmt: skip
    return rows


def movers(sizing: Sizing, **extra: Any) -> list[Mover]:
    """Each figure moved by a tenth alone, the one that moves the net return most first.

    Parameters:
        sizing: what ``size`` gives, of one design.
        extra: ``heating_energy`` [J], ``evaporation`` [m³] and ``allowed`` of ``enterprise``.
    Returns: a list with the net return [money] a tenth below and above.
    Source: ``enterprise``, computed anew with each price or share a tenth lower and higher.

    >>> from rsdesign import load, size
    >>> len(movers(size(load("family")))) > 2
    True
    """
    rows = []
    for path in MOVERS:
        down, up = (float(_changed(sizing, {path: f}, extra).budget.net)
                    for f in (1 - MOVE, 1 + MOVE))  # fmt: skip
        rows.append(Mover(path, FIELDS[path].choice.label, down, up))
    return sorted(rows, key=lambda row: -row.span)


def break_evens(sizing: Sizing, **extra: Any) -> list[BreakEven]:
    """Fish price, feed price, electricity price, wage and weight sold at which the year just pays.

    Parameters:
        sizing: what ``size`` gives, of one design.
        extra: ``heating_energy`` [J], ``evaporation`` [m³] and ``allowed`` of ``enterprise``.
    Returns: a list; the value of one is None where none pays.
    Source: ``equations.costs.budget.break_even_yield`` and ``enterprise``.

    >>> from rsdesign import load, size
    >>> len(break_evens(size(load("family")))) > 2
    True
    """
    found = enterprise(sizing, **extra)
    lines, prices = found.budget, prices_of(sizing.design)
    value = {name: float(p.value) for name, p in prices.items()}
    rows = [BreakEven("price of fish, own hours paid", "prices.fish", float(lines.break_even), value["fish"]),
            BreakEven("price of fish, own hours unpaid", "prices.fish", float(lines.break_even_unpaid),
                      value["fish"])]  # fmt: skip
    for words, name in (
        ("price of feed", "feed"),
        ("price of electricity", "electricity"),
        ("an hour of work", "wage"),
    ):
        rows.append(BreakEven(words, f"prices.{name}", _linear(sizing, name, extra), value[name]))
    whole = float(lines.costs / value["fish"]) if value["fish"] > 0 else None
    rows.append(
        BreakEven("weight sold, if costs stand still", "stock.harvest", whole, float(lines.sold))
    )
    each = float(lines.variable / (lines.sold + lines.home))
    part = (
        float(break_even_yield.__wrapped__(lines.fixed, value["fish"], each))
        if value["fish"] > each
        else None
    )
    rows.append(
        BreakEven(
            "weight sold, if running costs follow it", "stock.harvest", part, float(lines.sold)
        )
    )
    return rows


def _linear(sizing: Sizing, name: str, extra: dict) -> float | None:
    """The price at which the net return is nothing: the budget is linear in each price."""
    step = float(prices_of(sizing.design)[name].value) or 1e-9  # linear: the wider, the sharper
    zero, one = (float(enterprise(_same(sizing, with_values(sizing.design, {f"prices.{name}": p})), **extra).budget.net)
                 for p in (0.0, step))  # fmt: skip
    slope = (one - zero) / step
    found = -zero / slope if slope else None
    return found if found is not None and found >= 0 else None
