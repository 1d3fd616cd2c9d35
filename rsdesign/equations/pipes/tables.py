"""Pipes, fittings and pumps of the trade, from their tables; choosing the pump."""

import functools
from dataclasses import dataclass

import numpy as np

from ...core import tables
from ...core.kinds import Flow, Head, PipeDiameter, Power, Ratio
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class Pipe(SourcedRow):
    """A nominal size and its inside diameter."""

    name: str
    label: str
    inside_diameter: PipeDiameter


@dataclass(frozen=True, slots=True)
class Fitting(SourcedRow):
    """A fitting and its loss coefficient."""

    name: str
    label: str
    loss: Ratio


@dataclass(frozen=True, slots=True)
class Pump(SourcedRow):
    """A generic pump: its head with the valve shut, its flow without head, its rated watts."""

    name: str
    label: str
    shutoff_head: Head
    free_flow: Flow
    plate_watts: Power


def pipe(name: str) -> Pipe:
    """The row of a pipe."""
    return tables.named(tables.read("pipes", Pipe), name, "pipe")


@functools.cache
def pipe_sizes(standard: str = "sch40") -> np.ndarray:
    """Inside diameters of a standard, rising [m]."""
    rows = [row for row in tables.read("pipes", Pipe) if row.label.startswith(standard)]
    return np.array(sorted(row.inside_diameter for row in rows))


@functools.cache
def loss(name: str) -> float:
    """The loss coefficient of a fitting."""
    return tables.named(tables.read("fittings", Fitting), name, "fitting").loss


def pump(name: str) -> Pump:
    """The row of a pump."""
    return tables.named(tables.read("pumps", Pump), name, "pump")


@functools.cache
def pumps() -> tuple[Pump, ...]:
    """Every pump, smallest first."""
    return tuple(sorted(tables.read("pumps", Pump), key=lambda row: row.plate_watts))


MOST_OF_ONE = 4
"""More pumps than this of one size ask for the next size."""


@functools.cache
def _pump_columns():
    rows = pumps()
    return tuple(np.array([getattr(r, n) for r in rows]) for n in
                 ("shutoff_head", "free_flow", "plate_watts"))  # fmt: skip


def choose_pump(flow, head, so_many=None):
    """The pump that gives a flow at a head: fewest rated watts, at most four unless none does.

    ``so_many``: the pumps that must do it together; the strongest where none of the table do.
    Each pump's head falls with the square of its flow from shut-off to free flow.  Takes floats
    or arrays of N; gives the position in ``pumps()``.
    """
    shutoff, free, watts = _pump_columns()
    wanted = np.atleast_1d(np.asarray(flow, float))[:, None]
    lift = np.atleast_1d(np.asarray(head, float))[:, None]
    with np.errstate(all="ignore"):
        each = free * np.sqrt(np.maximum(1.0 - lift / shutoff, 0.0))
        count = np.maximum(np.ceil(wanted / each - 1e-9), 1.0)  # infinite where one gives none
        cost = np.where(count > MOST_OF_ONE, count * (watts + 1e12), count * watts)
        if so_many is not None:
            cost = np.where(count <= so_many, watts, 1e12 - watts)
    best = np.argmin(cost, axis=-1)
    return int(best[0]) if np.ndim(flow) == 0 and np.ndim(head) == 0 else best
