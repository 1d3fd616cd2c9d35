"""Layout, bill, cuts, circuits, weights, steps and tools of one sizing, computed together."""

import functools
from dataclasses import dataclass

from ...building.bill import Bill, bill
from ...building.circuits import Circuit, circuits
from ...building.cuts import Cuts, cuts
from ...building.graph import Layout
from ...building.layout import layout
from ...building.prices import NONE, OwnPrices
from ...building.steps import Step, Tool, steps, tools
from ...building.weights import Weight, all_water, weights
from ...sizing.system import Sizing

KEPT = 4
"""Sizings kept with their lists: a page hands the same one out in three formats."""


@dataclass(frozen=True, slots=True, eq=False)
class Building:
    """Everything a builder asks of one sizing."""

    layout: Layout
    bill: Bill
    cuts: Cuts
    circuits: tuple[Circuit, ...]
    weights: tuple[Weight, ...]
    steps: tuple[Step, ...]
    tools: tuple[Tool, ...]

    @property
    def time(self) -> float:
        """Work of all steps and people together [s]."""
        return sum(step.work for step in self.steps)


@functools.lru_cache(maxsize=KEPT)
def layout_of(sizing: Sizing) -> Layout:
    """The layout of a sizing, kept for the last few."""
    return layout(sizing)


def water_of(sizing: Sizing) -> float:
    """All the water of a sizing as laid out [m³]: what a dose is weighed for."""
    return all_water(layout_of(sizing))


def building(sizing: Sizing, own: OwnPrices = NONE) -> Building:
    """All lists of a sizing, with prices of one's own file where there is one."""
    found = layout_of(sizing)
    return Building(found, bill(found, own), cuts(found), circuits(found), weights(found), steps(found),
                    tools(found))  # fmt: skip


@functools.lru_cache(maxsize=KEPT)
def building_of(sizing: Sizing) -> Building:
    """The same, kept for the last few sizings."""
    return building(sizing)
