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

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Annotated

import numpy as np

Number = float | np.ndarray


class UnitError(ValueError, TypeError):
    """A value, a unit or a dimension that will not do, in one sentence for a person."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit that may be typed: ``SI = factor * value + offset``."""

    label: str
    factor: float
    pint: str
    offset: float = 0.0
    aliases: tuple[str, ...] = ()


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
        wanted = _tidy(label)
        for unit in FAMILIES[self.family]:
            if wanted == _tidy(unit.label) or wanted in map(_tidy, unit.aliases):
                return unit
        raise UnitError(self._not_a_unit(label))

    def _not_a_unit(self, label: str) -> str:
        labels = [u.label for u in FAMILIES[self.family] if u.label]
        near = get_close_matches(label, labels, n=1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        shown = ", ".join(labels[:12]) if labels else "none: write the bare number"
        return f"{label[:40]!r} is not a unit of {self.name}.{hint} Units that will do: {shown}."

    def shown(self, system: str) -> Unit:
        """The unit in which a reader of this display system sees the kind."""
        return self.unit(self.us if system == "us" else self.metric)


def _tidy(label: str) -> str:
    """A label as it is compared: superscripts, dots, spaces and case of words folded."""
    folded = label.strip().replace("²", "2").replace("³", "3").replace("·", " ").replace("^", "")
    folded = folded.replace("µ", "u").replace("μ", "u").replace(" per ", "/")
    return re.sub(r"\s*/\s*", "/", re.sub(r"\s+", " ", folded)).replace("°", "")


_IN = 0.0254
_FT = 0.3048
_GAL = 231 * _IN**3
_LB = 0.45359237
DAY = 86400.0
_DAY = DAY
_YEAR = 365.25 * _DAY
_G0 = 9.80665
_PSI = _LB * _G0 / _IN**2
_BTU = 1055.05585262

_TIMES = {
    "s": (1.0, "second", ("sec", "second", "seconds")),
    "min": (60.0, "minute", ("minute", "minutes")),
    "h": (3600.0, "hour", ("hr", "hour", "hours")),
    "day": (_DAY, "day", ("d", "days")),
    "week": (7 * _DAY, "week", ("wk", "weeks")),
    "year": (_YEAR, "year", ("yr", "a", "years")),
}
_MASSES = {
    "kg": (1.0, "kilogram", ("kilogram", "kilograms")),
    "lb": (_LB, "pound", ("lbs", "pound", "pounds")),
    "oz": (_LB / 16, "ounce", ("ounce", "ounces")),
    "g": (1e-3, "gram", ("gram", "grams")),
    "mg": (1e-6, "milligram", ()),
    "t": (1e3, "metric_ton", ("tonne", "tonnes")),
}
_LENGTHS = {
    "m": (1.0, "meter", ("metre", "meter", "metres", "meters")),
    "ft": (_FT, "foot", ("feet", "foot", "'")),
    "in": (_IN, "inch", ("inch", "inches", '"')),
    "cm": (1e-2, "centimeter", ()),
    "mm": (1e-3, "millimeter", ()),
    "µm": (1e-6, "micrometer", ("micron", "microns")),
}
_VOLUMES = {
    "m³": (1.0, "meter**3", ()),
    "gal": (_GAL, "gallon", ("US gal", "gallon", "gallons")),
    "L": (1e-3, "liter", ("l", "litre", "liter", "litres", "liters")),
    "ft³": (_FT**3, "foot**3", ("cu ft",)),
    "mL": (1e-6, "milliliter", ("ml",)),
}
_AREAS = {
    "m²": (1.0, "meter**2", ()),
    "ft²": (_FT**2, "foot**2", ("sq ft",)),
    "in²": (_IN**2, "inch**2", ("sq in",)),
    "cm²": (1e-4, "centimeter**2", ()),
}


def _family(table: dict) -> tuple[Unit, ...]:
    return tuple(Unit(label, f, p, aliases=a) for label, (f, p, a) in table.items())


def _over(top: dict, bottom: dict, extra: tuple[Unit, ...] = ()) -> tuple[Unit, ...]:
    """Every unit of one table over every unit of another."""
    units = []
    for a, (fa, pa, na) in top.items():
        for b, (fb, pb, nb) in bottom.items():
            names = tuple(f"{x}/{y}" for x in (a, *na) for y in (b, *nb))[1:]
            units.append(Unit(f"{a}/{b}", fa / fb, f"{pa}/({pb})", aliases=names))
    return (*units, *extra)


def _pick(table: dict, *labels: str) -> dict:
    return {label: table[label] for label in labels}


_PER_AREA_DAY = {
    "m² s": (1.0, "meter**2*second", ()),
    "m² day": (_DAY, "meter**2*day", ("m² d",)),
    "ft² day": (_FT**2 * _DAY, "foot**2*day", ("ft² d",)),
}

FAMILIES: dict[str, tuple[Unit, ...]] = {
    "length": _family(_LENGTHS),
    "area": _family(_AREAS),
    "volume": _family(_VOLUMES),
    "mass": _family(_MASSES),
    "time": _family(_TIMES),
    "days": tuple(
        Unit(label, f / _DAY, p, aliases=a)
        for label, (f, p, a) in sorted(_TIMES.items(), key=lambda item: item[0] != "day")
    ),
    "years": tuple(
        Unit(label, f / _YEAR, p, aliases=a)
        for label, (f, p, a) in sorted(_TIMES.items(), key=lambda item: item[0] != "year")
    ),
    "mass flow": _over(_MASSES, _TIMES),
    "flow": _over(
        _VOLUMES,
        _TIMES,
        (
            Unit("gpm", _GAL / 60, "gallon/minute", aliases=("GPM",)),
            Unit("gph", _GAL / 3600, "gallon/hour", aliases=("GPH",)),
            Unit("cfm", _FT**3 / 60, "foot**3/minute", aliases=("CFM",)),
            Unit("lpm", 1e-3 / 60, "liter/minute", aliases=("LPM",)),
        ),
    ),
    "concentration": (
        Unit("kg/m³", 1.0, "kilogram/meter**3", aliases=("g/L",)),
        Unit("mg/L", 1e-3, "milligram/liter", aliases=("mg/l", "g/m³")),
        Unit("µg/L", 1e-6, "microgram/liter", aliases=("ug/l",)),
        Unit("lb/gal", _LB / _GAL, "pound/gallon"),
        Unit("lb/ft³", _LB / _FT**3, "pound/foot**3"),
    ),
    "specific volume": _over(_VOLUMES, _pick(_MASSES, "kg", "lb")),
    "velocity": (
        *_over(_LENGTHS, _TIMES),
        Unit("gpm/ft²", _GAL / 60 / _FT**2, "gallon/minute/foot**2"),
        Unit("m³/(m² day)", 1 / _DAY, "meter/day", aliases=("m3/m2/day",)),
    ),
    "areal mass rate": tuple(
        Unit(f"{m}/({a})", fm / fa, f"{pm}/({pa})", aliases=(f"{m}/{a.replace(' ', '/')}",))
        for m, (fm, pm, _) in _pick(_MASSES, "kg", "lb", "g", "mg").items()
        for a, (fa, pa, _) in _PER_AREA_DAY.items()
    ),
    "per length": (
        Unit("m²/m³", 1.0, "1/meter", aliases=("1/m",)),
        Unit("ft²/ft³", 1 / _FT, "1/foot", aliases=("1/ft",)),
        Unit("%/m", 1e-2, "percent/meter"),
        Unit("%/ft", 1e-2 / _FT, "percent/foot"),
    ),
    "mass per area": _over(_pick(_MASSES, "kg", "lb", "g"), _pick(_AREAS, "m²", "ft²")),
    "area per mass flow": tuple(
        Unit(f"{a} per {m}/{t}", fa * ft / fm, f"{pa}*{pt}/{pm}")
        for a, (fa, pa, _) in _pick(_AREAS, "m²", "ft²").items()
        for m, (fm, pm, _) in _pick(_MASSES, "kg", "lb").items()
        for t, (ft, pt, _) in _pick(_TIMES, "s", "day").items()
    ),
    "pressure": (
        Unit("Pa", 1.0, "pascal"),
        Unit("psi", _PSI, "pound_force_per_square_inch"),
        Unit("kPa", 1e3, "kilopascal"),
        Unit("mbar", 1e2, "millibar"),
        Unit("bar", 1e5, "bar"),
        Unit("atm", 101325.0, "atmosphere"),
        Unit("inHg", 25.4 * 133.322387415, "inch_Hg"),
    ),
    "power": (
        Unit("W", 1.0, "watt", aliases=("watt", "watts")),
        Unit("kW", 1e3, "kilowatt"),
        Unit("hp", 550 * _FT * _LB * _G0, "horsepower"),
        Unit("Btu/h", _BTU / 3600, "Btu_it/hour"),
    ),
    "energy": (
        Unit("J", 1.0, "joule"),
        Unit("kWh", 3.6e6, "kilowatt*hour", aliases=("kwh",)),
        Unit("Wh", 3600.0, "watt*hour"),
        Unit("MJ", 1e6, "megajoule"),
        Unit("Btu", _BTU, "Btu_it"),
    ),
    "viscosity": (Unit("Pa·s", 1.0, "pascal*second"), Unit("mPa·s", 1e-3, "millipascal*second")),
    "kinematic viscosity": (
        Unit("m²/s", 1.0, "meter**2/second"),
        Unit("mm²/s", 1e-6, "millimeter**2/second"),
    ),
    "transfer per power": (
        Unit("kg/J", 1.0, "kilogram/joule"),
        Unit("kg/kWh", 1 / 3.6e6, "kilogram/(kilowatt*hour)"),
        Unit("lb/kWh", _LB / 3.6e6, "pound/(kilowatt*hour)"),
    ),
    "per time": (
        Unit("1/s", 1.0, "1/second"),
        Unit("1/h", 1 / 3600, "1/hour", aliases=("per hour",)),
        Unit("1/day", 1 / _DAY, "1/day"),
        Unit("%/day", 1e-2 / _DAY, "percent/day"),
    ),
    "system coefficient": (Unit("s²/m⁵", 1.0, "second**2/meter**5"),),
    "surface tension": (Unit("N/m", 1.0, "newton/meter"),),
    "temperature": (
        Unit("°C", 1.0, "degree_Celsius", aliases=("C", "degC")),
        Unit("°F", 5 / 9, "degree_Fahrenheit", offset=-160 / 9, aliases=("F", "degF")),
        Unit("K", 1.0, "kelvin", offset=-273.15),
    ),
    "temperature difference": (
        Unit("K", 1.0, "delta_degree_Celsius", aliases=("C°", "°C apart", "delta degC")),
        Unit("°F apart", 5 / 9, "delta_degree_Fahrenheit", aliases=("F°", "delta degF")),
    ),
    "ratio": (Unit("", 1.0, ""), Unit("%", 1e-2, "percent", aliases=("percent",))),
    "salinity": (Unit("g/kg", 1.0, "gram/kilogram", aliases=("ppt",)),),
    "ph": (Unit("", 1.0, ""),),
    "count": (Unit("", 1.0, ""),),
    "index": (Unit("", 1.0, ""),),
    "money": (Unit("", 1.0, ""),),
}

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
    "years": ("years", "year", "year"),
    "feed rate": ("mass flow", "lb/day", "kg/day"),
    "harvest rate": ("mass flow", "lb/year", "kg/year"),
    "ammonia load": ("mass flow", "g/day", "g/day"),
    "oxygen rate": ("mass flow", "g/h", "g/h"),
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
    "settling velocity": ("velocity", "mm/s", "mm/s"),
    "hydraulic load": ("velocity", "gpm/ft²", "m/h"),
    "areal rate": ("areal mass rate", "g/(m² day)", "g/(m² day)"),
    "rate constant": ("velocity", "m/day", "m/day"),
    "specific surface": ("per length", "ft²/ft³", "m²/m³"),
    "transfer efficiency per depth": ("per length", "%/ft", "%/m"),
    "floor load": ("mass per area", "lb/ft²", "kg/m²"),
    "area per feed": ("area per mass flow", "ft² per lb/day", "m² per kg/day"),
    "specific volume": ("specific volume", "gal/lb", "L/kg"),
    "system coefficient": ("system coefficient", "s²/m⁵", "s²/m⁵"),
    "tension": ("surface tension", "N/m", "N/m"),
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
    "choice index": ("index", "", ""),
    "money": ("money", "", ""),
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
Index = Annotated[Number, KINDS["choice index"]]
Money = Annotated[Number, KINDS["money"]]
