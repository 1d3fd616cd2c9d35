"""The rows of the tables that one design uses, gathered so that a sizing asks in one place."""

import functools
from dataclasses import dataclass

import numpy as np

from ..core import tables
from ..core.kinds import PH, ArealRate, Concentration, DailyFlow, Fraction, Length, SettlingVelocity
from ..core.tables import SourcedRow, named
from ..equations.air import devices as air_devices
from ..equations.air.devices import AirType, Diffuser
from ..equations.biofilter.media import FilterType, Medium, Vessel
from ..equations.fish.species import Species, rations, species
from ..equations.pipes import tables as plumbing_tables
from .model import Design


@dataclass(frozen=True, slots=True)
class Shape(SourcedRow):
    """A shape of tank and the share of the square around it that its floor fills."""

    name: str
    label: str
    floor_share: Fraction


@dataclass(frozen=True, slots=True)
class SourceWater(SourcedRow):
    """A source water as a ready example, invented."""

    name: str
    label: str
    alkalinity: Concentration
    hardness: Concentration
    ph: PH
    chloride: Concentration
    nitrate: Concentration
    disinfectant: str
    residual: Concentration
    supply: DailyFlow


@dataclass(frozen=True, slots=True)
class TankSize(SourcedRow):
    """A distance across that the trade sells."""

    name: str
    label: str
    across: Length


@dataclass(frozen=True, slots=True)
class Settler(SourcedRow):
    """A kind of settler and how much of the ideal it catches."""

    name: str
    label: str
    effectiveness: Fraction


@dataclass(frozen=True, slots=True)
class Polishing(SourcedRow):
    """What catches fine waste after the settler, and how much of that is rinsed away in time."""

    name: str
    label: str
    removal: Fraction
    rinsed: Fraction


@dataclass(frozen=True, slots=True)
class PlantBed(SourcedRow):
    """A kind of plant bed and the ammonia that each area of it turns to nitrate."""

    name: str
    label: str
    ammonia_rate: ArealRate


@dataclass(frozen=True, slots=True)
class Grain(SourcedRow):
    """A class of waste by its settling velocity."""

    name: str
    label: str
    velocity: SettlingVelocity
    share: Fraction


@dataclass(frozen=True, slots=True, eq=False)
class Catalogue:
    """What one design looks up."""

    species: Species
    ration: tuple[np.ndarray, np.ndarray]
    shape: Shape
    settler: Settler
    polishing: Polishing
    filter_type: FilterType
    medium: Medium
    vessel: Vessel
    diffuser: Diffuser
    plant_bed: PlantBed
    coarse: Diffuser
    grain_velocities: np.ndarray
    grain_shares: np.ndarray
    tank_sizes: np.ndarray
    pipe_sizes: np.ndarray
    widest_pipe: float
    widest_standpipe: float

    def rows(self) -> list:
        """Every row a sizing may have taken a number from."""
        chosen = [self.species, self.shape, self.settler, self.polishing, self.filter_type,
                  self.medium, self.vessel, self.diffuser, self.plant_bed]  # fmt: skip
        return [
            *chosen,
            *tables.read("pumps", plumbing_tables.Pump),
            *tables.read("air_types", AirType),
            *tables.read("air_devices", air_devices.AirDevice),
            *tables.read("pipes", plumbing_tables.Pipe),
        ]

    def pipe(self, name: str):
        """The row of a pipe."""
        return plumbing_tables.pipe(name)

    def pump(self, name: str):
        """The row of a pump."""
        return plumbing_tables.pump(name)

    def loss(self, name: str) -> float:
        """The loss coefficient of a fitting."""
        return plumbing_tables.loss(name)

    def device(self, name: str):
        """The row of an air machine."""
        return air_devices.device(name)

    def choose_air(self, air_flow, pressure, thinner, **told):
        """The machine that brings an air flow, of the kind, size or number told if any is."""
        return air_devices.choose(air_flow, pressure, thinner, **told)

    def air_of_watts(self, watts, needed, pressure, thinner, kind=None):
        """The machine sold for so many watts, and the air of all of them; ``needed`` if it draws them."""
        found = air_devices.choose_by_watts(watts, pressure, thinner, kind)
        return air_devices.same_watts(watts, needed, *found)

    def curve(self, name: str):
        """Pressures and flows of an air machine."""
        return air_devices.curve(name)

    def choose_pump(self, flow, head, so_many=None):
        """The place of the pump that gives a flow at a head, so many of them together."""
        return plumbing_tables.choose_pump(flow, head, so_many)

    def pump_at(self, place):
        """The row of a pump by its place, or the rows of many."""
        return _taken(plumbing_tables.pumps(), place)


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """Rows of a table taken for each of N designs: each number an array of N."""

    name: object
    values: dict

    def __getattr__(self, key: str):
        return self.values[key]


def _taken(rows: tuple, best):
    """One row, or of many designs the columns of the rows taken."""
    if np.ndim(best) == 0:
        return rows[int(best)]
    numbers = [n for n in rows[0].__slots__ if isinstance(getattr(rows[0], n), float)]
    values = {n: np.array([getattr(r, n) for r in rows])[best] for n in numbers}
    return Taken(np.array([r.name for r in rows])[best], values)


def catalogue(design: Design) -> Catalogue:
    """The rows that a design uses."""
    return _catalogue(
        design.stock.species, design.tank.shape, design.solids.settler, design.solids.second,
        design.filter.type, design.filter.medium, design.filter.vessel, design.air.diffuser,
        design.filter.plant_bed,
    )  # fmt: skip


@functools.cache
def _catalogue(
    fish, shape, settler, second, filter_type, medium, vessel, diffuser, plant_bed
) -> Catalogue:  # fmt: skip
    row = species(fish)
    grains = tables.read("grains", Grain)
    sizes = tables.read("tank_sizes", TankSize)
    return Catalogue(
        species=row,
        ration=rations(row.ration_table),
        shape=named(tables.read("tank_shapes", Shape), shape, "shape"),
        settler=named(tables.read("settlers", Settler), settler, "settler"),
        polishing=named(tables.read("polishing", Polishing), second, "second screen"),
        filter_type=named(tables.read("filter_types", FilterType), filter_type, "filter"),
        medium=named(tables.read("media", Medium), medium, "medium"),
        vessel=named(tables.read("filter_vessels", Vessel), vessel, "filter vessel"),
        diffuser=named(tables.read("diffusers", Diffuser), diffuser, "kind of bubble"),
        plant_bed=named(tables.read("plant_beds", PlantBed), plant_bed, "kind of plant bed"),
        coarse=named(tables.read("diffusers", Diffuser), "coarse", "kind of bubble"),
        grain_velocities=np.array([g.velocity for g in grains]),
        grain_shares=np.array([g.share for g in grains]),
        tank_sizes=np.array(sorted(s.across for s in sizes)),
        pipe_sizes=plumbing_tables.pipe_sizes(),
        widest_pipe=float(plumbing_tables.pipe_sizes()[-1]),
        widest_standpipe=float(plumbing_tables.pipe("6 in").inside_diameter),
    )


def source_values(name: str) -> dict:
    """The choices of a design for one of the ready source waters, by their paths."""
    row = named(tables.read("source_waters", SourceWater), name, "source water")
    parts = (
        "alkalinity",
        "hardness",
        "ph",
        "chloride",
        "nitrate",
        "disinfectant",
        "residual",
        "supply",
    )
    kind = name if name in ("tap", "well", "rain") else "tap"
    return {"source.kind": kind, **{f"source.{part}": getattr(row, part) for part in parts}}
