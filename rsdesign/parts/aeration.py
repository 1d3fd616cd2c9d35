"""Oxygen transfer from plate to field, air flow, pressure and power."""

from math import pi

import numpy as np

from ..arrays import ceil, log, most, power, ratio, sqrt, where
from ..equation import equation
from ..kinds import (
    AirFlow,
    AirMassFlow,
    Concentration,
    Count,
    Density,
    EfficiencyPerDepth,
    Fraction,
    Length,
    OxygenRate,
    PipeDiameter,
    Power,
    Pressure,
    Ratio,
    Temperature,
    Time,
    TransferCoefficient,
    Velocity,
)
from ..water import oxygen as water
from ..water import properties

STANDARD_SATURATION = 9.0924e-3
"""kg/m³ at 20 °C and one atmosphere: Benson and Krause 1984."""

STANDARD_AIR = 1.2041
"""kg/m³ of dry air at 20 °C and one atmosphere."""

GAMMA_TERM = 0.283
"""(k - 1)/k for air with k = 1.395."""


def _factor(temperature, oxygen, depth, pressure, alpha, beta, theta, fouling):
    full = saturation_at_depth.bare(temperature, pressure, depth)
    warm = power(theta, temperature - 20.0)  # units of the source
    deficit = most(beta * full - oxygen, 0.0) / STANDARD_SATURATION
    return alpha * fouling * warm * deficit


def _line_loss(air_flow, diameter, length, temperature, pressure):
    density = properties.air_density.bare(temperature, pressure)
    real = air_flow * STANDARD_AIR / density
    velocity = real / (pi / 4.0 * diameter * diameter)
    viscosity = 1.716e-5 * power((temperature + 273.15) / 273.15, 0.7)
    reynolds = most(density * velocity * diameter / viscosity, 1.0)
    friction = most(0.3164 * power(reynolds, -0.25), where(reynolds < 2000.0, 64.0 / reynolds, 0.0))
    return friction * length / diameter * 0.5 * density * velocity * velocity


def _device_flow(pressure, pressures, flows):
    found = np.interp(pressure, pressures, flows, right=0.0)
    return float(found) if np.ndim(found) == 0 else found


def _work(atmosphere, gauge, temperature):
    """Adiabatic work on a m³ of standard air [J/m³]."""
    rise = power(1.0 + gauge / atmosphere, GAMMA_TERM) - 1.0
    return STANDARD_AIR * 287.058 * (temperature + 273.15) / GAMMA_TERM * rise


@equation(
    latex=r"C = C^*\left(T, p + \rho g \frac{d}{2}\right)",
    source="Benson and Krause 1984 at the pressure of mid-depth",
    valid="0 to 40 °C, shallow tanks",
    basis="derived",
)
def saturation_at_depth(
    temperature: Temperature, pressure: Pressure, depth: Length = 0.0
) -> Concentration:
    """Oxygen that water full of bubbles holds: saturation at half their depth.

    Floats or arrays that broadcast.

    >>> round(saturation_at_depth(28.0, 95950.0, 0.7) * 1e3, 2)
    7.68
    """
    return water.saturation.bare(
        temperature, 0.0, pressure + 9.80665 * properties.density.bare(temperature) * 0.5 * depth
    )


@equation(
    latex=r"x = \alpha F \theta^{T - 20} \frac{\beta C^*\left(T, p, d\right) - C}{C^*_{20}}",
    source="ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    valid="0 to 40 °C",
    basis="derived",
)
def field_factor(
    temperature: Temperature,
    oxygen: Concentration,
    depth: Length,
    pressure: Pressure,
    alpha: Fraction,
    beta: Fraction,
    theta: Ratio,
    fouling: Fraction = 1.0,
) -> Ratio:
    """Oxygen transfer here over transfer in clean water at 20 °C without oxygen.

    Floats or arrays that broadcast.

    >>> round(field_factor(28.0, 5e-3, 0.7, 95950.0, 0.85, 0.98, 1.024, 0.85), 3)
    0.243
    """
    return _factor(temperature, oxygen, depth, pressure, alpha, beta, theta, fouling)


