"""Air machines, stones and their tables; choosing the machine that brings the air needed."""

import functools
from bisect import bisect_right
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...core import tables
from ...core.arrays import ceil
from ...core.kinds import AirFlow, EfficiencyPerDepth, Fraction, Power, Pressure
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class AirType(SourcedRow):
    """A kind of air machine, the pressures it suits and the caution that goes with it.

    ``by_density``: 1 where its pressure falls with the density of the air it takes in.
    """

    name: str
    label: str
    pressure_low: Pressure
    pressure_high: Pressure
    by_density: Fraction
    caution: str


@dataclass(frozen=True, slots=True)
class AirDevice(SourcedRow):
    """A generic size of air machine; its curve stands in ``air_device_points.csv``."""

    name: str
    type: str
    label: str
    plate_watts: Power


@dataclass(frozen=True, slots=True)
class AirPoint(SourcedRow):
    """One point of a machine's curve: free air at a gauge pressure."""

    name: str
    pressure: Pressure
    flow: AirFlow


@dataclass(frozen=True, slots=True)
class Diffuser(SourcedRow):
    """A kind of bubble: oxygen caught for each depth, and the air one stone takes."""

    name: str
    label: str
    efficiency_per_depth: EfficiencyPerDepth
    air_flow: AirFlow


def device(name: str) -> AirDevice:
    """The row of a machine."""
    return tables.named(tables.read("air_devices", AirDevice), name, "air machine")


_row = device


