"""Designs that differ in any of their choices, sized in as few calls as can be.

The sliders of a page move different choices.  Each slider's range is a member; members that name the
same words and the same open choices stand in one row of designs, and the sizing computes that row in
one call.
"""

import operator
from dataclasses import dataclass, field

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import Kind
from ..design.model import FIELDS, Design, problems, with_values
from ..design.possible import INSTEAD, NO_PUMP
from ..sizing.margins import Part
from ..sizing.system import Sizing, unchecked, value_at
from ..sizing.taken import taken

POINTS = 41
"""Values along a slider."""
FEW = 9
"""Values along a slider of whole numbers that must be sized one by one."""
LOG_FROM = 100.0
"""A span of at least this ratio is divided in equal ratios, as its slider is drawn."""

MOVED = 1e-6
"""Relative change of a margin along a range below which the choice does not move the part."""

_VALUES = operator.attrgetter(*FIELDS)
_NUMBERS = tuple(entry.choice.sweep for entry in FIELDS.values())
_PATHS = tuple(FIELDS)

TOLD, TODAY = "told", "today"
"""What is held while a choice moves: the parts that were told, or every part as it is today."""

HELD = (
    "tank.count", "tank.width", "tank.length", "solids.area", "filter.media_volume",
    "filter.vessels", "filter.depth", "air.device", "air.count", "air.spare", "air.line_diameter",
    "pump.model", "pump.count", "pump.pipe", "pump.drain_pipe", "pump.drain_fall", "pump.standpipe",
)  # fmt: skip
"""The sizes of parts that may be left open: what a person owns once it is built."""
AIR = ("air.flow", "air.plate_watts", "air.device")
WATER = ("pump.flow", "pump.bucket_time")


@dataclass(frozen=True, slots=True)
class Slider:
    """A choice and the span in which it moves, plain numbers."""

    path: str
    low: float
    high: float

    @property
    def kind(self) -> Kind:
        """What sort of quantity it is, and so its units."""
        kind = FIELDS[self.path].kind
        if kind is None:
            raise DesignError(f"{self.path!r} is not a choice with a number.")
        return kind

    @property
    def logarithmic(self) -> bool:
        """Whether the span is divided in equal ratios."""
        return self.low > 0 and self.high / self.low >= LOG_FROM

    def value_at(self, position):
        """The value at a position from 0 to 1; arrays too."""
        if self.logarithmic:
            return self.low * (self.high / self.low) ** np.asarray(position)
        return self.low + (self.high - self.low) * np.asarray(position)

    def position_of(self, value: float) -> float:
        """Where a value stands, from 0 to 1; beyond the ends, at the end."""
        if self.logarithmic:
            at = np.log(max(value, self.low) / self.low) / np.log(self.high / self.low)
        else:
            at = (value - self.low) / (self.high - self.low)
        return float(min(max(at, 0.0), 1.0))

    def values(self, points: int = POINTS) -> np.ndarray:
        """The values looked at; whole numbers where the sizing takes them one by one."""
        entry = FIELDS[self.path]
        if entry.choice.sweep:
            return self.value_at(np.linspace(0.0, 1.0, points))
        found = self.value_at(np.linspace(0.0, 1.0, min(points, FEW)))
        return np.unique(np.round(found)) if self.kind.name == "count" else found


def slider(path: str, low: float | None = None, high: float | None = None) -> Slider:
    """The slider of a choice; the span is that of the choice where none is given.

    Raises ``DesignError`` for a choice that is no number.
    """
    entry = FIELDS.get(path)
    about = None if entry is None else entry.choice
    if about is None or about.low is None or about.high is None or about.options is not None:
        raise DesignError(f"{path!r} is not a choice with a number.")
    first, second = (about.low if low is None else low, about.high if high is None else high)
    if not first < second:
        raise DesignError(f"{path}: the low end of its span must lie below the high end.")
    return Slider(path, float(first), float(second))


