"""What each vessel weighs when full, and what it puts on the floor."""

import math
from dataclasses import dataclass

from ..equations.water import properties
from .graph import Layout, Vessel
from .levels import warmest
from .rules import rule

GRAVITY = 9.80665
STONY = ("gravel", "fine gravel", "lava rock", "expanded clay", "sand")
"""Media of stone; the others are plastic."""


@dataclass(frozen=True, slots=True)
class Weight:
    """One vessel full: its water, its shell, its media [kg]; its foot [m²] and the load on it [kg/m²]."""

    name: str
    label: str
    count: int
    water: float
    shell: float
    media: float
    foot: float

    @property
    def total(self) -> float:
        """All of it [kg]."""
        return self.water + self.shell + self.media

    @property
    def load(self) -> float:
        """Load on the floor [kg/m²]."""
        return self.total / self.foot

    @property
    def pressure(self) -> float:
        """The same [Pa]."""
        return self.load * GRAVITY


def weights(layout: Layout) -> tuple[Weight, ...]:
    """The weights of all vessels, each one of its kind."""
    density = float(properties.density(warmest(layout.sizing)))
    found = []
    for v in layout.vessels:
        foot = _foot(layout, v)
        water = v.volume * density
        wall = math.sqrt(4 * math.pi * foot) if v.shape != "box" else 2 * (v.across + v.length)
        shell = rule("shell weight") * (foot + wall * v.wall)
        media = _media(layout) / v.count if v.name == "filter" else 0.0
        if media and water:
            water = max(0.0, water - media / _grain(layout) * density)
        found.append(Weight(v.name, v.label, v.count, water, shell, media, foot))
    return tuple(found)


def all_water(layout: Layout) -> float:
    """Water in all vessels at full flow [m³], counted with what the media take of the filter's."""
    return sum(v.count * v.volume for v in layout.vessels)


def _foot(layout: Layout, v: Vessel) -> float:
    if v.name == "tank":
        return float(layout.sizing.tank.floor)
    return v.across * v.length if v.shape == "box" else math.pi / 4 * v.across**2


def _grain(layout: Layout) -> float:
    stony = layout.sizing.design.filter.medium in STONY
    return rule("stone weight") if stony else rule("plastic weight")


def _media(layout: Layout) -> float:
    s = layout.sizing
    return (
        float(s.filter.media_volume) * (1.0 - float(s.tables.medium.void_fraction)) * _grain(layout)
    )
