"""What becomes of a built design in each draw: which checks stand, by how much, and what fish cost."""

from dataclasses import dataclass, replace

import numpy as np

from ...design.model import Design, with_values
from ...sizing.checks.forms import TRUTHS, Reading, stands
from ...sizing.checks.rows import CheckRow, check_rows
from ...sizing.judging import SLACK
from ...sizing.margins import parts
from ...sizing.system import Sizing, unchecked
from ..enterprise import enterprise
from ..fishyear import Allowed
from ..heat.yearly import Weathered

EMERGENCY = "power"
"""The part whose checks are for the hour in which the power fails: never judged by chance alone."""
RATIOS = ("at least", "at most", "inside")
"""Forms of checks whose margin is a ratio, so that the margins of several can be compared."""
OF_INPUTS = ("stock.ration", "loads.faecal_share", "ph_apart")
"""Checks that ask whether the numbers of a design fit each other, not whether the system stands."""
NEAR = 0.02
"""A ratio that is short by less counts as kept: no flow, volume or weight is measured closer than 2 % on a
farm, and parts that were sized to fit exactly would else fall short by a hair in half of all draws.  A judgement,
from memory: of the family's design it decides on settler, drain and flow through the tank's cross-section (1.00, 0.88
and 1.00 of the draws with it, 0.80, 0.56 and 0.20 without); every page and text that tells a chance says so."""
LEAST, MOST = 0.01, 100.0
"""Ends between which a margin is told apart: beyond them a part is far too small, or far larger than needed."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One check that is judged in each draw: its words, and how it stands as planned."""

    name: str
    part: str
    label: str
    row: CheckRow | None
    stands: bool
    margin: float
    ratio: bool

    @property
    def emergency(self) -> bool:
        """Whether it is about the hour in which the power fails, so that no chance is told of it."""
        return self.part == EMERGENCY


@dataclass(frozen=True, slots=True, eq=False)
class Outcomes:
    """What a row of draws gives, a row of numbers for each check and for the cost."""

    sizing: Sizing
    stands: dict[str, np.ndarray]
    margins: dict[str, np.ndarray]
    """Of the checks whose margin is a ratio, between 0.01 and 100."""
    cost: np.ndarray
    """Cost of fish, own hours paid [money/kg]."""
    minutes: np.ndarray
    """Minutes to act in the busiest hour [s]."""

    def part(self, rows: slice) -> "Outcomes":
        """Some of the draws; the sizing stays that of all of them."""
        return Outcomes(
            self.sizing,
            {name: row[rows] for name, row in self.stands.items()},
            {name: row[rows] for name, row in self.margins.items()},
            self.cost[rows],
            self.minutes[rows],
        )


def asked_of(sizing: Sizing) -> tuple[Asked, ...]:
    """Every check that is asked of a design and has a number, in the order of the tables."""
    found = [
        Asked(part.name, part.name, part.label, None, bool(part.margin >= 1.0 - SLACK),
              float(part.margin), True)
        for part in parts(sizing)
    ]  # fmt: skip
    for place, row in enumerate(check_rows()):
        told = row.form in TRUTHS or row.figure in OF_INPUTS
        judged = None if told else stands(sizing, row)
        if judged is not None:
            ok, margin = judged
            words = _words(sizing, row)
            found.append(Asked(f"{row.part}-{place}", row.part, words, row, bool(ok), float(margin),
                               row.form in RATIOS))  # fmt: skip
    return tuple(found)


def _words(sizing: Sizing, row: CheckRow) -> str:
    """The words of a check without what stands in brackets; its limits as planned."""
    limits = (row.limit(sizing, row.low), row.limit(sizing, row.high))
    return Reading(row, sizing, "us", 0.0, *limits).filled(row.label.partition(" (")[0]).rstrip(".")


def outcomes(
    base: Sizing,
    built: Design,
    asked: tuple[Asked, ...],
    changed: dict[str, np.ndarray],
    count: int,
    weather: Weathered | None,
    evaporation: np.ndarray | float = 1.0,
    allowed: Allowed | None = None,
) -> Outcomes:
    """The checks and the cost of a built design in every draw.

    Parameters:
        base: the sizing of the design as it stands.
        built: the same design with every part told.
        asked: the checks that are judged.
        changed: by the path of a choice, a row of values.
        count: of draws.
        weather: what the year of the design rests on; None leaves the cost out.
        evaporation: a ratio for each draw.
        allowed: the season of each draw, where the weather decides.
    Returns: ``Outcomes``, a row of ``count`` in each.
    """
    sizing = _as_laid(unchecked(with_values(built, changed)), base)
    of_parts = {part.name: part.margin for part in parts(sizing)}
    ok, margins = {}, {}
    for one in asked:
        judged = stands(sizing, one.row) if one.row is not None else None
        margin = of_parts[one.name] if one.row is None else judged[1] if judged else np.inf
        margin = np.nan_to_num(_row(margin, count), nan=0.0)
        ok[one.name] = (
            np.ones(count, bool) if judged is None else _row(judged[0], count).astype(bool)
        )
        if one.ratio:
            kept = margin >= 1.0 - NEAR
            ok[one.name] = kept if judged is None else kept | ok[one.name]
            margins[one.name] = np.clip(margin, LEAST, MOST)
    money = np.nan
    if weather is not None:
        with np.errstate(all="ignore"):  # draws in which nothing is harvested have no cost
            money = enterprise(
                sizing, weather.heating_energy, weather.evaporation * evaporation, allowed
            ).budget.cost_of_each
    minutes = sizing.standby.minutes_peak
    return Outcomes(sizing, ok, margins, _row(money, count), _row(minutes, count))


def _as_laid(sizing: Sizing, base: Sizing) -> Sizing:
    """The drains and standpipes that are there, where the sizing would lay more side by side."""
    now, then = sizing.pump, base.pump
    drains, stands = then.drains / now.drains, then.standpipes / now.standpipes
    pipes = replace(
        now, drains=then.drains, standpipes=then.standpipes, drain_velocity=now.drain_velocity / drains,
        drain_capacity=now.drain_capacity * drains, overflow=now.overflow * stands,
    )  # fmt: skip
    return replace(sizing, pump=pipes)


def _row(values, count: int) -> np.ndarray:
    return np.broadcast_to(np.asarray(values, float), (count,))
