"""Sunshine: how high the sun stands, how long, and how much can reach the ground."""

from math import pi

import numpy as np

from ...core.arrays import clip, exp, most, where
from ...core.equation import definition, equation
from ...core.kinds import Angle, Days, Elevation, Fraction, HeatFlux, Hours, Ratio

FAO = "Allen et al. 1998, FAO Irrigation and Drainage Paper 56"


@equation(
    latex=r"d = 1 + 0.033 \cdot \cos\left(\frac{2 \cdot \pi}{365} \cdot @day\right)",
    source=f"{FAO}, equation 23",
    valid="any day of the year, counted from 1 January",
)
def sun_distance(day: Days) -> Ratio:
    """How much stronger the sun is on a day than in the mean, from its distance.

    >>> round(float(sun_distance(246.0)), 3)
    0.985
    """
    return 1.0 + 0.033 * np.cos(2.0 * pi / 365.0 * day)  # units of the source


@equation(
    latex=r"\delta = 0.409 \cdot \sin\left(\frac{2 \cdot \pi}{365} \cdot @day - 1.39\right)",
    source=f"{FAO}, equation 24",
    valid="any day of the year, counted from 1 January",
)
def declination(day: Days) -> Angle:
    """Height of the noon sun over the equator on a day.

    >>> round(float(declination(246.0)), 3)
    0.12
    """
    return 0.409 * np.sin(2.0 * pi / 365.0 * day - 1.39)  # units of the source


@equation(
    latex=r"\omega = \arccos\left(-\tan\left(@latitude\right) \cdot \tan\left(@declination\right)\right)",
    source=f"{FAO}, equation 25",
    valid="between the polar circles; beyond them the sun does not set, or does not rise",
)
def sunset_angle(latitude: Angle, declination: Angle) -> Angle:
    """Angle that the earth turns from noon to sunset.

    South is below zero.

    >>> round(float(sunset_angle(-0.349, 0.120)), 3)
    1.527
    """
    return np.arccos(clip(-np.tan(latitude) * np.tan(declination), -1.0, 1.0))


@definition(
    "t", f"{FAO}, equation 34", basis="seen", example="round(daylight(1.527) / 3600, 1) == 11.7"
)
def daylight(sunset_angle: Angle) -> Hours:
    """Time from sunrise to sunset."""
    return 86400.0 / pi * sunset_angle  # units of the source


@equation(
    latex=r"R_a = \frac{1366.6667}{\pi} \cdot @sun_distance \cdot \left(@sunset_angle \cdot"
    r" \sin\left(@latitude\right) \cdot \sin\left(@declination\right) + \cos\left(@latitude\right)"
    r" \cdot \cos\left(@declination\right) \cdot \sin\left(@sunset_angle\right)\right)",
    source=f"{FAO}, equation 21, solar constant 0.0820 MJ/m² a minute",
)
def extraterrestrial(
    latitude: Angle, declination: Angle, sunset_angle: Angle, sun_distance: Ratio
) -> HeatFlux:
    """Sunshine above the air on level ground, mean of day and night.

    >>> round(float(extraterrestrial(-0.349, 0.120, 1.527, 0.985)) * 0.0864, 1)
    32.2
    """
    height = sunset_angle * np.sin(latitude) * np.sin(declination)
    height = height + np.cos(latitude) * np.cos(declination) * np.sin(sunset_angle)
    return 1366.6667 / pi * sun_distance * height


@equation(
    latex=r"R_s = \left(@intercept + @slope_share \cdot \frac{@sunshine}{@daylight}\right)"
    r" \cdot @extraterrestrial",
    source=f"{FAO}, equation 35, Ångström's relation",
    valid="monthly means where no coefficients were fitted",
)
def sun_from_sunshine(
    sunshine: Hours,
    daylight: Hours,
    extraterrestrial: HeatFlux,
    intercept: Fraction = 0.25,
    slope_share: Fraction = 0.5,
) -> HeatFlux:
    """Sunshine on level ground from hours of bright sun, mean of day and night.

    >>> round(sun_from_sunshine(7.1 * 3600, 10.9 * 3600, 25.1 / 0.0864) * 0.0864, 2)
    14.45
    """
    return (intercept + slope_share * sunshine / daylight) * extraterrestrial


@definition(
    "R_{so}",
    f"{FAO}, equation 37",
    valid="below 6,000 m",
    basis="seen",
    example="round(clear_sky(41.09 / 0.0864, 100.0) * 0.0864, 1) == 30.9",
)
def clear_sky(extraterrestrial: HeatFlux, elevation: Elevation) -> HeatFlux:
    """Most sunshine that reaches level ground under a clear sky, mean of day and night."""
    return (0.75 + 2e-5 * elevation) * extraterrestrial


@equation(
    latex=r"s = \sin\left(@latitude\right) \cdot \sin\left(@declination\right)"
    r" + \cos\left(@latitude\right) \cdot \cos\left(@declination\right)"
    r" \cdot \cos\left(2 \cdot \pi \cdot \frac{@hour}{86400} - \pi\right)",
    source="spherical geometry; noon is when the sun is highest",
    basis="derived",
)
def sun_height(latitude: Angle, declination: Angle, hour: Hours) -> Ratio:
    """Sine of the sun's height over the horizon at a time after midnight; below 0 at night.

    >>> round(float(sun_height(0.0, 0.0, 43200.0)), 6)
    1.0
    """
    turn = 2.0 * pi * hour / 86400.0 - pi  # units of the source
    level = np.sin(latitude) * np.sin(declination)
    return level + np.cos(latitude) * np.cos(declination) * np.cos(turn)


@equation(
    latex=r"R = 1098 \cdot \max\left(@sun_height, 0\right)"
    r" \cdot \exp\left(-\frac{0.059}{\max\left(@sun_height, 10^{-3}\right)}\right)",
    source="Haurwitz 1945, J. Meteorology 2:154-166",
    valid="clear sky, sun above the horizon; height alone is asked",
    basis="from memory",
)
def clear_sun(sun_height: Ratio) -> HeatFlux:
    """Sunshine on level ground at one moment under a clear sky.

    Zero at night.

    >>> round(float(clear_sun(1.0)), 2)
    1035.09
    """
    return 1098.0 * most(sun_height, 0.0) * exp(-0.059 / most(sun_height, 1e-3))


@equation(
    latex=r"R = @daily \cdot \frac{@moment}{@moments_mean}",
    source="the day's sunshine spread as under a clear sky",
    valid="mean days; a cloudy day is less regular",
    basis="common practice",
)
def sun_at_hour(daily: HeatFlux, moment: HeatFlux, moments_mean: HeatFlux) -> HeatFlux:
    """Sunshine of one hour, so that the hours give the day's mean.

    Zero where the sun does not rise.

    >>> sun_at_hour(300.0, 800.0, 400.0)
    600.0
    """
    return daily * moment / where(moments_mean > 0.0, moments_mean, 1.0)


def above_the_air(latitude, day):
    """Sunshine above the air [W/m², mean of day and night] at a latitude [rad] on a day.

    A composition of four equations.

    >>> round(float(above_the_air(-0.3490659, 246.0)) * 0.0864, 1)
    32.2
    """
    tilt = declination(day)
    return extraterrestrial(latitude, tilt, sunset_angle(latitude, tilt), sun_distance(day))
