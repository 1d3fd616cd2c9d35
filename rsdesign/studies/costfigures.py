"""The figures of a budget by their paths, and the working behind each of them."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from ..core.choices import DesignError
from ..core.equation import record, working
from ..core.kinds import KINDS, Kind
from ..core.units import clipped, from_plain, number
from ..design.model import Design
from ..sizing.system import size
from ..sizing.working import WorkedStep, worked_step
from .enterprise import Enterprise, enterprise

STAGE = "cost"
WHOLE = 1000.0
"""Sums of money from here up are worked without cents."""


@dataclass(frozen=True, slots=True)
class CostFigure:
    """One figure of a budget: its words, its kind, and where it stands."""

    name: str
    label: str
    kind: Kind
    of: Callable[[Enterprise], object]

    @property
    def path(self) -> str:
        """The dotted path, such as ``cost.net``."""
        return f"{STAGE}.{self.name}"


COST_FIGURES: dict[str, CostFigure] = {
    f.path: f
    for f in (
        CostFigure("each", "Cost of fish, own hours paid", KINDS["price of mass"],
                   lambda e: e.budget.cost_of_each),
        CostFigure("each_unpaid", "Cost of fish, own hours unpaid", KINDS["price of mass"],
                   lambda e: e.budget.cost_of_each_unpaid),
        CostFigure("break_even", "Price at which the year just pays", KINDS["price of mass"],
                   lambda e: e.budget.break_even),
        CostFigure("net", "Left over in a year, own hours paid", KINDS["money"],
                   lambda e: e.budget.net),
        CostFigure("net_unpaid", "Left over in a year, own hours unpaid", KINDS["money"],
                   lambda e: e.budget.net_unpaid),
        CostFigure("wage_earned", "What an hour of own work earns", KINDS["wage"],
                   lambda e: e.budget.wage_earned),
        CostFigure("harvest", "Fish harvested in a year", KINDS["mass"], lambda e: e.harvest),
        CostFigure("batches", "Batches in a year", KINDS["count"], lambda e: e.batches),
        CostFigure("feed", "Feed in a year", KINDS["mass"], lambda e: e.feed),
        CostFigure("investment", "First cost", KINDS["money"], lambda e: e.investment),
        CostFigure("minutes", "Own work on a mean day", KINDS["minutes"],
                   lambda e: e.minutes_a_day),
        CostFigure("energy", "Energy for each weight of fish", KINDS["energy per fish"],
                   lambda e: e.energy_for_each),
    )
}  # fmt: skip
"""Every figure of a budget that a page shows, by its path."""


def cost_figure(path: str) -> CostFigure:
    """What is known of a cost figure, by its path.  Raises ``DesignError`` with one sentence."""
    if path not in COST_FIGURES:
        raise DesignError(
            f"{clipped(path)} is not a cost figure; there are {', '.join(COST_FIGURES)}."
        )
    return COST_FIGURES[path]


def shown_cost(value, kind: Kind, system: str, currency: str) -> tuple[str, str]:
    """A figure of money, or another one, as its number and its unit; whole sums to the unit.

    >>> shown_cost(11.0231, KINDS["price of mass"], "us", "$")
    ('$5.00', 'per lb')
    """
    unit = kind.shown(system)
    plain = float(from_plain(value, unit))
    if kind.family == "money":
        return _marked(f"{abs(plain):,.0f}", plain, currency), ""
    if kind.family.startswith("money per"):
        places = 2 if abs(plain) >= 0.1 or plain == 0 else 4
        return _marked(f"{abs(plain):,.{places}f}", plain, currency), unit.label
    return number(plain), unit.label


def _marked(text: str, value: float, currency: str) -> str:
    sign = "-" if value < 0 and any(c in "123456789" for c in text) else ""
    return f"{sign}{currency}{text}"


def worked_costs(
    design: Design, paths: list[str], system: str = "us", **extra
) -> dict[str, list[WorkedStep]]:
    """The chain of steps behind each cost figure, by its path such as ``cost.each``.

    The steps go on into the sizing: from the cost of a pound to the feed, and to why the fish eat
    so much.  Takes one design (no arrays).
    """
    wanted = {path: cost_figure(path) for path in paths}
    mark = design.prices.currency
    with record() as steps:
        found = enterprise(size(design), **extra)
        values = {path: figure.of(found) for path, figure in wanted.items()}
    return {
        path: [_in_money(worked_step(step, system), system, mark) for step in working(steps, value)]
        for path, value in values.items()
    }


def _in_money(step: WorkedStep, system: str, mark: str) -> WorkedStep:
    """The same step with the mark of the currency at every sum of money."""
    about = step.step.equation
    given = {name: v for name, v in step.step.given.items() if v is not None}
    lines = tuple(
        replace(
            line,
            value=_with_mark(line.value, about.kinds[line.name], given[line.name], system, mark),
        )
        for line in step.lines
    )
    value = _with_mark(step.value, about.result, step.step.result, system, mark)
    return replace(step, lines=lines, value=value)


def _with_mark(text: str, kind, value, system: str, mark: str) -> str:
    if not isinstance(kind, Kind) or not kind.family.startswith("money"):
        return text
    if kind.family == "money" and abs(float(value)) < WHOLE:
        return _marked(f"{abs(float(value)):,.2f}", float(value), mark)
    return shown_cost(value, kind, system, mark)[0]
