"""Air machines, stones and their tables; choosing the machine that brings the air needed."""

import functools
from dataclasses import dataclass

import numpy as np

from .. import tables
from ..kinds import AirFlow, EfficiencyPerDepth, Power, Pressure


@dataclass(frozen=True, slots=True)
class AirType:
    """A kind of air machine, the pressures it suits and the caution that goes with it."""

    name: str
    label: str
    pressure_low: Pressure
    pressure_high: Pressure
    caution: str
    source: str
    place: str
    basis: str
    range: str


@dataclass(frozen=True, slots=True)
class AirDevice:
    """A generic size of air machine; its curve stands in ``air_device_points.csv``."""

    name: str
    type: str
    label: str
    plate_watts: Power
    source: str
    place: str
    basis: str
    range: str


@dataclass(frozen=True, slots=True)
class AirPoint:
    """One point of a machine's curve: free air at a gauge pressure."""

    name: str
    pressure: Pressure
    flow: AirFlow
    source: str
    place: str
    basis: str
    range: str


@dataclass(frozen=True, slots=True)
class Diffuser:
    """A kind of bubble: oxygen caught for each depth, and the air one stone takes."""

    name: str
    label: str
    efficiency_per_depth: EfficiencyPerDepth
    air_flow: AirFlow
    source: str
    place: str
    basis: str
    range: str


def device(name: str) -> AirDevice:
    """The row of a machine."""
    return tables.named(tables.read("air_devices", AirDevice), name, "air machine")


@functools.cache
def curve(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Gauge pressures [Pa], rising, and free air [m³/s] of a machine."""
    points = [p for p in tables.read("air_device_points", AirPoint) if p.name == name]
    points.sort(key=lambda point: point.pressure)
    return np.array([p.pressure for p in points]), np.array([p.flow for p in points])


@functools.cache
def devices(kind: str) -> tuple[AirDevice, ...]:
    """Every machine of a kind, smallest first."""
    rows = [row for row in tables.read("air_devices", AirDevice) if row.type == kind]
    return tuple(sorted(rows, key=lambda row: row.plate_watts))


MOST_OF_ONE = 4
"""More machines than this of one size ask for the next size."""


def choose_device(air_flow, mean_flow, pressure, thinner, kind: str):
    """The machine that brings an air flow: fewest plate watts, at most four unless none does.

    The mean flow must still come with one machine off.  Takes floats or arrays of N; ``thinner`` is standard air over the air taken in.  Gives the
    position in ``devices(kind)`` and the plate flow of one machine, floats or arrays of N.
    """
    rows = devices(kind)
    given = (air_flow, mean_flow, pressure, thinner)
    flow, mean, gauge, thin = (np.atleast_1d(np.asarray(x, float)) for x in given)
    plate = np.stack([np.interp(gauge, *curve(r.name), right=0.0) for r in rows], axis=-1)
    each = plate * thin[:, None]
    with np.errstate(all="ignore"):
        count = _count(flow[:, None], mean[:, None], each)
    watts = count * np.array([r.plate_watts for r in rows])
    watts = np.where(count > MOST_OF_ONE, watts + 1e12 * count, watts)
    best = np.argmin(watts, axis=-1)
    chosen = np.broadcast_to(plate, watts.shape)[np.arange(best.size), best]
    if all(np.ndim(x) == 0 for x in given):
        return int(best[0]), float(chosen[0])
    return best, chosen


def _count(flow, mean, each):
    """Machines for a flow, and for the mean flow with one off; infinite where one gives none."""
    needed = np.maximum(np.ceil(flow / each - 1e-9), np.ceil(mean / each - 1e-9) + 1.0)
    return np.where(each > 0, needed, np.inf)
