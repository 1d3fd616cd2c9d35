"""The search for what mends a check: choices over their spans, then within the step that turns good."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core import tables
from ..core.tables import SourcedRow
from ..core.units import parse
from ..design.model import FIELDS, Design, problems, value_of, with_values
from ..equations.pipes.tables import Pipe
from ..sizing.judging import GENEROUS, TIGHT, Check
from ..sizing.margins import checks
from ..sizing.system import Sizing
from ..sizing.taken import shown_value
from .stacked import TOLD, Along, Slider, ready, stacked

POINTS = 25
"""Values tried between now and the far end, and then within the step that turns good."""
MOST_COUNT = 8
"""How many more, or fewer, of one thing are tried."""
GOALS = ("goal.fish", "goal.harvest")
"""Choices that give up what is wanted: proposed only after the others."""


@dataclass(frozen=True, slots=True)
class CureRow(SourcedRow):
    """One way to mend one check; ``choice`` is empty where it is advice alone."""

    part: str
    check: str
    choice: str
    direction: str
    far: str
    spare: str
    words: str


def cure_rows() -> tuple[CureRow, ...]:
    """Every row of the table of cures."""
    return tables.read("cures", CureRow)


def rows_for(check: Check) -> tuple[CureRow, ...]:
    """The rows for a check: those whose words fit it most closely."""
    fits = [r for r in cure_rows() if r.part == check.part and check.words.startswith(r.check)]
    closest = max((len(r.check) for r in fits), default=0)
    return tuple(r for r in fits if len(r.check) == closest)


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """One choice, the design in which it moves, and the values tried, from now on."""

    row: CureRow
    design: Design
    now: Any
    values: list


def searches(sizing: Sizing, row: CureRow) -> list[Search]:
    """The searches of a row: one for each direction; none where the choice does not apply."""
    entry = FIELDS[row.choice]
    told = value_of(sizing.design, row.choice)
    now = shown_value(sizing, row.choice) if told is None else told
    if told is None and row.choice in _ONLY_TOLD:
        return []
    if row.choice in ("pump.count", "air.count") and _measured(sizing.design, row.choice):
        return []
    design = ready(sizing, row.choice, TOLD)
    if row.direction == "to":
        wanted: object = (
            row.far == "true" if entry.kind is None and entry.choice.options is None else row.far
        )
        return [] if told == wanted else [Search(row, design, told, [wanted])]
    found = []
    for way in ("up", "down") if row.direction == "either" else (row.direction,):
        values = _values(row, entry, now, way)
        if values:
            found.append(Search(row, design, now if entry.choice.options is None else told, values))
    return found


_ONLY_TOLD = (*GOALS, "pump.bucket_time", "air.plate_watts", "stock.interval", "stock.ration",
              "air.flow", "pump.flow", "filter.media_volume", "pump.sump_spare")  # fmt: skip
"""Choices that are proposed only where the design names them: else the sizing fits them itself."""


def _measured(design: Design, path: str) -> bool:
    """Whether what the machines give was measured, or none is named, so that their number mends nothing."""
    if path == "pump.count":
        return (
            design.pump.flow is not None
            or design.pump.bucket_time is not None
            or not design.pump.model
        )
    return (
        design.air.flow is not None or design.air.plate_watts is not None or not design.air.device
    )


def _values(row: CureRow, entry, now, way: str) -> list:
    """The values from now to the far end, the nearest first."""
    about = entry.choice
    if about.options is not None:
        return _sizes(about.options(), now, way)
    if not isinstance(now, (int, float, np.floating)):
        return []
    now = float(now)
    end = about.high if way == "up" else about.low
    if row.far and row.direction != "either":
        end = parse(row.far, entry.kind)
    elif row.far:  # the far end of the one way; its like the other way
        end = (
            parse(row.far, entry.kind)
            if (parse(row.far, entry.kind) > now) == (way == "up")
            else end
        )
    if entry.kind.name == "count":
        step = 1 if way == "up" else -1
        values = [round(now) + step * k for k in range(1, MOST_COUNT + 1)]
        return [float(v) for v in values if about.low <= v <= about.high]
    if (end - now) * (1 if way == "up" else -1) <= 0:
        return []
    if way == "up":
        end = min(end, max(now * 20.0, about.low))
    span = Slider(row.choice, min(now, end), max(now, end))
    along = span.values(POINTS) if about.sweep else np.linspace(span.low, span.high, 9)
    return [float(v) for v in (along[1:] if way == "up" else along[-2::-1])]


def _sizes(names: tuple[str, ...], now, way: str) -> list:
    """The sizes of the trade beyond the one there is, the nearest first."""
    if isinstance(now, (float, np.floating)):  # a size that was taken, by its inside
        inside = [p.inside_diameter for p in tables.read("pipes", Pipe)]
        place = int(np.abs(np.array(inside) - now).argmin())
    else:
        place = names.index(now)
    return list(
        names[place + 1 : place + 5] if way == "up" else names[max(place - 4, 0) : place][::-1]
    )


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """Along the values of a search: whether the check passes, its margin, whether a fifth is to spare."""

    ok: np.ndarray
    margin: np.ndarray
    good: np.ndarray


def looked(check: Check, tries: list[Search]) -> list[Look]:
    """Every search, its designs in stacked rows; values without a design pass nothing."""
    fits = [np.array([not problems(with_values(t.design, {t.row.choice: v})) for v in t.values])
            for t in tries]  # fmt: skip
    members = [
        (
            t.design,
            {t.row.choice: np.array([v for v, fit in zip(t.values, good, strict=True) if fit])},
        )
        for t, good in zip(tries, fits, strict=True)
        if good.any()
    ]
    answers = iter(stacked(members))
    judged: dict[int, tuple] = {}
    found = []
    for one, good in zip(tries, fits, strict=True):
        ok, margin = np.zeros(len(good), bool), np.zeros(len(good))
        if good.any():
            ok[good], margin[good] = _read(check, one.row, next(answers), judged)
        spare = one.row.spare == "yes" and check.kind in ("at least", "at most")
        found.append(Look(ok, margin, ok & (margin > GENEROUS) if spare else ok))
    return found


def _read(check: Check, row: CureRow, along: Along, judged: dict) -> tuple[np.ndarray, np.ndarray]:
    """How a check comes out along a search; a check that is not made there does not fail."""
    oks, margins = [], []
    for sizing, rows, count in along.pieces:
        if id(sizing) not in judged:
            judged[id(sizing)] = checks(sizing, "us", (check.part,))
        same = [c for c in judged[id(sizing)]
                if c.part == check.part and c.kind == check.kind and c.words.startswith(row.check)]  # fmt: skip
        ok, margin = (same[0].ok, same[0].margin) if same else (False, 0.0)
        oks.append(np.broadcast_to(np.asarray(ok, bool), (count,))[rows])
        margins.append(np.nan_to_num(np.broadcast_to(np.asarray(margin, float), (count,))[rows]))
    return np.concatenate(oks), np.concatenate(margins)


def finer(one: Search, look: Look, check: Check) -> Search | None:
    """The search within the step that turns good; None where nothing mends, or passes."""
    passes = look.good if look.good.any() else look.ok
    if check.word == TIGHT and not look.good.any():
        return None
    if not passes.any():
        return None
    place = int(np.argmax(passes))
    high = one.values[place]
    entry = FIELDS[one.row.choice]
    if not isinstance(high, float) or not entry.choice.sweep or entry.kind is None:
        return Search(one.row, one.design, one.now, [high])
    low = one.values[place - 1] if place else float(one.now)
    return Search(
        one.row, one.design, one.now, [float(v) for v in np.linspace(low, high, POINTS)[1:]]
    )


def nearer(nearest, one: Search, look: Look):
    """The row, value and margin that come nearest to mending."""
    place = int(np.argmax(look.margin))
    if nearest is None or look.margin[place] > nearest[2]:
        return one.row, one.values[place], float(look.margin[place])
    return nearest
