"""The closed lists of units that may be typed, a family for each dimension, with exact factors.

The first unit of a family is the unit of plain numbers.  A test compares every factor with pint.
"""

from dataclasses import dataclass
from math import pi


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit that may be typed: ``SI = factor * value + offset``."""

    label: str
    factor: float
    pint: str
    offset: float = 0.0
    aliases: tuple[str, ...] = ()


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
_ACRE = 43560 * (1200 / 3937) ** 2

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
    "acre": (_ACRE, "acre", ("acres",)),
    "ha": (1e4, "hectare", ("hectare", "hectares")),
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
    "acre year": (_ACRE * _YEAR, "acre*year", ("acre yr",)),
    "ha year": (1e4 * _YEAR, "hectare*year", ("ha yr",)),
}

FAMILIES: dict[str, tuple[Unit, ...]] = {
    "length": _family(_LENGTHS),
    "area": _family(_AREAS),
    "volume": (
        *_family(_VOLUMES),
        Unit("imp gal", 4.54609e-3, "imperial_gallon", aliases=("imperial gallon",)),
    ),
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
    "volumetric mass rate": (
        Unit("kg/(m³ s)", 1.0, "kilogram/(meter**3*second)"),
        Unit("g/(m³ day)", 1e-3 / _DAY, "gram/(meter**3*day)"),
        Unit("mg/(L day)", 1e-3 / _DAY, "milligram/(liter*day)"),
    ),
    "velocity": (
        *_over(_LENGTHS, _TIMES),
        Unit("gpm/ft²", _GAL / 60 / _FT**2, "gallon/minute/foot**2"),
        Unit("m³/(m² day)", 1 / _DAY, "meter/day", aliases=("m3/m2/day",)),
    ),
    "wind speed": (
        Unit("m/s", 1.0, "meter/second"),
        Unit("mph", 1609.344 / 3600, "mile/hour", aliases=("miles/hour",)),
        Unit("km/h", 1 / 3.6, "kilometer/hour", aliases=("kph",)),
        Unit("knot", 1852 / 3600, "knot", aliases=("knots", "kt")),
        Unit("ft/s", _FT, "foot/second"),
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
        Unit("kVA", 1e3, "kilovolt_ampere"),
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
    "angle": (Unit("rad", 1.0, "radian"), Unit("deg", pi / 180, "degree", aliases=("degrees",))),
    "heat flux": (
        Unit("W/m²", 1.0, "watt/meter**2"),
        Unit("kWh/(m² day)", 3.6e6 / _DAY, "kilowatt*hour/(meter**2*day)", aliases=("kWh/m²/day",)),
        Unit("MJ/(m² day)", 1e6 / _DAY, "megajoule/(meter**2*day)", aliases=("MJ/m²/day",)),
        Unit("Btu/(h ft²)", _BTU / 3600 / _FT**2, "Btu_it/(hour*foot**2)"),
    ),
    "heat transfer": (
        Unit("W/(m² K)", 1.0, "watt/(meter**2*kelvin)", aliases=("W/m²/K",)),
        Unit(
            "Btu/(h ft² °F)",
            _BTU / 3600 / _FT**2 * 1.8,
            "Btu_it/(hour*foot**2*delta_degree_Fahrenheit)",
            aliases=("Btu/h/ft²/°F",),
        ),
    ),
    "thermal resistance": (
        Unit("m² K/W", 1.0, "meter**2*kelvin/watt"),
        Unit(
            "h ft² °F/Btu",
            3600 * _FT**2 / 1.8 / _BTU,
            "hour*foot**2*delta_degree_Fahrenheit/Btu_it",
            aliases=("R",),
        ),
    ),
    "conductivity": (Unit("W/(m K)", 1.0, "watt/(meter*kelvin)", aliases=("W/m/K",)),),
    "conductance": (Unit("W/K", 1.0, "watt/kelvin"),),
    "heat capacity": (
        Unit("J/K", 1.0, "joule/kelvin"),
        Unit("kWh/K", 3.6e6, "kilowatt*hour/kelvin"),
    ),
    "specific energy": (
        Unit("J/kg", 1.0, "joule/kilogram"),
        Unit("kJ/kg", 1e3, "kilojoule/kilogram"),
        Unit("MJ/kg", 1e6, "megajoule/kilogram"),
        Unit("Btu/lb", _BTU / _LB, "Btu_it/pound"),
        Unit("kWh/kg", 3.6e6, "kilowatt*hour/kilogram"),
        Unit("kWh/lb", 3.6e6 / _LB, "kilowatt*hour/pound"),
    ),
    "vapour transfer": (
        Unit("kg/(m² s Pa)", 1.0, "kilogram/(meter**2*second*pascal)", aliases=("kg/m²/s/Pa",)),
    ),
    "temperature rate": (
        Unit("K/s", 1.0, "delta_degree_Celsius/second"),
        Unit("K/h", 1 / 3600, "delta_degree_Celsius/hour"),
        Unit("°F apart/h", 5 / 9 / 3600, "delta_degree_Fahrenheit/hour"),
    ),
    "degree days": (
        Unit("K·day", 1.0, "kelvin*day", aliases=("°C·day", "°C days")),
        Unit("°F·day", 5 / 9, "delta_degree_Fahrenheit*day"),
    ),
    "voltage": (Unit("V", 1.0, "volt", aliases=("volt", "volts")),),
    "current": (Unit("A", 1.0, "ampere", aliases=("amp", "amps")),),
    "charge": (
        Unit("C", 1.0, "coulomb"),
        Unit("Ah", 3600.0, "ampere*hour", aliases=("amp hours", "ampere hours")),
    ),
    "surface tension": (
        Unit("N/m", 1.0, "newton/meter"),
        Unit("lb/ft", 4.4482216152605 / 0.3048, "force_pound/foot"),
    ),
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
    "money per mass": (
        Unit("per kg", 1.0, "1/kilogram", aliases=("/kg",)),
        Unit("per lb", 1 / _LB, "1/pound", aliases=("/lb",)),
    ),
    "money per volume": (
        Unit("per m³", 1.0, "1/meter**3", aliases=("/m³",)),
        Unit("per gal", 1 / _GAL, "1/gallon", aliases=("/gal",)),
        Unit("per 1000 gal", 1 / (1000 * _GAL), "1/kilogallon", aliases=("/1000 gal",)),
        Unit("per ft³", 1 / _FT**3, "1/foot**3", aliases=("/ft³",)),
    ),
    "money per area": (
        Unit("per m²", 1.0, "1/meter**2", aliases=("/m²",)),
        Unit("per ft²", 1 / _FT**2, "1/foot**2", aliases=("/ft²",)),
    ),
    "money per length": (
        Unit("per m", 1.0, "1/meter", aliases=("/m",)),
        Unit("per ft", 1 / _FT, "1/foot", aliases=("/ft",)),
    ),
    "money per energy": (
        Unit("per J", 1.0, "1/joule"),
        Unit("per kWh", 1 / 3.6e6, "1/(kilowatt*hour)", aliases=("/kWh",)),
    ),
    "money per power": (Unit("per W", 1.0, "1/watt", aliases=("/W",)),),
    "money per time": (
        Unit("per s", 1.0, "1/second"),
        Unit("per h", 1 / 3600, "1/hour", aliases=("/h", "per hour")),
    ),
}
