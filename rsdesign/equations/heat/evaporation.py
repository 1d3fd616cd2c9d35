"""Evaporation by the published relations, each as what passes for each pascal of difference.

The relations disagree by tens of per cent, more with wind: a band is shown, never a mean.  Each
says which wind it means; a wind measured at 2 m does not belong in a relation for the air right
at the water.
"""

from typing import NamedTuple

from ...core import kinds
from ...core.arrays import log
from ...core.equation import definition, equation

SMITH = "Smith, Löf and Jones 1998, ASHRAE Transactions 104(1A), paper 4146"
QUIET = 0.74
"""Evaporation of a still pool over the older relation, measured; Smith et al. 1998."""


@equation(
    latex=r"L = 10^{6} \cdot \left(2.501 - 0.002361 \cdot @temperature\right)",
    source="FAO-56, annex 3, equation 3-1 (Harrison 1963)",
    valid="0 to 50 °C",
    basis="from memory",
)
def latent_heat(temperature: kinds.Temperature) -> kinds.SpecificEnergy:
    """Heat that turns water to vapour.

    >>> round(latent_heat(28.0))
    2434892
    """
    return 1e6 * (2.501 - 0.002361 * temperature)


@equation(
    latex=r"k = @activity \cdot \frac{88.49726 + 77.9348 \cdot @wind}{1000 \cdot @latent_heat}",
    source=f"{SMITH}: (95 + 0.425 v)(p_w - p_a)/Y in lb/h/ft², ft/min, inHg, Btu/lb",
    valid="pools and indoor tanks, air speed right at the water; 0.74 of it on a still surface,"
    " 1.0 to 1.3 with strong bubbling",
)
def pool_transfer(
    wind: kinds.Wind, latent_heat: kinds.SpecificEnergy, activity: kinds.Ratio = 1.0
) -> kinds.VapourTransfer:
    """Evaporation for each pascal, the older relation for pools.

    >>> round(pool_transfer(0.1524, 2437800.0) * 1e8, 3)
    4.117
    """
    return activity * (88.49726 + 77.9348 * wind) / (1000.0 * latent_heat)  # units of the source


@definition(
    "k",
    "ASHRAE Handbook HVAC Applications, natatoriums: 0.1 A (p_w - p_a) in lb/h, ft², inHg,"
    " times an activity factor from 0.5 to 1",
    valid="indoor pools with slow air",
    basis="from memory",
    example="activity_transfer(0.5) == 2.0024725e-08",
)
def activity_transfer(activity: kinds.Ratio = 1.0) -> kinds.VapourTransfer:
    """Evaporation for each pascal, the later relation for pools, without wind."""
    return activity * 4.004945e-8


@equation(
    latex=r"k = \frac{1 + 0.225 \cdot \frac{@wind}{0.3048}}{0.018} \cdot 144 \cdot"
    r" \frac{\frac{0.45359237}{0.3048^{2} \cdot 3600}}{85.74 \cdot \left(1.8 \cdot"
    r" @water_temperature + 492\right) \cdot 6894.757293}",
    source="Rafferty 1986, Pond Heat Loss, Geo-Heat Center Quarterly Bulletin 9(4), in lb/h, ft²,"
    " ft/s, psi, °F",
    valid="outdoor fish ponds in wind; air speed over the pond",
)
def pond_transfer(wind: kinds.Wind, water_temperature: kinds.Temperature) -> kinds.VapourTransfer:
    """Evaporation for each pascal, a relation for warm fish ponds in wind.

    >>> round(pond_transfer(2.234, 26.667) * 1e8, 2)
    9.0
    """
    speed = wind / 0.3048  # units of the source
    kelvin = 1.8 * water_temperature + 492.0
    each = (1.0 + 0.225 * speed) / 0.018 * 144.0 / (85.74 * kelvin)
    return each * 0.45359237 / (0.3048 * 0.3048 * 3600.0 * 6894.757293)  # units of the source


