"""Kinds of quantity, the units that may be typed for them, and how they are shown.

Inside the package every number is SI: kg, m, s, Pa, W, kg/m³ for concentrations, kg/s for loads,
m³/s for flows.  Four kinds keep a plain number that is not SI, because their published relations
do: temperature in °C, ``Days`` in days, ``Years`` in years and ``Money`` in the design's currency.

A *kind* is one row of the table below: its family of typed units, the unit shown to a US reader
and the unit shown to a metric reader.  Formulas, choices, tables and pages all annotate with
these kinds, so a unit is written down once.  Text never reaches pint's parser: numbers follow a
strict pattern, unit labels come from the closed lists here, each with an exact factor that a test
compares with pint's definition.
"""

import functools
import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Annotated

import numpy as np

from .unit_table import FAMILIES, Unit

Number = float | np.ndarray


class UnitError(ValueError, TypeError):
    """A value, a unit or a dimension that will not do, in one sentence for a person."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: a family of units and the one shown in each display system."""

    name: str
    family: str
    us: str
    metric: str

    @property
    def plain(self) -> Unit:
        """The unit of plain numbers of this kind."""
        return FAMILIES[self.family][0]

    @property
    def has_dimension(self) -> bool:
        """Whether a plain number among quantities would be ambiguous."""
        return self.family not in ("ratio", "ph", "count", "money", "index", "per money")

    def unit(self, label: str) -> Unit:
        """The unit with this label or alias, else a sentence with those that would do."""
        found = _labels(self.family).get(_tidy(label))
        if found is None:
            raise UnitError(self._not_a_unit(label))
        return found

    def _not_a_unit(self, label: str) -> str:
        labels = [u.label for u in FAMILIES[self.family] if u.label]
        near = get_close_matches(label, labels, n=1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        shown = ", ".join(labels[:12]) if labels else "none: write the bare number"
        return f"{label[:40]!r} is not a unit of {self.name}.{hint} Units that will do: {shown}."

    def shown(self, system: str) -> Unit:
        """The unit in which a reader of this display system sees the kind."""
        return _shown(self, system)


@functools.cache
def _labels(family: str) -> dict[str, Unit]:
    """Every unit of a family by its tidy labels; the first of equals stays."""
    found: dict[str, Unit] = {}
    for unit in FAMILIES[family]:
        for label in (unit.label, *unit.aliases):
            found.setdefault(_tidy(label), unit)
    return found


@functools.cache
def _shown(kind: Kind, system: str) -> Unit:
    return kind.unit(kind.us if system == "us" else kind.metric)


def _tidy(label: str) -> str:
    """A label as it is compared: superscripts, dots, spaces and case of words folded."""
    folded = label.strip().replace("²", "2").replace("³", "3").replace("·", " ").replace("^", "")
    folded = folded.replace("µ", "u").replace("μ", "u").replace(" per ", "/")
    return re.sub(r"\s*/\s*", "/", re.sub(r"\s+", " ", folded)).replace("°", "")


# family, US unit, metric unit.  One row a kind; the annotation below it carries the row.
_KINDS = {
    "length": ("length", "ft", "m"),
    "pipe diameter": ("length", "in", "mm"),
    "head": ("length", "ft", "m"),
    "grain size": ("length", "µm", "µm"),
    "roughness": ("length", "mm", "mm"),
    "elevation": ("length", "ft", "m"),
    "area": ("area", "ft²", "m²"),
    "opening area": ("area", "in²", "cm²"),
    "volume": ("volume", "gal", "m³"),
    "small volume": ("volume", "gal", "L"),
    "media volume": ("volume", "ft³", "m³"),
    "mass": ("mass", "lb", "kg"),
    "fish weight": ("mass", "lb", "g"),
    "time": ("time", "s", "s"),
    "minutes": ("time", "min", "min"),
    "hours": ("time", "h", "h"),
    "days": ("days", "day", "day"),
    "weeks": ("time", "week", "week"),
    "long time": ("time", "year", "year"),
    "years": ("years", "year", "year"),
    "feed rate": ("mass flow", "lb/day", "kg/day"),
    "harvest rate": ("mass flow", "lb/year", "kg/year"),
    "ammonia load": ("mass flow", "g/day", "g/day"),
    "oxygen rate": ("mass flow", "lb/h", "g/h"),
    "solids load": ("mass flow", "lb/day", "kg/day"),
    "chemical dose": ("mass flow", "g/day", "g/day"),
    "air mass flow": ("mass flow", "lb/min", "kg/h"),
    "flow": ("flow", "gpm", "L/min"),
    "air flow": ("flow", "cfm", "L/min"),
    "daily flow": ("flow", "gal/day", "L/day"),
    "concentration": ("concentration", "mg/L", "mg/L"),
    "stocking density": ("concentration", "lb/gal", "kg/m³"),
    "density": ("concentration", "lb/ft³", "kg/m³"),
    "velocity": ("velocity", "ft/s", "cm/s"),
    "settling velocity": ("velocity", "ft/min", "mm/s"),
    "hydraulic load": ("velocity", "gpm/ft²", "m/h"),
    "areal rate": ("areal mass rate", "g/(ft² day)", "g/(m² day)"),
    "rate constant": ("velocity", "ft/day", "m/day"),
    "specific surface": ("per length", "ft²/ft³", "m²/m³"),
    "transfer efficiency per depth": ("per length", "%/ft", "%/m"),
    "floor load": ("mass per area", "lb/ft²", "kg/m²"),
    "area per feed": ("area per mass flow", "ft² per lb/day", "m² per kg/day"),
    "specific volume": ("specific volume", "gal/lb", "L/kg"),
    "system coefficient": ("system coefficient", "s²/m⁵", "s²/m⁵"),
    "tension": ("surface tension", "lb/ft", "N/m"),
    "pressure": ("pressure", "psi", "kPa"),
    "power": ("power", "W", "W"),
    "energy": ("energy", "kWh", "kWh"),
    "viscosity": ("viscosity", "mPa·s", "mPa·s"),
    "kinematic viscosity": ("kinematic viscosity", "mm²/s", "mm²/s"),
    "aeration efficiency": ("transfer per power", "lb/kWh", "kg/kWh"),
    "rate per time": ("per time", "%/day", "%/day"),
    "transfer coefficient": ("per time", "1/h", "1/h"),
    "temperature": ("temperature", "°F", "°C"),
    "temperature difference": ("temperature difference", "°F apart", "K"),
    "ratio": ("ratio", "", ""),
    "fraction": ("ratio", "%", "%"),
    "salinity": ("salinity", "g/kg", "g/kg"),
    "pH": ("ph", "", ""),
    "count": ("count", "", ""),
    "animals": ("count", "", ""),
    "choice index": ("index", "", ""),
    "money": ("money", "", ""),
    "price of mass": ("money per mass", "per lb", "per kg"),
    "price of volume": ("money per volume", "per gal", "per m³"),
    "price of water": ("money per volume", "per 1000 gal", "per m³"),
    "price of media": ("money per volume", "per ft³", "per m³"),
    "price of area": ("money per area", "per ft²", "per m²"),
    "price of length": ("money per length", "per ft", "per m"),
    "price of energy": ("money per energy", "per kWh", "per kWh"),
    "price of power": ("money per power", "per W", "per W"),
    "wage": ("money per time", "per h", "per h"),
    "angle": ("angle", "deg", "deg"),
    "heat flux": ("heat flux", "Btu/(h ft²)", "W/m²"),
    "daily sun": ("heat flux", "kWh/(m² day)", "kWh/(m² day)"),
    "heat transfer": ("heat transfer", "Btu/(h ft² °F)", "W/(m² K)"),
    "thermal resistance": ("thermal resistance", "h ft² °F/Btu", "m² K/W"),
    "conductivity": ("conductivity", "W/(m K)", "W/(m K)"),
    "conductance": ("conductance", "W/K", "W/K"),
    "heat capacity": ("heat capacity", "kWh/K", "kWh/K"),
    "specific energy": ("specific energy", "Btu/lb", "MJ/kg"),
    "energy per fish": ("specific energy", "kWh/lb", "kWh/kg"),
    "vapour pressure": ("pressure", "inHg", "kPa"),
    "vapour rate": ("mass flow", "lb/day", "kg/day"),
    "vapour flux": ("areal mass rate", "lb/(ft² day)", "kg/(m² day)"),
    "vapour transfer": ("vapour transfer", "kg/(m² s Pa)", "kg/(m² s Pa)"),
    "evaporation depth": ("velocity", "in/day", "mm/day"),
    "wind": ("wind speed", "mph", "m/s"),
    "temperature rate": ("temperature rate", "°F apart/h", "K/h"),
    "degree days": ("degree days", "°F·day", "K·day"),
    "voltage": ("voltage", "V", "V"),
    "current": ("current", "A", "A"),
    "charge": ("charge", "Ah", "Ah"),
    "apparent power": ("power", "kVA", "kVA"),
    "gas volume": ("volume", "ft³", "m³"),
    "nitrogen load": ("mass flow", "lb/year", "kg/year"),
    "crop rate": ("areal mass rate", "lb/(acre year)", "kg/(ha year)"),
    "land": ("area", "acre", "m²"),
}
KINDS = {name: Kind(name, *row) for name, row in _KINDS.items()}

Length = Annotated[Number, KINDS["length"]]
PipeDiameter = Annotated[Number, KINDS["pipe diameter"]]
Head = Annotated[Number, KINDS["head"]]
GrainSize = Annotated[Number, KINDS["grain size"]]
Roughness = Annotated[Number, KINDS["roughness"]]
Elevation = Annotated[Number, KINDS["elevation"]]
Area = Annotated[Number, KINDS["area"]]
OpeningArea = Annotated[Number, KINDS["opening area"]]
Volume = Annotated[Number, KINDS["volume"]]
SmallVolume = Annotated[Number, KINDS["small volume"]]
MediaVolume = Annotated[Number, KINDS["media volume"]]
Mass = Annotated[Number, KINDS["mass"]]
FishWeight = Annotated[Number, KINDS["fish weight"]]
Time = Annotated[Number, KINDS["time"]]
Minutes = Annotated[Number, KINDS["minutes"]]
Hours = Annotated[Number, KINDS["hours"]]
Days = Annotated[Number, KINDS["days"]]
Weeks = Annotated[Number, KINDS["weeks"]]
Years = Annotated[Number, KINDS["years"]]
FeedRate = Annotated[Number, KINDS["feed rate"]]
HarvestRate = Annotated[Number, KINDS["harvest rate"]]
AmmoniaLoad = Annotated[Number, KINDS["ammonia load"]]
OxygenRate = Annotated[Number, KINDS["oxygen rate"]]
SolidsLoad = Annotated[Number, KINDS["solids load"]]
ChemicalDose = Annotated[Number, KINDS["chemical dose"]]
AirMassFlow = Annotated[Number, KINDS["air mass flow"]]
Flow = Annotated[Number, KINDS["flow"]]
AirFlow = Annotated[Number, KINDS["air flow"]]
DailyFlow = Annotated[Number, KINDS["daily flow"]]
Concentration = Annotated[Number, KINDS["concentration"]]
StockingDensity = Annotated[Number, KINDS["stocking density"]]
Density = Annotated[Number, KINDS["density"]]
Velocity = Annotated[Number, KINDS["velocity"]]
SettlingVelocity = Annotated[Number, KINDS["settling velocity"]]
HydraulicLoad = Annotated[Number, KINDS["hydraulic load"]]
ArealRate = Annotated[Number, KINDS["areal rate"]]
RateConstant = Annotated[Number, KINDS["rate constant"]]
SpecificSurface = Annotated[Number, KINDS["specific surface"]]
EfficiencyPerDepth = Annotated[Number, KINDS["transfer efficiency per depth"]]
FloorLoad = Annotated[Number, KINDS["floor load"]]
AreaPerFeed = Annotated[Number, KINDS["area per feed"]]
SpecificVolume = Annotated[Number, KINDS["specific volume"]]
SystemCoefficient = Annotated[Number, KINDS["system coefficient"]]
Tension = Annotated[Number, KINDS["tension"]]
Pressure = Annotated[Number, KINDS["pressure"]]
Power = Annotated[Number, KINDS["power"]]
Energy = Annotated[Number, KINDS["energy"]]
Viscosity = Annotated[Number, KINDS["viscosity"]]
KinematicViscosity = Annotated[Number, KINDS["kinematic viscosity"]]
AerationEfficiency = Annotated[Number, KINDS["aeration efficiency"]]
RatePerTime = Annotated[Number, KINDS["rate per time"]]
TransferCoefficient = Annotated[Number, KINDS["transfer coefficient"]]
Temperature = Annotated[Number, KINDS["temperature"]]
TemperatureDifference = Annotated[Number, KINDS["temperature difference"]]
Ratio = Annotated[Number, KINDS["ratio"]]
Fraction = Annotated[Number, KINDS["fraction"]]
Salinity = Annotated[Number, KINDS["salinity"]]
PH = Annotated[Number, KINDS["pH"]]
Count = Annotated[Number, KINDS["count"]]
Animals = Annotated[Number, KINDS["animals"]]
Index = Annotated[Number, KINDS["choice index"]]
Money = Annotated[Number, KINDS["money"]]
PriceOfMass = Annotated[Number, KINDS["price of mass"]]
PriceOfVolume = Annotated[Number, KINDS["price of volume"]]
PriceOfWater = Annotated[Number, KINDS["price of water"]]
PriceOfMedia = Annotated[Number, KINDS["price of media"]]
PriceOfArea = Annotated[Number, KINDS["price of area"]]
PriceOfLength = Annotated[Number, KINDS["price of length"]]
PriceOfEnergy = Annotated[Number, KINDS["price of energy"]]
PriceOfPower = Annotated[Number, KINDS["price of power"]]
Wage = Annotated[Number, KINDS["wage"]]
Angle = Annotated[Number, KINDS["angle"]]
HeatFlux = Annotated[Number, KINDS["heat flux"]]
DailySun = Annotated[Number, KINDS["daily sun"]]
HeatTransfer = Annotated[Number, KINDS["heat transfer"]]
ThermalResistance = Annotated[Number, KINDS["thermal resistance"]]
Conductivity = Annotated[Number, KINDS["conductivity"]]
Conductance = Annotated[Number, KINDS["conductance"]]
HeatCapacity = Annotated[Number, KINDS["heat capacity"]]
SpecificEnergy = Annotated[Number, KINDS["specific energy"]]
EnergyPerFish = Annotated[Number, KINDS["energy per fish"]]
VapourPressure = Annotated[Number, KINDS["vapour pressure"]]
VapourRate = Annotated[Number, KINDS["vapour rate"]]
VapourFlux = Annotated[Number, KINDS["vapour flux"]]
VapourTransfer = Annotated[Number, KINDS["vapour transfer"]]
EvaporationDepth = Annotated[Number, KINDS["evaporation depth"]]
Wind = Annotated[Number, KINDS["wind"]]
TemperatureRate = Annotated[Number, KINDS["temperature rate"]]
DegreeDays = Annotated[Number, KINDS["degree days"]]
Voltage = Annotated[Number, KINDS["voltage"]]
Current = Annotated[Number, KINDS["current"]]
Charge = Annotated[Number, KINDS["charge"]]
ApparentPower = Annotated[Number, KINDS["apparent power"]]
GasVolume = Annotated[Number, KINDS["gas volume"]]
NitrogenLoad = Annotated[Number, KINDS["nitrogen load"]]
CropRate = Annotated[Number, KINDS["crop rate"]]
Land = Annotated[Number, KINDS["land"]]
