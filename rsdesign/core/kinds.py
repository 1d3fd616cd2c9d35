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
        """The unit with this label or alias.

        Parameters:
            label: such as ``"ft"`` or ``"feet"``.
        Returns: the ``Unit`` with its factor to the plain one.
        Raises: ``UnitError``, a sentence with the units that would do.

        >>> KINDS["length"].unit("feet").label
        'ft'
        """
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
        """The unit in which a reader of this display system sees the kind.

        Parameters:
            system: "us" or "metric".
        Returns: the ``Unit``.

        >>> KINDS["flow"].shown("us").label
        'gpm'
        """
        return _shown(self, system)


def to_plain(value, unit: Unit):
    """A number in a typed unit as the plain number of its kind.

    Parameters:
        value: a number or an array, in ``unit``; any range.
        unit: one of the closed lists, such as ``KINDS["length"].unit("ft")``.
    Returns: the same in the plain (SI) unit of the kind.

    >>> round(to_plain(3, KINDS["length"].unit("ft")), 4)
    0.9144
    """
    return value * unit.factor + unit.offset


def from_plain(value, unit: Unit):
    """A plain number as the number in a typed unit.

    Parameters:
        value: a number or an array in the plain (SI) unit of its kind; any range.
        unit: one of the closed lists, such as ``KINDS["length"].unit("ft")``.
    Returns: the same in ``unit``.

    >>> round(from_plain(0.9144, KINDS["length"].unit("ft")), 6)
    3.0
    """
    return (value - unit.offset) / unit.factor


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


KINDS: dict[str, Kind] = {}
"""Every kind by its name."""


def _kind(name: str, family: str, us: str, metric: str) -> Kind:
    """A kind of a family of units, with the unit in which readers of each system see it."""
    KINDS[name] = Kind(name, family, us, metric)
    return KINDS[name]


