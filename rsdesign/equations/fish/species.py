"""The fish: what each species needs, from ``data/species.csv`` and the feeding tables."""

import functools
from dataclasses import dataclass

import numpy as np

from ...core import kinds, tables
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class Species(SourcedRow):
    """One species; where each number comes from stands in ``data/species_sources.csv``."""

    name: str
    label: str
    growth_coefficient: kinds.Ratio
    base_temperature: kinds.Temperature
    top_temperature: kinds.Temperature
    best_low: kinds.Temperature
    best_high: kinds.Temperature
    feeding_low: kinds.Temperature
    feeding_high: kinds.Temperature
    lethal_low: kinds.Temperature
    lethal_high: kinds.Temperature
    density_air: kinds.StockingDensity
    density_oxygen: kinds.StockingDensity
    oxygen: kinds.Concentration
    ration_table: str


@dataclass(frozen=True, slots=True)
class Ration(SourcedRow):
    """One line of a feeding table: what fish of a size eat of their weight in a day."""

    name: str
    size: kinds.FishWeight
    rate: kinds.RatePerTime


@dataclass(frozen=True, slots=True)
class Stage(SourcedRow):
    """One line of a growth table: the weight of a fish after so many days."""

    name: str
    day: kinds.Days
    weight: kinds.FishWeight


@dataclass(frozen=True, slots=True)
class CellSource(SourcedRow):
    """Where one number of the species table comes from."""

    name: str
    column: str


def species(name: str) -> Species:
    """The row of a species."""
    return tables.named(tables.read("species", Species), name, "species")


@functools.cache
def rations(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Sizes [kg] and rates [1/s] of a feeding table, sizes rising."""
    rows = sorted(
        (r for r in tables.read("rations", Ration) if r.name == name), key=lambda r: r.size
    )
    return np.array([r.size for r in rows]), np.array([r.rate for r in rows])


@functools.cache
def stages(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Days and weights [kg] of a growth table, days rising; empty where there is none."""
    rows = [r for r in tables.read("stages", Stage) if r.name == name]
    return np.array([r.day for r in rows]), np.array([r.weight for r in rows])