@dataclass(frozen=True, slots=True, eq=False)
class Along:
    """The results of one member: its rows of a sizing of many designs, or several sizings."""

    pieces: tuple[tuple[Sizing, slice, int], ...]
    known_parts: dict[int, tuple[tuple[Part, ...], np.ndarray]] = field(default_factory=dict)
    """The parts of sizings by their ``id`` with a row of margins for each, shared by all members."""

    @property
    def first(self) -> Sizing:
        """The sizing of its first rows."""
        return self.pieces[0][0]

    def each(self, value_of_sizing) -> np.ndarray:
        """A value read from every row, as numbers."""
        return np.concatenate(
            [
                np.broadcast_to(np.asarray(value_of_sizing(s), float), (count,))[rows]
                for s, rows, count in self.pieces
            ]
        )

    def figure(self, path: str) -> np.ndarray:
        """One figure along the member."""
        return self.each(lambda sizing: value_at(sizing, path))

    def names(self, path: str) -> list[str]:
        """One figure that is a name, along the member."""
        found = []
        for sizing, rows, count in self.pieces:
            found += [str(n) for n in np.broadcast_to(value_at(sizing, path), (count,))[rows]]
        return found

    def margins(self) -> dict[str, np.ndarray]:
        """The margin of every part along the member; a margin without an answer is none."""
        found: dict[str, list] = {}
        for sizing, rows, count in self.pieces:
            parts, margins = self._parts_of(sizing, count)
            for part, margin in zip(parts, margins[:, rows], strict=True):
                found.setdefault(part.name, []).append(margin)
        return {
            name: rows[0] if len(rows) == 1 else np.concatenate(rows)
            for name, rows in found.items()
        }

    def parts(self) -> tuple[Part, ...]:
        """The parts of its first rows: their words, and whether they were told."""
        sizing, _, count = self.pieces[0]
        return self._parts_of(sizing, count)[0]

    def _parts_of(self, sizing: Sizing, count: int) -> tuple[tuple[Part, ...], np.ndarray]:
        if id(sizing) not in self.known_parts:
            parts, margins = sizing.parts, []
            for part in parts:
                margins.append(np.broadcast_to(np.asarray(part.margin, float), (count,)))
            self.known_parts[id(sizing)] = parts, np.nan_to_num(np.array(margins), nan=0.0)
        return self.known_parts[id(sizing)]


def stacked(members: list[tuple[Design, dict[str, np.ndarray]]]) -> list[Along]:
    """The sizing of every member: a design and the rows of values that it takes.

    What can stand in one array does; each other combination of words and open choices is one more
    call.  The designs are not checked.
    """
    pieces = [_split(design, changes) for design, changes in members]
    groups: dict[tuple, list[tuple[int, Design, tuple, int]]] = {}
    for place, found in enumerate(pieces):
        for design, count in found:
            values = _VALUES(design)
            key = tuple(
                ... if number and value is not None else value
                for value, number in zip(values, _NUMBERS, strict=True)
            )
            groups.setdefault(key, []).append((place, design, values, count))
    done: dict[int, list] = {place: [] for place in range(len(members))}
    for rows in groups.values():
        total = sum(count for *_, count in rows)
        sizing, start = unchecked(_one_row(rows)), 0
        for place, *_, count in rows:
            done[place].append((sizing, slice(start, start + count), total))
            start += count
    shared: dict[int, tuple[tuple[Part, ...], np.ndarray]] = {}
    return [Along(tuple(done[place]), shared) for place in range(len(members))]


def _split(design: Design, changes: dict) -> list[tuple[Design, int]]:
    """A member as one row of designs, or as single ones where the sizing takes no row of a choice."""
    count = len(next(iter(changes.values()))) if changes else 1
    if all(FIELDS[path].choice.sweep for path in changes):
        return [(with_values(design, changes), count)]
    return [
        (with_values(design, {path: _single(row[k]) for path, row in changes.items()}), 1)
        for k in range(count)
    ]


