"""Air machines: pressure, air line, power, and what a machine gives."""

from math import pi

import numpy as np

from ...core import kinds
from ...core.arrays import most, power, ratio, sqrt, where
from ...core.equation import definition, equation
from ..water import properties

STANDARD_AIR = 1.2041
"""kg/m³ of dry air at 20 °C and one atmosphere."""

GAMMA_TERM = 0.283
"""(k - 1)/k for air with k = 1.395."""


def _line_loss(air_flow, diameter, length, temperature, pressure):
    density = properties.air_density.__wrapped__(temperature, pressure)
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


@definition(
    "p",
    "hydrostatics; standard gravity",
    valid="still water",
    example="round(discharge_pressure(0.7, 996.2, 4000.0, 0.0)) == 10839",
)
def discharge_pressure(
    depth: kinds.Length,
    density: kinds.Density,
    stone_loss: kinds.Pressure,
    line_loss: kinds.Pressure,
) -> kinds.Pressure:
    """Gauge pressure that an air machine must give."""
    return density * 9.80665 * depth + stone_loss + line_loss


@definition(
    "D",
    "6 to 10 m/s in air mains",
    valid="low-pressure air",
    basis="from memory",
    example="round(line_diameter_for(0.02), 4) == 0.0564",
)
def line_diameter_for(
    air_flow: kinds.AirFlow, velocity: kinds.Velocity = 8.0
) -> kinds.PipeDiameter:
    """Air pipe that keeps to a speed."""
    return sqrt(4.0 * air_flow / (pi * velocity))


@equation(
    latex=r"\Delta p = f \frac{L}{D} \frac{\rho v^2}{2}, f = 0.3164 Re^{-0.25}",
    source="Darcy-Weisbach with the Blasius friction factor, as in textbooks",
    valid="smooth pipe, Reynolds number 4,000 to 100,000",
    basis="derived",
)
def air_line_loss(
    air_flow: kinds.AirFlow,
    diameter: kinds.PipeDiameter,
    length: kinds.Length,
    temperature: kinds.Temperature,
    pressure: kinds.Pressure,
) -> kinds.Pressure:
    """Pressure lost in a smooth air pipe.

    >>> round(air_line_loss(0.02, 0.0525, 10.0, 35.0, 95950.0))
    259
    """
    return _line_loss(air_flow, diameter, length, temperature, pressure)


@definition("m", "ideal gas law", example="air_mass_flow(1.0) == 1.2041")
def air_mass_flow(air_flow: kinds.AirFlow) -> kinds.AirMassFlow:
    """Mass of an air flow in standard volumes (20 °C, dry, one atmosphere)."""
    return STANDARD_AIR * air_flow


@definition(
    "P",
    "adiabatic compression with k = 1.395, Hendricks, table CDD.5, and compressor textbooks",
    valid="low pressures; a floor for any machine",
    example="round(blower_power(0.02396, 20.0, 95950.0, 106750.0, 1.0)) == 218",
)
def blower_power(
    air_mass_flow: kinds.AirMassFlow,
    inlet_temperature: kinds.Temperature,
    inlet_pressure: kinds.Pressure,
    outlet_pressure: kinds.Pressure,
    efficiency: kinds.Fraction,
) -> kinds.Power:
    """Power that adiabatic compression of air takes."""
    return (
        air_mass_flow
        * 287.058
        * (inlet_temperature + 273.15)
        / (GAMMA_TERM * efficiency)
        * (power(outlet_pressure / inlet_pressure, GAMMA_TERM) - 1.0)
    )


@definition("P_w", example="wire_power(70.0, 0.35) == 200.0")
def wire_power(power: kinds.Power, efficiency: kinds.Fraction) -> kinds.Power:
    """Power at the wall for a power in the air or water."""
    return power / efficiency


@definition("x", "ideal gas law", example="round(altitude_factor(101325.0, 20.0), 3) == 1.0")
def altitude_factor(pressure: kinds.Pressure, temperature: kinds.Temperature) -> kinds.Ratio:
    """Standard air in each volume that a machine takes in."""
    return pressure / 101325.0 * 293.15 / (temperature + 273.15)


@equation(
    latex=r"p = \frac{@gauge}{1 + @by_density \cdot \left(@factor - 1\right)}",
    source="fan laws: a fan's pressure goes with the density of the air it takes in; Seven laws of"
    " blower application, Machine Design, laws 2 and 4",
    valid="fans, regenerative blowers too; a positive-displacement machine is read as it is",
)
def curve_pressure(
    gauge: kinds.Pressure, factor: kinds.Ratio, by_density: kinds.Fraction = 1.0
) -> kinds.Pressure:
    """Pressure at which a machine's curve is read, where the air is thinner than its rating assumes.

    ``by_density`` is 1 for a fan and 0 for a positive-displacement machine.

    >>> curve_pressure(8000.0, 0.8), curve_pressure(8000.0, 0.8, 0.0)
    (10000.0, 8000.0)
    """
    return gauge / (1.0 + by_density * (factor - 1.0))


@definition(
    "p",
    "the same fan laws turned around",
    valid="as above",
    example="most_pressure(10000.0, 0.8) == 8000.0; most_pressure(10000.0, 0.8, 0.0) == 10000.0",
)
def most_pressure(
    last: kinds.Pressure, factor: kinds.Ratio, by_density: kinds.Fraction = 1.0
) -> kinds.Pressure:
    """Most pressure a machine gives here: the last point of its curve, thinner air counted in."""
    return last * (1.0 + by_density * (factor - 1.0))


@equation(
    latex=r"G = G\left(p\right)",
    source="the machine's pressure-flow points, linear between them",
    valid="from free air to the last point",
    basis="common practice",
)
def device_flow(
    pressure: kinds.Pressure, pressures: kinds.Pressure, flows: kinds.AirFlow
) -> kinds.AirFlow:
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
    watts: kinds.Power,
    atmosphere: kinds.Pressure,
    gauge: kinds.Pressure,
    temperature: kinds.Temperature,
    efficiency: kinds.Fraction,
) -> kinds.AirFlow:
    """Standard air that a machine of so many watts gives against a pressure.

    >>> round(air_of_watts(660.0, 95950.0, 10800.0, 20.0, 0.35) * 60000)
    1263
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
    flow: kinds.AirFlow,
    atmosphere: kinds.Pressure,
    gauge: kinds.Pressure,
    temperature: kinds.Temperature,
    efficiency: kinds.Fraction,
) -> kinds.Power:
    """Power at the wall for so much standard air against a pressure.

    >>> round(watts_of_air(0.02, 95950.0, 10800.0, 20.0, 0.35))
    627
    """
    return flow * _work(atmosphere, gauge, temperature) / efficiency
