"""Oxygen transfer from standard to field conditions, air flow, pressure and power."""

from ...core import kinds
from ...core.arrays import ceil, log, most, power, ratio
from ...core.equation import definition, equation
from ..water import oxygen as water
from ..water import properties
from .blowers import (
    air_line_loss,
    air_mass_flow,
    air_of_watts,
    altitude_factor,
    blower_power,
    curve_pressure,
    device_flow,
    discharge_pressure,
    line_diameter_for,
    most_pressure,
    watts_of_air,
    wire_power,
)

STANDARD_SATURATION = 9.0924e-3
"""kg/m³ at 20 °C and one atmosphere: Benson and Krause 1984."""


def _factor(temperature, oxygen, depth, pressure, alpha, beta, theta, fouling, salinity):
    full = saturation_at_depth.__wrapped__(temperature, pressure, depth, salinity)
    warm = power(theta, temperature - 20.0)  # units of the source
    deficit = most(beta * full - oxygen, 0.0) / STANDARD_SATURATION
    return alpha * fouling * warm * deficit


@equation(
    latex=r"C = C^*\left(T, S, p + \rho g \frac{d}{2}\right)",
    source="Benson and Krause 1984 at the pressure of mid-depth",
    valid="0 to 40 °C, 0 to 40 g/kg, shallow tanks; the weight of salt in the water left out",
    basis="derived",
)
def saturation_at_depth(
    temperature: kinds.Temperature,
    pressure: kinds.Pressure,
    depth: kinds.Length = 0.0,
    salinity: kinds.Salinity = 0.0,
) -> kinds.Concentration:
    """Oxygen saturation of aerated water, at the pressure of half the depth.

    >>> round(saturation_at_depth(28.0, 95950.0, 0.7) * 1e3, 2)
    7.67
    """
    return water.saturation.__wrapped__(
        temperature,
        salinity,
        pressure + 9.80665 * properties.density.__wrapped__(temperature) * 0.5 * depth,
    )


@equation(
    latex=r"x = \alpha F \theta^{T - 20} \frac{\beta C^*\left(T, S, p, d\right) - C}{C^*_{20}}",
    source="ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    valid="0 to 40 °C",
    basis="derived",
)
def field_factor(
    temperature: kinds.Temperature,
    oxygen: kinds.Concentration,
    depth: kinds.Length,
    pressure: kinds.Pressure,
    alpha: kinds.Fraction,
    beta: kinds.Fraction,
    theta: kinds.Ratio,
    fouling: kinds.Fraction = 1.0,
    salinity: kinds.Salinity = 0.0,
) -> kinds.Ratio:
    """Oxygen transfer here over transfer in clean water at 20 °C without oxygen.

    >>> round(field_factor(28.0, 5e-3, 0.7, 95950.0, 0.85, 0.98, 1.024, 0.85), 3)
    0.242
    """
    return _factor(temperature, oxygen, depth, pressure, alpha, beta, theta, fouling, salinity)


@equation(
    latex=r"R = @standard_rate \cdot \alpha F \theta^{T - 20} \frac{\beta C^*\left(T, S, p, "
    r"d\right) - C}{C^*_{20}}",
    source="ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    valid="0 to 40 °C; depth acts on saturation only, 0 at the surface",
    basis="derived",
)
def field_transfer(
    standard_rate: kinds.OxygenRate,
    temperature: kinds.Temperature,
    oxygen: kinds.Concentration,
    depth: kinds.Length,
    pressure: kinds.Pressure,
    alpha: kinds.Fraction,
    beta: kinds.Fraction,
    theta: kinds.Ratio,
    fouling: kinds.Fraction = 1.0,
    salinity: kinds.Salinity = 0.0,
) -> kinds.OxygenRate:
    """Oxygen transfer here from the rate in clean water at 20 °C without oxygen.

    >>> round(field_transfer(1.0, 20.0, 0.0, 0.0, 101325.0, 1.0, 1.0, 1.024), 3)
    1.0
    """
    return standard_rate * _factor(
        temperature, oxygen, depth, pressure, alpha, beta, theta, fouling, salinity
    )


@definition(
    "x",
    "3 to 4 % for each metre with fish-tank stones",
    valid="0.3 to 5 m",
    basis="from memory",
    example="round(transfer_efficiency(0.04, 0.7), 4) == 0.028",
)
def transfer_efficiency(
    efficiency_per_depth: kinds.EfficiencyPerDepth, depth: kinds.Length
) -> kinds.Fraction:
    """Oxygen caught from bubbles on their way up, in clean water."""
    return efficiency_per_depth * depth


@definition(
    "R",
    "0.2787 kg of oxygen in a m³ of standard air (20 °C, dry, one atmosphere)",
    valid="shallow tanks",
    example="round(standard_transfer(1.0, 0.04, 0.7), 5) == 0.0078",
)
def standard_transfer(
    air_flow: kinds.AirFlow,
    efficiency_per_depth: kinds.EfficiencyPerDepth,
    depth: kinds.Length,
    oxygen_in_air: kinds.Concentration = 0.2787,
) -> kinds.OxygenRate:
    """Oxygen transfer of an air flow in clean water at 20 °C without oxygen."""
    return air_flow * oxygen_in_air * efficiency_per_depth * depth


@definition(
    "R_{20}",
    "ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    example="standard_rate_needed(1.0, 0.25) == 4.0",
)
def standard_rate_needed(oxygen_demand: kinds.OxygenRate, factor: kinds.Ratio) -> kinds.OxygenRate:
    """Standard transfer rate for a need under field conditions."""
    return ratio(oxygen_demand, factor, float("inf"))


@definition(
    "G",
    "0.2787 kg of oxygen in a m³ of standard air (20 °C, dry, one atmosphere)",
    example="round(air_flow(0.2787, 0.5), 6) == 2.0",
)
def air_flow(
    oxygen_transfer: kinds.OxygenRate,
    transfer_efficiency: kinds.Fraction,
    oxygen_in_air: kinds.Concentration = 0.2787,
) -> kinds.AirFlow:
    """Standard air whose bubbles bring a standard transfer rate."""
    return oxygen_transfer / (transfer_efficiency * oxygen_in_air)


@definition("n", example="diffuser_count(5.0, 2.0) == 3.0")
def diffuser_count(air_flow: kinds.AirFlow, each: kinds.AirFlow) -> kinds.Count:
    """Stones for an air flow."""
    return ceil(air_flow / each - 1e-9)


@definition(
    "K",
    "reaeration, first order in the deficit, ASCE/EWRI 2-06",
    valid="clean water without fish",
    example="round(transfer_coefficient(0.0, 0.00632, 0.01, 1000.0) * 1000, 2) == 1.0",
)
def transfer_coefficient(
    start: kinds.Concentration,
    end: kinds.Concentration,
    saturation: kinds.Concentration,
    time: kinds.Time,
) -> kinds.TransferCoefficient:
    """Transfer coefficient from a clean-water test: oxygen measured twice while it rises."""
    return log((saturation - start) / (saturation - end)) / time


__all__ = [
    "air_flow", "air_line_loss", "air_mass_flow", "air_of_watts", "altitude_factor",
    "blower_power", "curve_pressure", "device_flow", "diffuser_count", "discharge_pressure",
    "field_factor", "field_transfer", "line_diameter_for", "most_pressure", "saturation_at_depth",
    "standard_rate_needed", "standard_transfer", "transfer_coefficient", "transfer_efficiency",
    "watts_of_air", "wire_power",
]  # fmt: skip
