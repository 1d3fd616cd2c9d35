"""Tables for the heat of a tank: lids, boards, glazing."""

from dataclasses import dataclass

from ...core import tables
from ...core.kinds import Conductivity, Fraction, HeatTransfer, ThermalResistance
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class TankCover(SourcedRow):
    """A lid that lies on the water."""

    name: str
    label: str
    resistance: ThermalResistance
    transmittance: Fraction
    absorptance: Fraction
    leak: Fraction


@dataclass(frozen=True, slots=True)
class Insulation(SourcedRow):
    """What is put around a wall or under a floor."""

    name: str
    label: str
    conductivity: Conductivity


@dataclass(frozen=True, slots=True)
class Glazing(SourcedRow):
    """What a greenhouse is covered with."""

    name: str
    label: str
    heat_transfer: HeatTransfer
    transmittance: Fraction


def tank_cover(name: str) -> TankCover:
    """The row of a lid."""
    return tables.named(tables.read("tank_covers", TankCover), name, "lid")


def insulation(name: str) -> Insulation:
    """The row of a board."""
    return tables.named(tables.read("insulation", Insulation), name, "board")


def glazing(name: str) -> Glazing:
    """The row of a glazing."""
    return tables.named(tables.read("glazings", Glazing), name, "glazing")