def _single(value):
    return float(value) if isinstance(value, np.floating) else value


def _one_row(rows: list[tuple[int, Design, tuple, int]]) -> Design:
    """Designs joined to one whose choices are rows of values where they differ."""
    first = rows[0][1]
    if len(rows) == 1:
        return first
    changes = {}
    for k, column in enumerate(zip(*(values for _, _, values, _ in rows), strict=True)):
        if not _NUMBERS[k] or column[0] is None:
            continue
        if all(not np.ndim(v) for v in column) and all(v == column[0] for v in column):
            continue
        changes[_PATHS[k]] = np.concatenate(
            [
                np.broadcast_to(np.asarray(v, float), (count,))
                for v, (*_, count) in zip(column, rows, strict=True)
            ]
        )
    return with_values(first, changes)


# --- what is held while a choice moves -------------------------------------------------------


def parts_today(
    sizing: Sizing, path: str = "", moving: tuple[str, ...] = (), known: dict | None = None
) -> dict:
    """The sizes of all parts as they are today, for a design that is told them.

    ``path`` is the choice that will move: what says the same in another way is left out.  A machine
    is held by its size and number, so that its air or flow follows from depth and lift.  It is held
    by what it gives where the tables sell no such machine, or where that is what one of the ``moving``
    choices of a page says, so that all of them stand in one call.  ``known`` is what the sizing took,
    where it is known already.
    """
    design, found = sizing.design, taken(sizing) if known is None else known
    held = {p: v for p, v in found.items() if p in HELD and p != path}
    if design.tank.shape != "rectangle":
        held.pop("tank.length", None)
    if path in AIR or design.air.flow is not None or design.air.plate_watts is not None:
        _drop(held, "air.device", "air.count", "air.spare")
    elif design.air.device is None and ("air.device" not in held or "air.flow" in moving):
        _drop(held, "air.device", "air.count", "air.spare")
        held["air.flow"] = float(sizing.air.total)
    pump = design.pump
    if path in WATER or pump.flow is not None or pump.bucket_time is not None:
        _drop(held, "pump.model", "pump.count")
    elif (
        pump.kind != "airlift"
        and pump.model is None
        and ("pump.model" not in held or "pump.flow" in moving)
    ):
        _drop(held, "pump.model", "pump.count")
        held["pump.flow"] = float(sizing.pump.flow)
    return held


def _drop(values: dict, *paths: str) -> None:
    for path in paths:
        values.pop(path, None)


def ready(
    sizing: Sizing, path: str, hold: str, moving: tuple[str, ...] = (), known: dict | None = None
) -> Design:
    """The design in which a choice is about to move: parts held, other ways of saying it cleared."""
    if hold not in (TOLD, TODAY):
        raise DesignError(f"hold is {hold!r}; choose {TOLD!r} or {TODAY!r}.")
    values = parts_today(sizing, path, moving, known) if hold == TODAY else {}
    values |= dict.fromkeys(INSTEAD.get(path, ()))
    if path in NO_PUMP and sizing.design.pump.none:
        values["pump.none"] = False
    other = {"tank.width": "tank.length", "tank.length": "tank.width"}.get(path)
    if other and sizing.design.tank.shape == "rectangle":
        values[other] = float(value_at(sizing, other))
    return with_values(sizing.design, values)


def possible(design: Design, path: str, values: np.ndarray) -> np.ndarray:
    """Whether a design is possible at each value of a choice."""
    if FIELDS[path].choice.sweep and not problems(with_values(design, {path: values})):
        return np.ones(len(values), bool)
    return np.array([not problems(with_values(design, {path: float(v)})) for v in values])


def moves(margin: np.ndarray) -> bool:
    """Whether a margin changes along a range."""
    least, most = margin.min(), margin.max()
    return bool(least < most and not (np.isfinite(most) and most - least <= MOVED * most))
