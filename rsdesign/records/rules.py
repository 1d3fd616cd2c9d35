"""The rules behind the rows of ``data/findings.csv``: what of a log each of them looks for.

A rule takes what is ``Seen`` and the row with its limits, and gives the numbers that its sentence
tells, or None where it has nothing to say.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from .. import equations as eq
from ..core.kinds import KINDS
from ..core.tables import SourcedRow, read
from ..core.units import parse
from ..sizing.checks.rows import check_rows
from ..sizing.system import Sizing, value_at
from .columns import columns
from .log import WaterLog
from .trends import last, recent, trend

Numbers = dict[str, Any]
Evidence = tuple[Numbers, list[int]]
"""The numbers of a sentence by name, and the places of the log on which it rests."""
TESTED = ("tan", "nitrite", "nitrate", "alkalinity", "oxygen", "ph")


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow(SourcedRow):
    """A row of ``data/findings.csv``: a rule with its limits, its words and what to do."""

    name: str
    title: str
    low: str
    high: str
    kind: str
    window: str
    design: str
    says: str
    hour: str
    today: str
    week: str
    feed: str
    again: str
    caution: str

    @property
    def days(self) -> float:
        """How many days the rule looks back."""
        return float(self.window)

    def limit(self, sizing: Sizing, end: str) -> float:
        """The plain number of ``low`` or ``high`` for a design."""
        cell = getattr(self, end)
        if cell.startswith("check "):
            _, figure, side = cell.split()
            check = next(row for row in check_rows() if row.figure == figure)
            return float(check.limit(sizing, getattr(check, side)))
        if "." in cell and not cell[0].isdigit():
            return float(value_at(sizing, cell))
        return parse(cell, KINDS[self.kind])


@functools.cache
def finding_rows() -> tuple[FindingRow, ...]:
    """The rules of a log, worst first."""
    return read("findings", FindingRow)


@dataclass(frozen=True, slots=True)
class Seen:
    """What the rules look at: a log beside the sizing of its design."""

    log: WaterLog
    sizing: Sizing

    def together(self, names: tuple[str, ...], window: float) -> list[int]:
        """Places of the last test of the first column and of the others, each at most a day apart."""
        first = last(self.log, names[0], window)
        if first is None:
            return []
        places = [first[0]]
        for name in names[1:]:
            there = recent(self.log, name, window + 1.0)
            if not there.size:
                return []
            apart = np.abs(self.log.days[there] - self.log.days[first[0]])
            if apart.min() > 1.0:
                return []
            places.append(int(there[apart.argmin()]))
        return places

    def value(self, name: str, place: int) -> float:
        """A test of the log."""
        return float(self.log.values[name][place])

    @property
    def pressure(self) -> float:
        """Pressure of the air at the site."""
        return eq.water.properties.pressure_at_elevation.__wrapped__(
            self.sizing.design.site.elevation
        )


def level(name: str, side: str) -> Callable[[Seen, FindingRow], Evidence | None]:
    """A rule: the last test of a column is below ("low") or above ("high") its limit."""

    def rule(seen: Seen, row: FindingRow) -> Evidence | None:
        found = last(seen.log, name, row.days)
        if found is None:
            return None
        value, limit = found[1], row.limit(seen.sizing, side)
        if not (value < limit if side == "low" else value > limit):
            return None
        keep, fish = seen.sizing.design.keep, seen.sizing.tables.species
        numbers = {"value": value, side: limit, "kept": keep.alkalinity, "fish": fish.label}
        return numbers, since(seen, name, limit, side)

    return rule


def since(seen: Seen, name: str, limit: float, side: str = "high") -> list[int]:
    """Places of the tests of a column that have been beyond a limit without a break, the last one too."""
    there = np.flatnonzero(np.isfinite(seen.log.values[name]))
    values = seen.log.values[name][there]
    within = np.flatnonzero(values >= limit if side == "low" else values <= limit)
    return there[within[-1] + 1 if within.size else 0 :].tolist()


def _dead(seen: Seen, row: FindingRow) -> tuple[float, list[int]]:
    places = [
        int(p) for p in recent(seen.log, "deaths", row.days) if seen.value("deaths", p) >= 1.0
    ]
    return sum(seen.value("deaths", p) for p in places), places


def deaths_many(seen: Seen, row: FindingRow) -> Evidence | None:
    """More fish died in the last days than the design's survival lets die, three times over."""
    dead, places = _dead(seen, row)
    fewest, stock = row.limit(seen.sizing, "low"), seen.sizing.stock
    lost = (float(stock.to_stock) - float(stock.fish)) * float(stock.cohorts)
    usual = max(TIMES_USUAL * lost * row.days / float(stock.cycle), fewest - 1.0)
    if dead < fewest or dead <= usual:
        return None
    return {"dead": dead, "window": row.days, "usual": np.floor(usual)}, places


TIMES_USUAL = 3.0
"""Deaths over those of a mean week that are no chance any more; the row says from where."""


def deaths(seen: Seen, row: FindingRow) -> Evidence | None:
    """Fish died in the last days."""
    dead, places = _dead(seen, row)
    if dead < row.limit(seen.sizing, "low"):
        return None
    return {"dead": dead, "window": row.days}, places