@equation(
    latex=r"R = @standard_rate \cdot \alpha F \theta^{T - 20} \frac{\beta C^*\left(T, p, "
    r"d\right) - C}{C^*_{20}}",
    source="ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    valid="0 to 40 °C; depth acts on saturation only, 0 at the surface",
    basis="derived",
)
def field_transfer(
    standard_rate: OxygenRate,
    temperature: Temperature,
    oxygen: Concentration,
    depth: Length,
    pressure: Pressure,
    alpha: Fraction,
    beta: Fraction,
    theta: Ratio,
    fouling: Fraction = 1.0,
) -> OxygenRate:
    """Oxygen transfer here from the rate in clean water at 20 °C without oxygen.

    Floats or arrays that broadcast.

    >>> round(field_transfer(1.0, 20.0, 0.0, 0.0, 101325.0, 1.0, 1.0, 1.024), 3)
    1.0
    """
    return standard_rate * _factor(
        temperature, oxygen, depth, pressure, alpha, beta, theta, fouling
    )


@equation(
    latex=r"x = @efficiency_per_depth \cdot @depth",
    source="3 to 4 % for each metre with fish-tank stones",
    valid="0.3 to 5 m",
    basis="from memory",
)
def transfer_efficiency(efficiency_per_depth: EfficiencyPerDepth, depth: Length) -> Fraction:
    """Oxygen caught from bubbles on their way up, in clean water.

    Floats or arrays that broadcast.

    >>> round(transfer_efficiency(0.04, 0.7), 4)
    0.028
    """
    return efficiency_per_depth * depth


@equation(
    latex=r"R = @air_flow \cdot @oxygen_in_air \cdot @efficiency_per_depth \cdot @depth",
    source="0.2787 kg of oxygen in a m³ of standard air (20 °C, dry, one atmosphere)",
    valid="shallow tanks",
    basis="derived",
)
def standard_transfer(
    air_flow: AirFlow,
    efficiency_per_depth: EfficiencyPerDepth,
    depth: Length,
    oxygen_in_air: Concentration = 0.2787,
) -> OxygenRate:
    """Oxygen transfer of an air flow in clean water at 20 °C without oxygen.

    Floats or arrays that broadcast.

    >>> round(standard_transfer(1.0, 0.04, 0.7), 5)
    0.0078
    """
    return air_flow * oxygen_in_air * efficiency_per_depth * depth


@equation(
    latex=r"R = \frac{@oxygen_demand}{@factor}",
    source="ASCE/EWRI 2-06 form: SOTR corrected for water, temperature, fouling and deficit",
    valid="any",
    basis="derived",
)
def standard_rate_needed(oxygen_demand: OxygenRate, factor: Ratio) -> OxygenRate:
    """Plate transfer for a need here.

    Floats or arrays that broadcast.

    >>> standard_rate_needed(1.0, 0.25)
    4.0
    """
    return ratio(oxygen_demand, factor, float("inf"))


@equation(
    latex=r"G = \frac{@oxygen_transfer}{@transfer_efficiency \cdot @oxygen_in_air}",
    source="0.2787 kg of oxygen in a m³ of standard air (20 °C, dry, one atmosphere)",
    valid="any",
    basis="derived",
)
def air_flow(
    oxygen_transfer: OxygenRate,
    transfer_efficiency: Fraction,
    oxygen_in_air: Concentration = 0.2787,
) -> AirFlow:
    """Standard air whose bubbles bring a plate transfer.

    Floats or arrays that broadcast.

    >>> round(air_flow(0.2787, 0.5), 6)
    2.0
    """
    return oxygen_transfer / (transfer_efficiency * oxygen_in_air)


