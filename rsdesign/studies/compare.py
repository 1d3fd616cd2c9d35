"""Candidates for one part side by side: cost a year, with minutes, power and what they use up."""

import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from ..core.arrays import root
from ..core.choices import DesignError
from ..core.folders import data_folder
from ..core.kinds import KINDS, Number, UnitError
from ..core.unit_table import DAY
from ..core.units import clipped, parse
from ..design.prices import prices_of
from ..equations.costs import annual
from ..sizing.system import Sizing
from .heat.yearly import full_year

YEAR = 365.25 * DAY
FEWEST, MOST = 2, 4
AXES = ("wage", "life", "electricity", "rate")
"""What a crossing point can be looked for against."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One thing that would do: first cost, life in years, daily time [s], power [W], yearly use."""

    name: str
    cost: float
    life: float
    salvage: float = 0.0
    daily_time: float = 0.0
    power: float = 0.0
    consumables: float = 0.0


@dataclass(frozen=True, slots=True)
class Compared:
    """A candidate with its cost a year, paid and unpaid, and for each kg of fish."""

    candidate: Candidate
    equipment: float
    straight: float
    power: Number
    labour: Number
    yearly: float
    yearly_unpaid: Number
    each: Number
    each_unpaid: Number


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where two candidates cost the same a year: the value of what is varied; None where never."""

    first: str
    second: str
    axis: str
    value: float | None
    now: Number


FIELDS_OF = {
    "cost": "money", "life": "years", "salvage": "money", "daily_time": "minutes",
    "power": "power", "consumables": "money",
}  # fmt: skip
RANGES = {
    "cost": (0.0, 1e8), "life": (0.1, 100.0), "salvage": (0.0, 1e8), "daily_time": (0.0, DAY),
    "power": (0.0, 1e7), "consumables": (0.0, 1e8),
}  # fmt: skip
SPANS = {
    "wage": (0.0, 60 / 3600),
    "electricity": (0.0, 1.0 / 3.6e6),
    "rate": (0.0, 0.5),
    "life": (0.5, 40.0),
}


def candidates(part: str, path=None) -> tuple[Candidate, ...]:
    """The candidates of a part, from the invented list or from a file of one's own.

    Parameters:
        part: such as ``"settler"``; an error lists the parts there are.
        path: a TOML file of ``[[PART]]`` tables with name, cost, life, and as wanted salvage,
            daily_time, power, consumables, each with its unit; None for ``data/candidates.toml``.
    Returns: the candidates.
    Raises: ``DesignError`` with one sentence.
    Source: none: the project's list is invented; replace it with quotes.

    >>> len(candidates("settler")) >= 2
    True
    """
    path = Path(path) if path else data_folder() / "candidates.toml"
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise DesignError(f"{clipped(path, 200)} cannot be read: {wrong}.") from None
    parts = [k for k, v in table.items() if isinstance(v, list)]
    if part not in parts:
        raise DesignError(
            f"{clipped(part)} has no candidates in {path.name}; there are {', '.join(parts) or 'none'}."
        )
    rows = table[part]
    if not FEWEST <= len(rows) <= MOST:
        raise DesignError(
            f"{part} has {len(rows)} candidates in {path.name}; give {FEWEST} to {MOST}."
        )
    return tuple(_candidate(part, row) for row in rows)


def _candidate(part: str, row) -> Candidate:
    if not isinstance(row, dict) or not isinstance(row.get("name"), str):
        raise DesignError(f"A candidate for {part} has no name.")
    name = row["name"][:60]
    strangers = set(row) - set(FIELDS_OF) - {"name"}
    if strangers:
        raise DesignError(
            f"{name}: {clipped(min(strangers))} is not known; use {', '.join(FIELDS_OF)}."
        )
    values = {}
    for key, kind in FIELDS_OF.items():
        if key in row:
            values[key] = _value(name, key, row[key], kind)
    for key in ("cost", "life"):
        if key not in values:
            raise DesignError(f"{name}: {key} is missing.")
    if values.get("salvage", 0.0) > values["cost"]:
        raise DesignError(f"{name}: salvage is more than its cost of {values['cost']:g}.")
    return Candidate(name, **values)


def _value(name: str, key: str, cell, kind: str) -> float:
    low, high = RANGES[key]
    text = cell if isinstance(cell, str) else repr(cell)
    try:
        value = parse(text, KINDS[kind]) if not isinstance(cell, bool) else float("nan")
    except UnitError as wrong:
        raise DesignError(f"{name}: {key}: {wrong}") from None
    if not low <= value <= high:
        raise DesignError(f"{name}: {key} is {clipped(text)}; choose from {low:g} to {high:g}.")
    return value


def yearly_cost(candidate: Candidate, wage, electricity, rate):
    """Cost a year of a candidate [money], own hours paid.  Arrays broadcast."""
    return (
        annual.equivalent_annual.__wrapped__(
            candidate.cost, candidate.life, rate, candidate.salvage
        )
        + candidate.power * YEAR * electricity
        + candidate.daily_time * 365.25 * wage
        + candidate.consumables
    )


def compare(sizing: Sizing, found: tuple[Candidate, ...]) -> list[Compared]:
    """Every candidate with its cost a year, cheapest first (own hours paid).

    Parameters:
        sizing: what ``size`` gives, of one design; its prices, interest and fish are used.
        found: what ``candidates`` gives.
    Returns: a list of candidates with their cost a year and for each kg of fish [money].
    Source: capital recovery of ``equations.costs.annual``; prices are invented or the user's own.

    >>> from rsdesign import load, size
    >>> rows = compare(size(load("family")), candidates("settler"))
    >>> rows[0].yearly <= rows[-1].yearly
    True
    """
    price = {name: p.value for name, p in prices_of(sizing.design).items()}
    wage, power, rate = price["wage"], price["electricity"], sizing.design.terms.rate
    lines = full_year(sizing).budget
    weight = float(lines.sold + lines.home)
    rows = []
    for c in found:
        yearly = float(yearly_cost(c, wage, power, rate))
        hours = c.daily_time * 365.25 * wage
        rows.append(Compared(
            c,
            float(annual.equivalent_annual.__wrapped__(c.cost, c.life, rate, c.salvage)),
            float(annual.straight_line.__wrapped__(c.cost, c.life, c.salvage)),
            c.power * YEAR * power, hours, yearly, yearly - hours, yearly / weight,
            (yearly - hours) / weight,
        ))  # fmt: skip
    return sorted(rows, key=lambda row: row.yearly)


def crossings(sizing: Sizing, found: tuple[Candidate, ...]) -> list[Crossing]:
    """For each pair, the wage, electricity price, rate or life of the first at which they cost the same.

    Parameters:
        sizing: what ``size`` gives, of one design.
        found: what ``candidates`` gives.
    Returns: a list of crossings; the value of one is None where the two never cost the same.
    Source: as for ``compare``.

    >>> from rsdesign import load, size
    >>> len(crossings(size(load("family")), candidates("settler")[:2]))
    4
    """
    rows = []
    for i, one in enumerate(found):
        for other in found[i + 1 :]:
            rows += [_crossing(sizing, one, other, axis) for axis in AXES]
    return rows


def _crossing(sizing: Sizing, one: Candidate, other: Candidate, axis: str) -> Crossing:
    price = {name: p.value for name, p in prices_of(sizing.design).items()}
    now = {"wage": price["wage"], "electricity": price["electricity"],
           "rate": sizing.design.terms.rate, "life": one.life}  # fmt: skip

    def gap(value):
        at = {**now, axis: value}
        first = replace(one, life=at["life"])
        terms = (at["wage"], at["electricity"], at["rate"])
        return yearly_cost(first, *terms) - yearly_cost(other, *terms)

    return Crossing(one.name, other.name, axis, _root(gap, *SPANS[axis]), now[axis])


def _root(gap, low: float, high: float) -> float | None:
    """The first value at which a gap changes its sign, by looking along a grid; None where never."""
    grid = np.linspace(low, high, 161).tolist()
    values = np.broadcast_to(gap(np.array(grid)), len(grid)).tolist()
    for a, b, x, y in zip(values, values[1:], grid, grid[1:], strict=False):
        if a == 0:
            return x
        if a * b < 0:
            return float(root(gap, x, y))
    return None
