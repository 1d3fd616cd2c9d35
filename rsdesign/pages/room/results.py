"""The results by which the wall compares designs; each is defined elsewhere and only named here."""

import math
from dataclasses import dataclass

from ...core.choices import DesignError
from ...core.kinds import KINDS, Kind
from ...core.units import SYSTEMS, clipped, from_plain, number, show
from ...design.link import design_of
from ...report import ranges as bands
from ...report.drawings.system import plan_view
from ...report.outage_words import clock
from ...sizing.margins import percent
from ...sizing.system import figure_at, size, value_at
from ...sizing.worst_first import worst_part
from ...studies.costfigures import COST_FIGURES, shown_cost
from ...studies.heat.yearly import full_year

MINUTES = "outage.minutes"


@dataclass(frozen=True, slots=True, eq=False)
class Result:
    """One result: its path, label and kind."""

    path: str
    label: str
    kind: Kind
    money: bool = False

    def shown(self, value: float, system: str, mark: str) -> str:
        """A value with its unit, as text."""
        if not math.isfinite(value):
            return "never" if self.path == MINUTES else "no answer"
        if self.money:
            return " ".join(shown_cost(value, self.kind, system, mark)).strip()
        return clock(value) if self.path == MINUTES else show(value, self.kind, system)

    def axis(self, value: float, system: str) -> float:
        """A value in the unit of a chart."""
        return float(from_plain(value, self.kind.shown(system)))

    def tick(self, plain: float, mark: str) -> str:
        """A number on an axis."""
        sign = "-" if plain < 0 else ""
        return f"{sign}{mark}{number(abs(plain), 2)}" if self.money else number(plain, 2)


def _of_sizing(path: str) -> Result:
    about = figure_at(path)
    return Result(path, about.label, about.kind)


def _of_cost(path: str) -> Result:
    about = COST_FIGURES[path]
    return Result(path, about.label, about.kind, about.kind.family.startswith("money"))


FIRST = ("stock.peak_feed", "cost.each", "cost.each_unpaid", MINUTES)
"""The results on every card, in this order."""
RESULTS: dict[str, Result] = {
    r.path: r
    for r in (
        _of_sizing("stock.peak_feed"),
        _of_cost("cost.each"),
        _of_cost("cost.each_unpaid"),
        Result(MINUTES, "Time to act when the air stops", KINDS["minutes"]),
        _of_cost("cost.harvest"),
        _of_sizing("tank.volume"),
        _of_sizing("flow.required"),
        _of_sizing("filter.area"),
        _of_sizing("air.provided"),
        _of_sizing("water.exchange"),
        _of_sizing("standby.daily_energy"),
        _of_cost("cost.investment"),
        _of_cost("cost.net"),
        _of_cost("cost.net_unpaid"),
        _of_cost("cost.minutes"),
    )
}
"""Every result of the wall by its path."""


@dataclass(frozen=True, slots=True, eq=False)
class ComputedDesign:
    """A design with its results in SI units, what limits it, and its drawing in each unit system."""

    token: str
    design: object
    values: dict[str, float]
    limit: str
    minutes: str
    drawings: dict[str, str]


def result_named(path) -> Result:
    """A result by its path.  Raises ``DesignError``."""
    if not isinstance(path, str) or path not in RESULTS:
        raise DesignError(f"{clipped(path)} is not a result of the wall.")
    return RESULTS[path]


def compute_results(token: str) -> ComputedDesign:
    """Compute the design of a token.  Raises ``DesignError`` with one sentence.

    >>> from rsdesign.design.link import token_of
    >>> from rsdesign.pages.session import demo
    >>> round(compute_results(token_of(demo("family"))).values["stock.peak_feed"] * 86400, 2)
    1.53
    """
    if not isinstance(token, str):
        raise DesignError("That is not a design; reload the page.")
    sizing = size(design_of(token))
    year = full_year(sizing)
    values = {}
    for path, result in RESULTS.items():
        if path == MINUTES:
            value = sizing.standby.minutes_peak
        elif path in COST_FIGURES:
            value = COST_FIGURES[path].of(year)
        else:
            value = value_at(sizing, result.path)
        values[path] = float(value)
    return ComputedDesign(
        token=token,
        design=sizing.design,
        values=values,
        limit=limit_of(sizing),
        minutes=bands.minutes_to_act(sizing, "us"),
        drawings={system: plan_view(sizing, system).svg for system in SYSTEMS},
    )


def limit_of(sizing) -> str:
    """What limits the design, in the words of the line above every page."""
    found = sizing.parts
    worst = worst_part(found)
    line = f"{worst.label}, {percent(worst.margin, worst.form)}"
    short = [p.label.lower() for p in found if p is not worst and p.word == "short"]
    return f"{line}; short too: {', '.join(short)}" if short else line