@equation(
    latex=r"p = @density \cdot 9.80665 \cdot @depth + @stone_loss + @line_loss",
    source="hydrostatics; standard gravity",
    valid="still water",
    basis="derived",
)
def discharge_pressure(
    depth: Length, density: Density, stone_loss: Pressure, line_loss: Pressure
) -> Pressure:
    """Gauge pressure that an air machine must give.

    Floats or arrays that broadcast.

    >>> round(discharge_pressure(0.7, 996.2, 4000.0, 0.0))
    10839
    """
    return density * 9.80665 * depth + stone_loss + line_loss


@equation(
    latex=r"D = \sqrt{\frac{4 \cdot @air_flow}{\pi \cdot @velocity}}",
    source="6 to 10 m/s in air mains",
    valid="low-pressure air",
    basis="from memory",
)
def line_diameter_for(air_flow: AirFlow, velocity: Velocity = 8.0) -> PipeDiameter:
    """Air pipe that keeps to a speed.

    Floats or arrays that broadcast.

    >>> round(line_diameter_for(0.02), 4)
    0.0564
    """
    return sqrt(4.0 * air_flow / (pi * velocity))


@equation(
    latex=r"p = f \frac{L}{D} \frac{\rho v^2}{2}, f = 0.3164 Re^{-0.25}",
    source="Darcy-Weisbach with the Blasius friction factor, as in textbooks",
    valid="smooth pipe, Reynolds number 4,000 to 100,000",
    basis="derived",
)
def air_line_loss(
    air_flow: AirFlow,
    diameter: PipeDiameter,
    length: Length,
    temperature: Temperature,
    pressure: Pressure,
) -> Pressure:
    """Pressure lost in a smooth air pipe.

    Floats or arrays that broadcast.

    >>> round(air_line_loss(0.02, 0.0525, 10.0, 35.0, 95950.0))
    202
    """
    return _line_loss(air_flow, diameter, length, temperature, pressure)


@equation(
    latex=r"m = 1.2041 \cdot @air_flow",
    source="ideal gas law",
    valid="any",
    basis="derived",
)
def air_mass_flow(air_flow: AirFlow) -> AirMassFlow:
    """Mass of an air flow in standard volumes (20 °C, dry, one atmosphere).

    Floats or arrays that broadcast.

    >>> air_mass_flow(1.0)
    1.2041
    """
    return STANDARD_AIR * air_flow


@equation(
    latex=r"P = \frac{@air_mass_flow \cdot 287.058 \cdot \left(@inlet_temperature + "
    r"273.15\right)}{0.283 \cdot @efficiency} \cdot "
    r"\left(\left(\frac{@outlet_pressure}{@inlet_pressure}\right)^{0.283} - 1\right)",
    source="adiabatic compression with k = 1.395, Hendricks, table CDD.5, and compressor textbooks",
    valid="low pressures; a floor for any machine",
    basis="derived",
)
def blower_power(
    air_mass_flow: AirMassFlow,
    inlet_temperature: Temperature,
    inlet_pressure: Pressure,
    outlet_pressure: Pressure,
    efficiency: Fraction,
) -> Power:
    """Power that adiabatic compression of air takes.

    Floats or arrays that broadcast.

    >>> round(blower_power(0.02396, 20.0, 95950.0, 106750.0, 1.0))
    217
    """
    return (
        air_mass_flow
        * 287.058
        * (inlet_temperature + 273.15)
        / (GAMMA_TERM * efficiency)
        * (power(outlet_pressure / inlet_pressure, GAMMA_TERM) - 1.0)
    )


@equation(
    latex=r"P = \frac{@power}{@efficiency}",
    source="definition",
    valid="any",
    basis="derived",
)
def wire_power(power: Power, efficiency: Fraction) -> Power:
    """Power at the wall for a power in the air or water.

    Floats or arrays that broadcast.

    >>> wire_power(70.0, 0.35)
    200.0
    """
    return power / efficiency


