"""What a year of weather adds to a budget: heat that is bought, water that goes into the air."""

import functools

from ..design import FIELDS, Design, Keyed, value_of
from ..sizing import Sizing
from ..studies.enterprise import Enterprise, enterprise
from .heat import study

_APART = frozenset({"prices", "terms", "safety", "makeup"})
"""Sections on which the heat of the water does not hang."""

_PATHS = tuple(p for p, f in FIELDS.items() if f.section and f.section not in _APART)


def extras(sizing: Sizing) -> dict[str, float]:
    """Heating energy [J] and evaporation [m³] of a year, for one design (no arrays).

    Heat is bought only where the design says that the water is heated.
    """
    return dict(_found(Keyed(sizing, tuple(_plain(sizing.design, path) for path in _PATHS))))


def full_year(sizing: Sizing) -> Enterprise:
    """The budget of a full year with its heat and its evaporation."""
    return enterprise(sizing, **extras(sizing))


def _plain(design: Design, path: str):
    value = value_of(design, path)
    return float(value) if isinstance(value, (int, float)) else value


@functools.lru_cache(maxsize=16)
def _found(key: Keyed) -> tuple[tuple[str, float], ...]:
    """A money slider moves often and changes no heat: the last few answers are kept."""
    warm = study(key.of)
    energy = warm.yearly_heating_energy if key.of.design.climate.heated else 0.0
    return (("heating_energy", float(energy)), ("evaporation", warm.yearly_evaporation))