@equation(
    latex=r"k = \frac{25 + 19 \cdot @wind}{3600} \cdot \frac{0.621945 \cdot @pressure}"
    r"{\left(@pressure - @water_vapour\right) \cdot \left(@pressure - @air_vapour\right)}",
    source="(25 + 19 v) A (x_s - x) in kg/h, m/s, humidity ratios; engineering handbooks,"
    " as quoted with a worked example",
    valid="pools; air speed right at the water",
)
def humidity_transfer(
    wind: kinds.Wind,
    water_vapour: kinds.VapourPressure,
    air_vapour: kinds.VapourPressure,
    pressure: kinds.Pressure = 101325.0,
) -> kinds.VapourTransfer:
    """Evaporation for each pascal, a relation written with humidity ratios.

    The pressures turn its humidity ratios into pascals exactly.

    >>> round(humidity_transfer(0.5, 3130.0, 1839.0) * 1e8, 2)
    6.18
    """
    rate = (25.0 + 19.0 * wind) / 3600.0  # units of the source
    return rate * 0.621945 * pressure / ((pressure - water_vapour) * (pressure - air_vapour))


@definition(
    "k",
    "Penman 1948 in the form of Shuttleworth 1993: 6.43 (1 + 0.536 u) MJ/m²/day/kPa",
    valid="open water, wind at 2 m, daily means",
    basis="from memory",
    example="round(weather_transfer(2.0, 2430170.0) * 1e8, 2) == 6.35",
)
def weather_transfer(wind: kinds.Wind, latent_heat: kinds.SpecificEnergy) -> kinds.VapourTransfer:
    """Evaporation for each pascal, the relation used with weather records."""
    return 6.43 * (1.0 + 0.536 * wind) / (86.4 * latent_heat)  # units of the source


@definition(
    "k'",
    "Meyer 1915, as in class notes on lake evaporation: K (e_w - e_a)(1 + u/16) mm/day,"
    " mmHg, km/h at 9 m; K 0.50 small and shallow, 0.36 large and deep",
    valid="open water, monthly means, wind at 9 m",
    basis="seen",
    example="round(meyer_transfer(10.0 / 3.6) * 20.05 * 133.322387 * 86400, 2) == 16.29",
)
def meyer_transfer(wind: kinds.Wind, coefficient: kinds.Ratio = 0.5) -> kinds.VapourTransfer:
    """Evaporation for each pascal, an old relation for lakes and small water."""
    return coefficient / 86400.0 / 133.322387 * (1.0 + 3.6 * wind / 16.0)  # units of the source


@equation(
    latex=r"k = 0.771 \cdot \frac{1.465 - 0.000732 \cdot \frac{@pressure}{133.322387}}"
    r"{86400 \cdot 133.322387} \cdot \left(0.44 + 0.0733 \cdot 3.6 \cdot @wind\right)",
    source="Rohwer 1931, as in class notes on lake evaporation: mm/day, mmHg, km/h",
    valid="open water, wind near the ground",
)
def rohwer_transfer(wind: kinds.Wind, pressure: kinds.Pressure = 101325.0) -> kinds.VapourTransfer:
    """Evaporation for each pascal, a relation measured on tanks at several heights.

    >>> round(rohwer_transfer(0.0) * 1e8, 2)
    2.68
    """
    thin = 1.465 - 0.000732 * pressure / 133.322387
    each = 0.771 * thin * (0.44 + 0.0733 * 3.6 * wind)
    return each / 86400.0 / 133.322387  # units of the source


@definition(
    "u_9",
    "FAO-56, equation 47, turned around",
    valid="over open ground",
    example="round(wind_at_nine_metres(2.0), 2) == 2.63",
)
def wind_at_nine_metres(wind: kinds.Wind) -> kinds.Wind:
    """Wind at 9 m from wind at 2 m."""
    return wind * log(67.8 * 9.0 - 5.42) / 4.87


_BY_NAME = {
    "weather": lambda g: weather_transfer.__wrapped__(g.wind, latent_heat.__wrapped__(g.water)),
    "pool": lambda g: pool_transfer.__wrapped__(
        g.wind, latent_heat.__wrapped__(g.water), g.activity
    ),
    "quiet pool": lambda g: pool_transfer.__wrapped__(
        g.wind, latent_heat.__wrapped__(g.water), QUIET
    ),
    "natatorium": lambda g: activity_transfer.__wrapped__(g.activity) + 0.0 * g.wind,
    "pond": lambda g: pond_transfer.__wrapped__(g.wind, g.water),
    "humidity": lambda g: humidity_transfer.__wrapped__(g.wind, g.full, g.there, g.pressure),
    "meyer": lambda g: meyer_transfer.__wrapped__(wind_at_nine_metres.__wrapped__(g.wind)),
    "rohwer": lambda g: rohwer_transfer.__wrapped__(g.wind, g.pressure),
}

RELATIONS = tuple(_BY_NAME)
"""Names of the published relations; ``vapour_transfer`` and what is built on it take one."""