@equation(
    latex=r"x = \frac{@pressure}{101325} \cdot \frac{293.15}{@temperature + 273.15}",
    source="ideal gas law",
    valid="any",
    basis="derived",
)
def altitude_factor(pressure: Pressure, temperature: Temperature) -> Ratio:
    """Standard air in each volume that a machine takes in.

    Floats or arrays that broadcast.

    >>> round(altitude_factor(101325.0, 20.0), 3)
    1.0
    """
    return pressure / 101325.0 * 293.15 / (temperature + 273.15)


@equation(
    latex=r"n = \lceil \frac{@air_flow}{@each} - 10^{-9} \rceil",
    source="definition",
    valid="any",
    basis="derived",
)
def diffuser_count(air_flow: AirFlow, each: AirFlow) -> Count:
    """Stones for an air flow.

    Floats or arrays that broadcast.

    >>> diffuser_count(5.0, 2.0)
    3.0
    """
    return ceil(air_flow / each - 1e-9)


@equation(
    latex=r"G = G\left(p\right)",
    source="the machine's pressure-flow points, linear between them",
    valid="from free air to the last point",
    basis="common practice",
)
def device_flow(pressure: Pressure, pressures: Pressure, flows: AirFlow) -> AirFlow:
    """Air from one machine at a pressure, from its curve; none beyond its last point.

    ``pressures`` rising, with a flow for each; ``pressure`` a float or an array.

    >>> device_flow(5000.0, np.array([0.0, 10000.0]), np.array([0.02, 0.01]))
    0.015
    """
    return _device_flow(pressure, pressures, flows)


@equation(
    latex=r"G = \frac{@watts \cdot @efficiency}{e}, e = 1.2041 \cdot \frac{287.058 \cdot "
    r"\left(@temperature + 273.15\right)}{0.283} \cdot \left(\left(1 + "
    r"\frac{@gauge}{@atmosphere}\right)^{0.283} - 1\right)",
    source="adiabatic compression turned around; efficiency from 0.2 to 0.5",
    valid="small machines",
    basis="common practice",
)
def air_of_watts(
    watts: Power,
    atmosphere: Pressure,
    gauge: Pressure,
    temperature: Temperature,
    efficiency: Fraction,
) -> AirFlow:
    """Standard air that a machine of so many watts gives against a pressure.

    Floats or arrays that broadcast.

    >>> round(air_of_watts(660.0, 95950.0, 10800.0, 20.0, 0.35) * 60000)
    1273
    """
    return ratio(watts * efficiency, _work(atmosphere, gauge, temperature))


@equation(
    latex=r"P = \frac{@flow \cdot e}{@efficiency}, e = 1.2041 \cdot \frac{287.058 \cdot "
    r"\left(@temperature + 273.15\right)}{0.283} \cdot \left(\left(1 + "
    r"\frac{@gauge}{@atmosphere}\right)^{0.283} - 1\right)",
    source="adiabatic compression; efficiency from 0.2 to 0.5",
    valid="small machines",
    basis="common practice",
)
def watts_of_air(
    flow: AirFlow,
    atmosphere: Pressure,
    gauge: Pressure,
    temperature: Temperature,
    efficiency: Fraction,
) -> Power:
    """Power at the wall for so much standard air against a pressure.

    Floats or arrays that broadcast.

    >>> round(watts_of_air(0.02, 95950.0, 10800.0, 20.0, 0.35))
    622
    """
    return flow * _work(atmosphere, gauge, temperature) / efficiency


@equation(
    latex=r"K = \frac{\ln\left(\frac{@saturation - @start}{@saturation - "
    r"@end}\right)}{@time}",
    source="reaeration, first order in the deficit, ASCE/EWRI 2-06",
    valid="clean water without fish",
    basis="derived",
)
def transfer_coefficient(
    start: Concentration, end: Concentration, saturation: Concentration, time: Time
) -> TransferCoefficient:
    """Transfer coefficient from a clean-water test: oxygen measured twice while it rises.

    Floats or arrays that broadcast.

    >>> round(transfer_coefficient(0.0, 0.00632, 0.01, 1000.0) * 1000, 2)
    1.0
    """
    return log((saturation - start) / (saturation - end)) / time
