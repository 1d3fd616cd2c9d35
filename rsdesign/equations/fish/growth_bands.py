"""How fast fish grow among published results: a slow, a middle and a fast line for each species."""

import functools
from dataclasses import dataclass

from ...core import kinds, tables
from ...core.tables import SourcedRow

BANDS = ("slow", "middle", "fast")


@dataclass(frozen=True, slots=True)
class GrowthBand(SourcedRow):
    """One line of growth: its coefficient and the temperature where growth starts."""

    species: str
    band: str
    growth_coefficient: kinds.Ratio
    base_temperature: kinds.Temperature


@functools.cache
def growth_bands(name: str) -> dict[str, GrowthBand]:
    """The slow, the middle and the fast line of a species, by the name of the band.

    Parameters:
        name: a species of ``data/species.csv``.
    Returns: the rows of ``data/growth_bands.csv``, with where each comes from.

    >>> growth_bands("tilapia")["middle"].growth_coefficient
    2.4
    """
    rows = [r for r in tables.read("growth_bands", GrowthBand) if r.species == name]
    return {band: next(r for r in rows if r.band == band) for band in BANDS}