class _Given(NamedTuple):
    """What a relation may ask for."""

    wind: object
    water: object
    full: object
    there: object
    pressure: object
    activity: object


@equation(
    latex=r"k = k\left(@relation\right)",
    source="the relation named, see the others of this module",
    valid="as there",
    basis="derived",
)
def vapour_transfer(
    relation: str,
    wind: kinds.Wind,
    water_temperature: kinds.Temperature,
    water_vapour: kinds.VapourPressure,
    air_vapour: kinds.VapourPressure,
    pressure: kinds.Pressure = 101325.0,
    activity: kinds.Ratio = 1.0,
) -> kinds.VapourTransfer:
    """Evaporation for each pascal by a relation chosen by name, one of ``RELATIONS``.

    Raises ``ValueError`` that lists the names.

    >>> round(vapour_transfer("pool", 0.1, 28.0, 3780.0, 1240.0, activity=0.74) * 1e8, 2)
    2.93
    """
    if relation not in _BY_NAME:
        raise ValueError(f"{relation!r} is not a relation; there are {', '.join(RELATIONS)}")
    given = _Given(wind, water_temperature, water_vapour, air_vapour, pressure, activity)
    return _BY_NAME[relation](given)


@definition(
    "E",
    "Dalton 1802",
    valid="below zero water condenses",
    example="round(vapour_flow(10.0, 6.34e-8, 4243.0, 1106.0) * 86400) == 172",
)
def vapour_flow(
    area: kinds.Area,
    transfer_per_pascal: kinds.VapourTransfer,
    water_vapour: kinds.VapourPressure,
    air_vapour: kinds.VapourPressure,
) -> kinds.VapourRate:
    """Water that leaves a surface as vapour."""
    return area * transfer_per_pascal * (water_vapour - air_vapour)


@definition("P", example="vapour_heat(0.001, 2430000.0) == 2430.0")
def vapour_heat(vapour: kinds.VapourRate, latent_heat: kinds.SpecificEnergy) -> kinds.Power:
    """Heat that vapour takes away."""
    return vapour * latent_heat


@definition("h_E", example="round(evaporation_depth(5.26e-4, 7.0686) * 86400 * 1000, 2) == 6.43")
def evaporation_depth(
    vapour: kinds.VapourRate, area: kinds.Area, density: kinds.Density = 1000.0
) -> kinds.EvaporationDepth:
    """How far the water sinks in a time."""
    return vapour / (area * density)


@equation(
    latex=r"B = 6.1 \cdot 10^{-4} \cdot @pressure \cdot \frac{@water_temperature -"
    r" @air_temperature}{@water_vapour - @air_vapour}",
    source="Bowen 1926, 0.61 hPa for each degree at 1,000 hPa",
    valid="open water; where the vapour pressures meet, use the heat flow itself",
    basis="from memory",
)
def bowen_ratio(
    water_temperature: kinds.Temperature,
    air_temperature: kinds.Temperature,
    water_vapour: kinds.VapourPressure,
    air_vapour: kinds.VapourPressure,
    pressure: kinds.Pressure = 101325.0,
) -> kinds.Ratio:
    """Heat that passes to the air as warmth over heat that passes as vapour.

    >>> round(bowen_ratio(28.0, 18.0, 3780.0, 1238.0), 3)
    0.243
    """
    span = water_temperature - air_temperature
    return 6.1e-4 * pressure * span / (water_vapour - air_vapour)


@equation(
    latex=r"P = @area \cdot 6.1 \cdot 10^{-4} \cdot @pressure \cdot @transfer_per_pascal \cdot"
    r" @latent_heat \cdot \left(@air_temperature - @water_temperature\right)",
    source="Bowen 1926 times the heat of the vapour, so that no difference is divided by",
    valid="open water, also where no vapour passes",
    basis="from memory",
)
def convection(
    area: kinds.Area,
    transfer_per_pascal: kinds.VapourTransfer,
    latent_heat: kinds.SpecificEnergy,
    pressure: kinds.Pressure,
    air_temperature: kinds.Temperature,
    water_temperature: kinds.Temperature,
) -> kinds.Power:
    """Heat that the air brings to open water by touching it; below zero it takes heat away.

    >>> round(convection(7.0686, 2.93e-8, 2434892.0, 101325.0, 18.0, 28.0))
    -312
    """
    each = 6.1e-4 * pressure * transfer_per_pascal * latent_heat
    return area * each * (air_temperature - water_temperature)