def _unionized(seen: Seen, row: FindingRow, as_nh3: bool) -> Evidence | None:
    places = seen.together(("tan", "ph", "temperature"), row.days)
    if not places:
        return None
    tan, ph, warmth = (
        seen.value(name, place)
        for name, place in zip(("tan", "ph", "temperature"), places, strict=True)
    )
    share = eq.water.ammonia.unionized_fraction.__wrapped__(
        warmth, ph, seen.sizing.design.source.salinity
    )
    value = eq.water.ammonia.unionized_ammonia.__wrapped__(tan, share)
    if as_nh3:
        value = eq.biofilter.as_ammonia.__wrapped__(value)
    limit = row.limit(seen.sizing, "high")
    numbers = {"value": value, "tan": tan, "ph": ph, "temperature": warmth, "high": limit}
    if value <= limit:
        return None
    return numbers, [*since(seen, "tan", tan * limit / value), *places]


def unionized_deadly(seen: Seen, row: FindingRow) -> Evidence | None:
    """Un-ionised ammonia is where fish die, as NH3 as its sources print it."""
    return _unionized(seen, row, as_nh3=True)


def unionized_high(seen: Seen, row: FindingRow) -> Evidence | None:
    """Un-ionised ammonia nitrogen is above what the design keeps."""
    return _unionized(seen, row, as_nh3=False)


def nitrite_high(seen: Seen, row: FindingRow) -> Evidence | None:
    """Nitrite is above what fish bear beside the chloride; salt counts once chloride is tested."""
    found = last(seen.log, "nitrite", row.days)
    if found is None:
        return None
    tested = last(seen.log, "chloride", 30.0)
    chloride = tested[1] if tested else float(seen.sizing.design.source.chloride)
    limit = eq.biofilter.nitrite_limit.__wrapped__(chloride, row.limit(seen.sizing, "high"))
    where = "tested in the tank" if tested else "of the source; test the tank after salt"
    numbers = {"value": found[1], "chloride": chloride, "limit": limit, "where": where}
    return (numbers, since(seen, "nitrite", limit)) if found[1] > limit else None


def ammonia_bacteria(seen: Seen, row: FindingRow) -> Evidence | None:
    """Ammonia rises while nitrite does not."""
    up, other = trend(seen.log, "tan", row.days), trend(seen.log, "nitrite", row.days)
    if up is None or other is None or up.sure < 1 or other.sure > 0:
        return None
    places = recent(seen.log, "tan", row.days)
    return {"change": up.change, "span": up.span}, places.tolist()


def moves(name: str, way: int) -> Callable[[Seen, FindingRow], Evidence | None]:
    """A rule: a column rises (1) or falls (-1) by more than chance and more than a reading can tell."""

    def rule(seen: Seen, row: FindingRow) -> Evidence | None:
        found = trend(seen.log, name, row.days)
        if found is None or found.sure != way:
            return None
        return {"change": abs(found.change), "span": found.span}, recent(
            seen.log, name, row.days
        ).tolist()

    return rule


def alkalinity_falling(seen: Seen, row: FindingRow) -> Evidence | None:
    """Alkalinity is low and pH falls."""
    low = level("alkalinity", "low")(seen, row)
    ph = trend(seen.log, "ph", row.days)
    if low is None or ph is None or ph.sure > -1:
        return None
    return {**low[0], "fall": -ph.change, "span": ph.span}, [
        *low[1],
        *recent(seen.log, "ph", row.days),
    ]


def oxygen_probe(seen: Seen, row: FindingRow) -> Evidence | None:
    """Oxygen reads above what air-saturated water holds."""
    places = seen.together(("oxygen", "temperature"), row.days)
    if not places:
        return None
    oxygen, warmth = seen.value("oxygen", places[0]), seen.value("temperature", places[1])
    full = eq.water.oxygen.saturation.__wrapped__(
        warmth, seen.sizing.design.source.salinity, seen.pressure
    )
    numbers = {"value": oxygen, "temperature": warmth, "saturation": full}
    return (numbers, places) if oxygen > row.limit(seen.sizing, "high") * full else None


def top_colour(seen: Seen, row: FindingRow) -> Evidence | None:
    """The last readings of a column all have no upper end."""
    for name in ("tan", "nitrite", "nitrate"):
        places = recent(seen.log, name, row.days)
        if (
            places.size >= row.limit(seen.sizing, "low")
            and np.isinf(seen.log.high[name][places]).all()
        ):
            return {"count": float(places.size), "column": columns()[name].label}, places.tolist()
    return None


def one_reading(seen: Seen, row: FindingRow) -> Evidence | None:
    """The last test of a column lies far from all before it."""
    for name in TESTED:
        places = recent(seen.log, name, row.days)
        if places.size < FEWEST_BEFORE + 1 or places[-1] != last(seen.log, name)[0]:  # type: ignore[index]
            continue
        before, value = seen.log.values[name][places[:-1]], seen.value(name, places[-1])
        middle = float(np.median(before))
        usual = float(np.median(np.abs(before - middle)))
        high, low = seen.log.high[name][places], seen.log.low[name][places]
        width = float(np.where(np.isfinite(high), high - low, 0.0).max())
        apart = max(1.4826 * usual, width)  # a normal error's deviation over its median distance
        if apart > 0.0 and abs(value - middle) > row.limit(seen.sizing, "low") * apart:
            label = columns()[name].label
            told = {"Column": label[:1].upper() + label[1:] if name != "ph" else label}
            kind = columns()[name].kind
            return {**told, "value_words": (value, kind), "before_words": (middle, kind)}, [
                int(places[-1])
            ]
    return None


FEWEST_BEFORE = 5
"""Tests before one that stands alone."""