@functools.cache
def curve(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Gauge pressures [Pa], rising, and free air [m³/s] of a machine."""
    points = [p for p in tables.read("air_device_points", AirPoint) if p.name == name]
    points.sort(key=lambda point: point.pressure)
    return np.array([p.pressure for p in points]), np.array([p.flow for p in points])


ROOM = 1.15
"""Last point of a machine's curve over the pressure it must give.

Fifteen to twenty per cent to spare is common practice: a blower that nears its dead end moves little
air and overheats, and stones clog.
"""

MOST_OF_ONE = 4
"""More machines than this of one size ask for the next size."""

NONE = "none"
"""What stands for a machine where no machine gives the pressure."""


@dataclass(frozen=True, slots=True, eq=False)
class Machine:
    """The machine taken, of one design or, as arrays, of N.

    ``each`` is the standard air of one, ``last`` the end of its curve.
    """

    name: Any
    kind: Any
    plate_watts: Any
    each: Any
    count: Any
    by_density: Any
    last: Any
    suits_from: Any
    suits_to: Any


COLUMNS = ("name", "kind", "plate_watts", "by_density", "last", "suits_from", "suits_to")
"""What is known of every machine, apart from what it gives here."""


@functools.cache
def types() -> dict[str, AirType]:
    """Every kind of air machine by its name."""
    return {row.name: row for row in tables.read("air_types", AirType)}


@functools.cache
def devices(kind: str | None = None) -> tuple[AirDevice, ...]:
    """Every machine of a kind, or of all kinds, smallest first in each kind."""
    names = list(types())
    rows = [row for row in tables.read("air_devices", AirDevice) if kind in (None, row.type)]
    return tuple(sorted(rows, key=lambda row: (names.index(row.type), row.plate_watts)))


@functools.cache
def _columns(kind: str | None, device: str | None) -> dict:
    """What is known of the machines to choose from, one column an entry; the last is no machine."""
    rows = devices(kind) if device is None else (_row(device),)
    kinds = [types()[row.type] for row in rows]
    curves = [curve(row.name) for row in rows]
    # The kind named, or the machine, is a person's choice; else a kind must suit the pressure.
    free = kind is None and device is None
    none = (NONE, kind or NONE, 0.0, 0.0, 0.0, 0.0, 0.0)
    each = [
        (row.name, row.type, row.plate_watts, k.by_density, float(pressures[-1]),
         k.pressure_low, k.pressure_high)
        for row, k, (pressures, _) in zip(rows, kinds, curves, strict=True)
    ]  # fmt: skip
    each.append(none if device is None else each[0])
    return {
        **{name: [row[place] for row in each] for place, name in enumerate(COLUMNS)},
        "curves": curves,
        "lists": [(pressures.tolist(), flows.tolist()) for pressures, flows in curves],
        "low": [k.pressure_low if free else 0.0 for k in kinds],
        "high": [k.pressure_high if free else np.inf for k in kinds],
        "room": 1.0 if device is not None else ROOM,
    }


def choose(
    air_flow,
    pressure,
    thinner,
    kind: str | None = None,
    device: str | None = None,
    mean_flow=None,
    so_many=None,
):
    """The machine that brings an air flow [m³/s] against a gauge pressure [Pa].

    Fewest watts at the plates, in the busiest hour and on the day of mean feed together
    (``mean_flow``, the air of that day); of equals the one with most air, then the smaller; at most
    four of one size unless none does, then as few as can be.  ``so_many`` is the number that runs
    where a person says it: the size follows from it, the largest where so many are too few.  Only
    machines with pressure to spare (``ROOM``) and, where no ``kind`` is named, of a kind that suits
    the pressure.  ``thinner`` is standard air over the air taken in.  Floats or arrays of N.
    """
    known = _columns(kind, device)
    given = (air_flow, pressure, thinner, air_flow if mean_flow is None else mean_flow)
    if all(np.ndim(x) == 0 for x in (*given, so_many)):
        return _one(known, so_many, *(float(x) for x in given))
    told = 0.0 if so_many is None else so_many
    flow, gauge, thin, mean, told = np.broadcast_arrays(
        *(np.asarray(x, float) for x in (*given, told))
    )
    each = _each_of_many(known, gauge, thin)
    with np.errstate(all="ignore"):
        needed = np.maximum(np.ceil(flow[:, None] / each - 1e-9), 1.0)
        count = needed if so_many is None else np.broadcast_to(told[:, None], each.shape)
        running = np.minimum(count, np.maximum(np.ceil(mean[:, None] / each - 1e-9), 1.0))
        plate = np.array(known["plate_watts"][:-1])
        score = (count + running) * plate - TIE * count * each + LATER * np.arange(plate.size)
        if so_many is None:
            score = np.where(count <= MOST_OF_ONE, score, MANY * count + score)
        else:
            score = np.where(needed <= count, score, SHORT / each)
    score[each <= 0.0] = np.inf
    best = np.argmin(score, axis=-1)
    rows = np.arange(best.size)
    none = ~np.isfinite(score[rows, best])
    taken = np.where(none, len(known["name"]) - 1, best)
    return _taken(
        known, taken, np.where(none, 0.0, each[rows, best]), np.where(none, 0.0, count[rows, best])
    )


TIE = 1e-3
"""Watts by which each m³/s of air makes one of two equal machines the better."""
LATER = 1e-9
"""Watts by which the later of two machines of equal watts and air stands back."""
MANY = 1e9
"""Where more than four are needed, what each of them counts: beyond any watts."""
SHORT = 1e12
"""Where so many machines as told are too few, the one that gives most air: beyond any watts."""


def _one(known: dict, so_many, flow: float, gauge: float, thin: float, mean: float) -> Machine:
    best, least, found = len(known["name"]) - 1, np.inf, (0.0, 0.0)
    for place in range(best):
        each = _each(known, place, gauge, thin)
        if each <= 0.0:
            continue
        needed = max(ceil(flow / each - 1e-9), 1.0)
        count = needed if so_many is None else so_many
        running = min(count, max(ceil(mean / each - 1e-9), 1.0))
        score = (count + running) * known["plate_watts"][place]
        score = score - TIE * count * each + LATER * place
        if needed > count:
            score = SHORT / each
        elif so_many is None and count > MOST_OF_ONE:
            score = MANY * count + score
        if score < least:
            best, least, found = place, score, (each, count)
    return _taken(known, best, *found)


def _each(known: dict, place: int, gauge: float, thin: float) -> float:
    """Standard air of one machine; 0 where it does not suit."""
    reading = gauge / thin if known["by_density"][place] else gauge
    low, high = known["low"][place], known["high"][place]
    if known["room"] * reading > known["last"][place] or not low <= gauge <= high:
        return 0.0
    pressures, flows = known["lists"][place]
    at = min(bisect_right(pressures, reading), len(pressures) - 1)
    rise = (flows[at] - flows[at - 1]) / (pressures[at] - pressures[at - 1])
    return (rise * (reading - pressures[at - 1]) + flows[at - 1]) * thin


def _each_of_many(known: dict, gauge, thin) -> np.ndarray:
    """Standard air of one machine, a row a design and a column a machine; 0 where it does not suit."""
    thinned = gauge / thin
    each = np.empty((gauge.size, len(known["curves"])))
    for place, (pressures, flows) in enumerate(known["curves"]):
        reading = thinned if known["by_density"][place] else gauge
        bad = known["room"] * reading > known["last"][place]
        low, high = known["low"][place], known["high"][place]
        if low > 0.0 or high < np.inf:
            bad |= (gauge < low) | (gauge > high)
        found = np.interp(reading, pressures, flows) * thin
        found[bad] = 0.0
        each[:, place] = found
    return each


def _taken(known: dict, place, each, count) -> Machine:
    one = np.ndim(place) == 0
    row = {name: known[name][place] if one else np.array(known[name])[place] for name in COLUMNS}
    return Machine(each=each, count=count, **row)


def choose_by_watts(watts, pressure, thinner, kind: str | None = None):
    """The machine that the trade sells for so many watts, and the air of all of them.

    Between two sizes the air is in proportion, so that more watts never give less air; below the
    smallest and above the largest it goes with the watts.  For the very watts of the machines
    that ``choose`` takes, it is their air.  Floats or arrays of N.
    """
    known = _columns(kind, None)
    single = all(np.ndim(x) == 0 for x in (watts, pressure, thinner))
    power, gauge, thin = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(x, float)) for x in (watts, pressure, thinner))
    )
    each = _each_of_many(known, gauge, thin)
    counts = np.tile(np.arange(1.0, MOST_OF_ONE + 1), each.shape[1])
    place = np.repeat(np.arange(each.shape[1]), MOST_OF_ONE)
    plate = np.array(known["plate_watts"])
    order = np.lexsort((place, plate[place] * counts))
    counts, place = counts[order], place[order]
    draw, air = plate[place] * counts, each[:, place] * counts
    best, rows, size = np.maximum.accumulate(air, axis=1), np.arange(power.size), counts.size
    before = np.hstack([np.zeros((power.size, 1)), best[:, :-1]])
    steps = air > before * (1.0 + 1e-9)  # more air than any before
    at = np.where(steps, np.arange(size), -1)
    below = np.maximum.accumulate(at, axis=1)
    above = np.minimum.accumulate(np.where(steps, np.arange(size), size)[:, ::-1], axis=1)[:, ::-1]
    there = np.searchsorted(draw, power * (1.0 + 1e-12), "right") - 1
    low = np.where(there >= 0, below[rows, np.maximum(there, 0)], -1)
    up = np.where(there + 1 < size, above[rows, np.minimum(there + 1, size - 1)], size)
    low_draw, low_air = (np.where(low >= 0, x, 0.0) for x in (draw[low], air[rows, low]))
    top = np.minimum(up, size - 1)
    rise = (air[rows, top] - low_air) / np.maximum(draw[top] - low_draw, 1e-9)
    with np.errstate(all="ignore"):
        beyond = low_air * (power / low_draw - 1.0)
    given = low_air + np.where(up < size, rise * (power - low_draw), beyond)
    chosen = np.where(low >= 0, low, top)
    none = (low < 0) & (up >= size)
    count = np.where(up < size, counts[chosen], np.ceil(power / plate[place[chosen]] - 1e-9))
    taken = np.where(none, len(known["name"]) - 1, place[chosen])
    given, count = np.where(none, 0.0, given), np.where(none, 0.0, np.maximum(count, 1.0))
    of_one = np.where(none, 0.0, each[rows, place[chosen]])
    if single:
        return _taken(known, int(taken[0]), float(of_one[0]), float(count[0])), float(given[0])
    return _taken(known, taken, of_one, count), given


def same_watts(watts, needed: Machine, found: Machine, air):
    """The machines that the need takes where they draw the very watts told, else those found."""
    same = abs(needed.plate_watts * needed.count - watts) <= 1e-9 * watts
    if np.ndim(same) == 0:
        return (needed, needed.each * needed.count) if same else (found, air)
    pairs = ((getattr(needed, n), getattr(found, n)) for n in Machine.__slots__)
    both = Machine(*(np.where(same, a, b) for a, b in pairs))
    return both, np.where(same, needed.each * needed.count, air)


def kinds_that_give(pressure: float, thinner: float) -> tuple[str, ...]:
    """The words for every kind that suits a pressure and has a machine with pressure to spare."""
    found = []
    for name, row in types().items():
        known = _columns(name, None)
        suits = row.pressure_low <= pressure <= row.pressure_high
        if suits and any(_each(known, i, pressure, thinner) for i in range(len(known["curves"]))):
            found.append(row.label)
    return tuple(found)