Length = Annotated[Number, _kind("length", "length", "ft", "m")]
PipeDiameter = Annotated[Number, _kind("pipe diameter", "length", "in", "mm")]
Head = Annotated[Number, _kind("head", "length", "ft", "m")]
GrainSize = Annotated[Number, _kind("grain size", "length", "µm", "µm")]
Roughness = Annotated[Number, _kind("roughness", "length", "mm", "mm")]
Elevation = Annotated[Number, _kind("elevation", "length", "ft", "m")]
Area = Annotated[Number, _kind("area", "area", "ft²", "m²")]
OpeningArea = Annotated[Number, _kind("opening area", "area", "in²", "cm²")]
Volume = Annotated[Number, _kind("volume", "volume", "gal", "m³")]
SmallVolume = Annotated[Number, _kind("small volume", "volume", "gal", "L")]
MediaVolume = Annotated[Number, _kind("media volume", "volume", "ft³", "m³")]
Mass = Annotated[Number, _kind("mass", "mass", "lb", "kg")]
FishWeight = Annotated[Number, _kind("fish weight", "mass", "lb", "g")]
Time = Annotated[Number, _kind("time", "time", "s", "s")]
Minutes = Annotated[Number, _kind("minutes", "time", "min", "min")]
Hours = Annotated[Number, _kind("hours", "time", "h", "h")]
Days = Annotated[Number, _kind("days", "days", "day", "day")]
Weeks = Annotated[Number, _kind("weeks", "time", "week", "week")]
Wait = Annotated[Number, _kind("wait", "time", "day", "day")]
LongTime = Annotated[Number, _kind("long time", "time", "year", "year")]
Years = Annotated[Number, _kind("years", "years", "year", "year")]
FeedRate = Annotated[Number, _kind("feed rate", "mass flow", "lb/day", "kg/day")]
HarvestRate = Annotated[Number, _kind("harvest rate", "mass flow", "lb/year", "kg/year")]
AmmoniaLoad = Annotated[Number, _kind("ammonia load", "mass flow", "g/day", "g/day")]
OxygenRate = Annotated[Number, _kind("oxygen rate", "mass flow", "lb/h", "g/h")]
SolidsLoad = Annotated[Number, _kind("solids load", "mass flow", "lb/day", "kg/day")]
ChemicalDose = Annotated[Number, _kind("chemical dose", "mass flow", "g/day", "g/day")]
AirMassFlow = Annotated[Number, _kind("air mass flow", "mass flow", "lb/min", "kg/h")]
Flow = Annotated[Number, _kind("flow", "flow", "gpm", "L/min")]
AirFlow = Annotated[Number, _kind("air flow", "flow", "cfm", "L/min")]
DailyFlow = Annotated[Number, _kind("daily flow", "flow", "gal/day", "L/day")]
Concentration = Annotated[Number, _kind("concentration", "concentration", "mg/L", "mg/L")]
VolumetricLoad = Annotated[
    Number, _kind("volumetric load", "volumetric mass rate", "mg/(L day)", "g/(m³ day)")
]
StockingDensity = Annotated[Number, _kind("stocking density", "concentration", "lb/gal", "kg/m³")]
Density = Annotated[Number, _kind("density", "concentration", "lb/ft³", "kg/m³")]
Velocity = Annotated[Number, _kind("velocity", "velocity", "ft/s", "cm/s")]
SettlingVelocity = Annotated[Number, _kind("settling velocity", "velocity", "ft/min", "mm/s")]
HydraulicLoad = Annotated[Number, _kind("hydraulic load", "velocity", "gpm/ft²", "m/h")]
ArealRate = Annotated[Number, _kind("areal rate", "areal mass rate", "g/(ft² day)", "g/(m² day)")]
RateConstant = Annotated[Number, _kind("rate constant", "velocity", "ft/day", "m/day")]
SpecificSurface = Annotated[Number, _kind("specific surface", "per length", "ft²/ft³", "m²/m³")]
EfficiencyPerDepth = Annotated[
    Number, _kind("transfer efficiency per depth", "per length", "%/ft", "%/m")
]
FloorLoad = Annotated[Number, _kind("floor load", "mass per area", "lb/ft²", "kg/m²")]
AreaPerFeed = Annotated[
    Number, _kind("area per feed", "area per mass flow", "ft² per lb/day", "m² per kg/day")
]
SpecificVolume = Annotated[Number, _kind("specific volume", "specific volume", "gal/lb", "L/kg")]
SystemCoefficient = Annotated[
    Number, _kind("system coefficient", "system coefficient", "s²/m⁵", "s²/m⁵")
]
Tension = Annotated[Number, _kind("tension", "surface tension", "lb/ft", "N/m")]
Pressure = Annotated[Number, _kind("pressure", "pressure", "psi", "kPa")]
Power = Annotated[Number, _kind("power", "power", "W", "W")]
Energy = Annotated[Number, _kind("energy", "energy", "kWh", "kWh")]
Viscosity = Annotated[Number, _kind("viscosity", "viscosity", "mPa·s", "mPa·s")]
KinematicViscosity = Annotated[
    Number, _kind("kinematic viscosity", "kinematic viscosity", "mm²/s", "mm²/s")
]
AerationEfficiency = Annotated[
    Number, _kind("aeration efficiency", "transfer per power", "lb/kWh", "kg/kWh")
]
RatePerTime = Annotated[Number, _kind("rate per time", "per time", "%/day", "%/day")]
TransferCoefficient = Annotated[Number, _kind("transfer coefficient", "per time", "1/h", "1/h")]
Temperature = Annotated[Number, _kind("temperature", "temperature", "°F", "°C")]
TemperatureDifference = Annotated[
    Number, _kind("temperature difference", "temperature difference", "°F apart", "K")
]
Ratio = Annotated[Number, _kind("ratio", "ratio", "", "")]
Fraction = Annotated[Number, _kind("fraction", "ratio", "%", "%")]
Salinity = Annotated[Number, _kind("salinity", "salinity", "g/kg", "g/kg")]
PH = Annotated[Number, _kind("pH", "ph", "", "")]
Count = Annotated[Number, _kind("count", "count", "", "")]
Animals = Annotated[Number, _kind("animals", "count", "", "")]
Index = Annotated[Number, _kind("choice index", "index", "", "")]
Money = Annotated[Number, _kind("money", "money", "", "")]
PriceOfMass = Annotated[Number, _kind("price of mass", "money per mass", "per lb", "per kg")]
PriceOfVolume = Annotated[Number, _kind("price of volume", "money per volume", "per gal", "per m³")]
PriceOfWater = Annotated[
    Number, _kind("price of water", "money per volume", "per 1000 gal", "per m³")
]
PriceOfMedia = Annotated[Number, _kind("price of media", "money per volume", "per ft³", "per m³")]
PriceOfArea = Annotated[Number, _kind("price of area", "money per area", "per ft²", "per m²")]
PriceOfLength = Annotated[Number, _kind("price of length", "money per length", "per ft", "per m")]
PriceOfEnergy = Annotated[
    Number, _kind("price of energy", "money per energy", "per kWh", "per kWh")
]
PriceOfPower = Annotated[Number, _kind("price of power", "money per power", "per W", "per W")]
Wage = Annotated[Number, _kind("wage", "money per time", "per h", "per h")]
Angle = Annotated[Number, _kind("angle", "angle", "deg", "deg")]
HeatFlux = Annotated[Number, _kind("heat flux", "heat flux", "Btu/(h ft²)", "W/m²")]
DailySun = Annotated[Number, _kind("daily sun", "heat flux", "kWh/(m² day)", "kWh/(m² day)")]
HeatTransfer = Annotated[
    Number, _kind("heat transfer", "heat transfer", "Btu/(h ft² °F)", "W/(m² K)")
]
ThermalResistance = Annotated[
    Number, _kind("thermal resistance", "thermal resistance", "h ft² °F/Btu", "m² K/W")
]
Conductivity = Annotated[Number, _kind("conductivity", "conductivity", "W/(m K)", "W/(m K)")]
Conductance = Annotated[Number, _kind("conductance", "conductance", "W/K", "W/K")]
HeatCapacity = Annotated[Number, _kind("heat capacity", "heat capacity", "kWh/K", "kWh/K")]
SpecificEnergy = Annotated[Number, _kind("specific energy", "specific energy", "Btu/lb", "MJ/kg")]
EnergyPerFish = Annotated[Number, _kind("energy per fish", "specific energy", "kWh/lb", "kWh/kg")]
VapourPressure = Annotated[Number, _kind("vapour pressure", "pressure", "inHg", "kPa")]
VapourRate = Annotated[Number, _kind("vapour rate", "mass flow", "lb/day", "kg/day")]
VapourFlux = Annotated[
    Number, _kind("vapour flux", "areal mass rate", "lb/(ft² day)", "kg/(m² day)")
]
VapourTransfer = Annotated[
    Number, _kind("vapour transfer", "vapour transfer", "kg/(m² s Pa)", "kg/(m² s Pa)")
]
EvaporationDepth = Annotated[Number, _kind("evaporation depth", "velocity", "in/day", "mm/day")]
Wind = Annotated[Number, _kind("wind", "wind speed", "mph", "m/s")]
TemperatureRate = Annotated[
    Number, _kind("temperature rate", "temperature rate", "°F apart/h", "K/h")
]
DegreeDays = Annotated[Number, _kind("degree days", "degree days", "°F·day", "K·day")]
Voltage = Annotated[Number, _kind("voltage", "voltage", "V", "V")]
Current = Annotated[Number, _kind("current", "current", "A", "A")]
Charge = Annotated[Number, _kind("charge", "charge", "Ah", "Ah")]
ApparentPower = Annotated[Number, _kind("apparent power", "power", "kVA", "kVA")]
GasVolume = Annotated[Number, _kind("gas volume", "volume", "ft³", "m³")]
NitrogenLoad = Annotated[Number, _kind("nitrogen load", "mass flow", "lb/year", "kg/year")]
CropRate = Annotated[
    Number, _kind("crop rate", "areal mass rate", "lb/(acre year)", "kg/(ha year)")
]
Land = Annotated[Number, _kind("land", "area", "acre", "m²")]
