"""Air and sky over a tank: the day's air, its moisture, its wind, and the warmth of the sky."""

from math import pi

import numpy as np

from ...core import kinds
from ...core.arrays import log, root, sqrt
from ...core.equation import definition, equation
from ..water.properties import vapour_pressure as saturation
from .sun import FAO

SIGMA = 5.670374e-8
"""Stefan-Boltzmann constant, W/(m² K⁴), CODATA 2018."""

VAPOUR_GAS = 461.5
"""Gas constant of water vapour, J/(kg K)."""

DEEPEST, ROUNDS = 55.0, 40
"""Most that a wet bulb lies under the air [K], and most steps of its search."""


def _dry_over_wet(wet, dry, vapour, pressure):
    """Humidity ratio by the wet-bulb relation less the one there is; falls to zero at the root."""
    full = humidity_ratio.__wrapped__(saturation.__wrapped__(wet), pressure)
    met = ((2501.0 - 2.326 * wet) * full - 1.006 * (dry - wet)) / (
        2501.0 + 1.86 * dry - 4.186 * wet
    )
    return met - humidity_ratio.__wrapped__(vapour, pressure)


@equation(
    latex=r"T_a = @air_mean + \frac{@air_range}{2} \cdot"
    r" \cos\left(2 \cdot \pi \cdot \frac{@hour - @hottest_hour}{86400}\right)",
    source="a cosine between the day's coldest and hottest air, hottest at three in the afternoon",
    valid="mean days",
    basis="common practice",
)
def air_at_hour(
    air_mean: kinds.Temperature,
    air_range: kinds.TemperatureDifference,
    hour: kinds.Hours,
    hottest_hour: kinds.Hours = 54000.0,
) -> kinds.Temperature:
    """Air temperature at a time after midnight; the hours of a day give its mean.

    >>> round(float(air_at_hour(30.0, 14.0, 54000.0)), 6)
    37.0
    """
    turn = 2.0 * pi * (hour - hottest_hour) / 86400.0  # units of the source
    return air_mean + air_range / 2.0 * np.cos(turn)


@equation(
    latex=r"p_a = @humidity \cdot \frac{@coldest + @hottest}{2}",
    source=f"{FAO}, equation 19",
    valid="mean humidity of a day; the two are saturation pressures at its coldest and hottest air",
)
def day_vapour(
    humidity: kinds.Fraction, coldest: kinds.VapourPressure, hottest: kinds.VapourPressure
) -> kinds.VapourPressure:
    """Vapour pressure of the air on a day, held from hour to hour.

    >>> round(day_vapour(0.68, 2064.0, 3168.0))
    1779
    """
    return humidity * (coldest + hottest) / 2.0


@equation(
    latex=r"w = 0.621945 \cdot \frac{@vapour_pressure}{@pressure - @vapour_pressure}",
    source="ASHRAE Handbook Fundamentals 2017, chapter 1, equation 20",
    valid="moist air",
)
def humidity_ratio(vapour_pressure: kinds.VapourPressure, pressure: kinds.Pressure) -> kinds.Ratio:
    """Water vapour for each weight of dry air.

    >>> round(humidity_ratio(3169.7, 95461.0), 6)
    0.02136
    """
    return 0.621945 * vapour_pressure / (pressure - vapour_pressure)


@definition(
    r"\rho_v",
    "ideal gas law, gas constant of water vapour",
    valid="near one atmosphere",
    example="round(vapour_density(3780.0, 28.0) * 1000, 1) == 27.2",
)
def vapour_density(
    vapour_pressure: kinds.VapourPressure, temperature: kinds.Temperature
) -> kinds.Density:
    """Water vapour in each volume of air."""
    return vapour_pressure / (VAPOUR_GAS * (temperature + 273.15))


@equation(
    latex=r"T_{wb}: \frac{\left(2501 - 2.326 \cdot T_{wb}\right) \cdot w_s - 1.006 \cdot"
    r" \left(@air_temperature - T_{wb}\right)}{2501 + 1.86 \cdot @air_temperature - 4.186 \cdot"
    r" T_{wb}} = w",
    source="ASHRAE Handbook Fundamentals 2017, chapter 1, equation 33, solved by a root search",
    valid="above freezing",
)
def wet_bulb(
    air_temperature: kinds.Temperature,
    vapour_pressure: kinds.VapourPressure,
    pressure: kinds.Pressure = 101325.0,
) -> kinds.Temperature:
    """The temperature to which evaporation alone can cool in moving air.

    >>> round(wet_bulb(43.0, 1296.0), 1)
    22.1
    """
    low = air_temperature - DEEPEST + 0.0 * vapour_pressure
    return root(
        lambda t: _dry_over_wet(t, air_temperature, vapour_pressure, pressure),
        low,
        low + DEEPEST,
        ROUNDS,
    )


@equation(
    latex=r"u_2 = @wind \cdot \frac{4.87}{\ln\left(67.8 \cdot @height - 5.42\right)}",
    source=f"{FAO}, equation 47",
    valid="over open ground; heights of a few metres",
)
def wind_at_two_metres(wind: kinds.Wind, height: kinds.Length) -> kinds.Wind:
    """Wind at 2 m from wind measured at another height.

    >>> round(wind_at_two_metres(3.2, 10.0), 1)
    2.4
    """
    return wind * 4.87 / log(67.8 * height - 5.42)


@definition(
    "x",
    f"{FAO}, equation 39, its last two brackets",
    valid="clearness, the sunshine over that of a clear sky, from 0.3 to 1",
    basis="seen",
    example="round(longwave_loss_share(2100.0, 14.5 / 18.8), 4) == 0.0948",
)
def longwave_loss_share(
    vapour_pressure: kinds.VapourPressure, clearness: kinds.Fraction
) -> kinds.Fraction:
    """Share of a surface's radiant heat that the sky does not send back."""
    dry = 0.34 - 0.14 * sqrt(vapour_pressure / 1000.0)  # units of the source
    return dry * (1.35 * clearness - 0.35)


@equation(
    latex=r"R_{nl} = 5.670374 \cdot 10^{-8} \cdot \frac{\left(@coldest_air + 273.15\right)^{4}"
    r" + \left(@hottest_air + 273.15\right)^{4}}{2} \cdot @loss_share",
    source=f"{FAO}, equation 39",
    valid="daily means",
)
def net_longwave(
    coldest_air: kinds.Temperature, hottest_air: kinds.Temperature, loss_share: kinds.Fraction
) -> kinds.HeatFlux:
    """Radiant heat lost by ground as warm as the air, mean of a day.

    >>> round(net_longwave(19.1, 25.1, 0.0947) * 0.0864, 1)
    3.5
    """
    cold, hot = coldest_air + 273.15, hottest_air + 273.15
    return SIGMA * (cold * cold * cold * cold + hot * hot * hot * hot) / 2.0 * loss_share


@definition(
    "L",
    "what is left of a black surface's heat at the temperature of the air after FAO-56 equation 39",
    valid="as there",
    example="round(sky_radiation(20.0)) == 419",
)
def sky_radiation(
    air_temperature: kinds.Temperature, loss_share: kinds.Fraction = 0.0
) -> kinds.HeatFlux:
    """Radiant heat that comes down from sky and cloud; without a loss, from walls as warm as air."""
    kelvin = air_temperature + 273.15
    return SIGMA * kelvin * kelvin * kelvin * kelvin * (1.0 - loss_share)


@definition(
    "L",
    "a cloth as warm as the air stands before that share of the sky",
    valid="cloth over the whole tank",
    basis="common practice",
    example="sky_under_cloth(0.5, 460.0, 380.0) == 420.0",
)
def sky_under_cloth(
    share: kinds.Fraction, cloth_heat: kinds.HeatFlux, sky_heat: kinds.HeatFlux
) -> kinds.HeatFlux:
    """Radiant heat that comes down to a tank under shade cloth."""
    return share * cloth_heat + (1.0 - share) * sky_heat
