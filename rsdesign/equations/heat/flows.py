"""The heat flows of a tank, one by one; a gain of the water is above zero, a loss below."""

from math import pi

from ...core import kinds
from ...core.equation import definition, equation
from .sky import SIGMA

WATER_HEAT = 4180.0
"""J/(kg K) of water from 10 to 50 °C, within 0.1 %."""

AIR_HEAT = 1006.0
"""J/(kg K) of air."""


@definition(
    "P",
    "definition; water takes up 0.90 to 0.95 of what reaches it",
    valid="dark tanks deeper than a hand",
    basis="from memory",
    example="round(sun_gain(7.0686, 1000.0), 1) == 6573.8",
)
def sun_gain(
    area: kinds.Area,
    sun: kinds.HeatFlux,
    transmittance: kinds.Fraction = 1.0,
    absorptance: kinds.Fraction = 0.93,
) -> kinds.Power:
    """Heat from the sunshine that reaches the water."""
    return area * sun * transmittance * absorptance


@definition(
    "R",
    valid="cloth and glazing over the whole tank",
    example="transmitted_sun(800.0, 0.5, 0.5) == 200.0",
)
def transmitted_sun(
    sun: kinds.HeatFlux, shade: kinds.Fraction, glazing_transmittance: kinds.Fraction = 1.0
) -> kinds.HeatFlux:
    """Sunshine left under shade cloth and glazing."""
    return sun * (1.0 - shade) * glazing_transmittance


@definition(
    "P",
    "Stefan-Boltzmann law; emissivity of water 0.95 to 0.97",
    valid="open water",
    example="round(longwave(1.0, 407.4, 28.0), 1) == -57.2",
)
def longwave(
    area: kinds.Area,
    sky_heat: kinds.HeatFlux,
    water_temperature: kinds.Temperature,
    emissivity: kinds.Fraction = 0.97,
) -> kinds.Power:
    """Radiant heat from sky or walls less what the water sends out."""
    kelvin = water_temperature + 273.15
    sent = SIGMA * kelvin * kelvin * kelvin * kelvin
    return area * emissivity * (sky_heat - sent)


@definition(
    "T_s",
    "the air temperature that would warm a surface as sun and sky do; still-air film",
    valid="lids; the radiant heat of a surface at the temperature of the air is taken off",
    example="sol_air_temperature(30.0, 0.05, 0.5, 800.0, 380.0, 480.0) == 45.0",
)
def sol_air_temperature(
    air_temperature: kinds.Temperature,
    film: kinds.ThermalResistance,
    absorptance: kinds.Fraction,
    sun: kinds.HeatFlux,
    sky_heat: kinds.HeatFlux,
    cloth_heat: kinds.HeatFlux,
) -> kinds.Temperature:
    """Sol-air temperature: that of air which would warm a lid as air, sun and sky do."""
    return air_temperature + film * (absorptance * sun + sky_heat - cloth_heat)


@definition(
    "P",
    valid="steady; a lid stores no heat",
    example="round(lid_gain(7.0686, 18.0, 28.0, 0.35, 0.12), 1) == -150.4",
)
def lid_gain(
    area: kinds.Area,
    outside: kinds.Temperature,
    water_temperature: kinds.Temperature,
    resistance: kinds.ThermalResistance,
    film: kinds.ThermalResistance,
) -> kinds.Power:
    """Heat through a lid that lies on the water."""
    return area * (outside - water_temperature) / (resistance + film)


@definition(
    "R",
    "resistances in a row add",
    valid="walls thin beside their size",
    example="round(board_resistance(0.17, 0.05, 0.029), 3) == 1.894",
)
def board_resistance(
    bare_resistance: kinds.ThermalResistance,
    thickness: kinds.Length,
    conductivity: kinds.Conductivity,
) -> kinds.ThermalResistance:
    """Resistance of a wall or floor with a board on it.

    ``bare_resistance`` holds the films and the wall itself.
    """
    return bare_resistance + thickness / conductivity


@definition("K", example="round(conductance(9.4248, 1.894), 3) == 4.976")
def conductance(area: kinds.Area, resistance: kinds.ThermalResistance) -> kinds.Conductance:
    """Heat that a wall lets through for each degree."""
    return area / resistance


@definition("A", "geometry", example="round(side_area(3.0, 1.0), 3) == 9.425")
def side_area(diameter: kinds.Length, depth: kinds.Length) -> kinds.Area:
    """Wetted wall of a round tank, or of one with the same floor."""
    return pi * diameter * depth


@definition("P", example="conduction(5.0, 18.0, 28.0) == -50.0")
def conduction(
    heat_conductance: kinds.Conductance,
    outside: kinds.Temperature,
    water_temperature: kinds.Temperature,
) -> kinds.Power:
    """Heat that comes in through walls or floor."""
    return heat_conductance * (outside - water_temperature)


@definition(
    "P",
    "definition, heat capacity of water",
    valid="10 to 50 °C",
    example="round(makeup_gain(0.0040906, 15.0, 28.0) * 24 / 1000, 3) == -5.335",
)
def makeup_gain(
    water_mass: kinds.VapourRate,
    inlet_temperature: kinds.Temperature,
    water_temperature: kinds.Temperature,
) -> kinds.Power:
    """Heat that new water brings, for the same mass leaving as warm as the tank."""
    return WATER_HEAT * water_mass * (inlet_temperature - water_temperature)


@definition(
    "w",
    "bubbles and drops leave some way to full; 1 for bubbles",
    valid="air that passes through water",
    basis="common practice",
    example="leaving_humidity(0.0, 0.03, 0.5) == 0.015",
)
def leaving_humidity(
    humidity_in: kinds.Ratio, humidity_full: kinds.Ratio, approach: kinds.Fraction = 1.0
) -> kinds.Ratio:
    """Water vapour in air that has passed through water."""
    return humidity_in + approach * (humidity_full - humidity_in)


@definition("E", "conservation of water", example="stream_vapour(0.5, 0.03, 0.0) == 0.015")
def stream_vapour(
    air_mass_flow: kinds.AirMassFlow, humidity_out: kinds.Ratio, humidity_in: kinds.Ratio
) -> kinds.VapourRate:
    """Water that air takes out of the tank as it passes through."""
    return air_mass_flow * (humidity_out - humidity_in)


@definition(
    "P",
    "conservation of heat, heat capacity of air",
    valid="air that passes through water",
    example="round(stream_warmth(0.02, 43.0, 28.0), 1) == 301.8",
)
def stream_warmth(
    air_mass_flow: kinds.AirMassFlow,
    air_temperature: kinds.Temperature,
    water_temperature: kinds.Temperature,
    approach: kinds.Fraction = 1.0,
) -> kinds.Power:
    """Heat that air leaves in the water it passes through, vapour apart."""
    return AIR_HEAT * air_mass_flow * approach * (air_temperature - water_temperature)


@equation(
    latex=r"P = 1.36 \cdot 10^{7} \cdot @oxygen_demand",
    source="13.6 kJ for each gram of oxygen, the oxycalorific value",
    valid="everything that breathes",
    basis="from memory",
)
def breathing_heat(oxygen_demand: kinds.OxygenRate) -> kinds.Power:
    """Heat of fish and bacteria, from the oxygen they use.

    >>> round(breathing_heat(0.0955 / 3600))
    361
    """
    return 1.36e7 * oxygen_demand


@definition(
    "P",
    "nearly all that a pump draws ends as heat in the water; of a blower's, what the air "
    "still holds at the stones",
    valid="pumps in or beside the water",
    basis="common practice",
    example="motor_heat(100.0, 400.0) == 300.0",
)
def motor_heat(
    pump_power: kinds.Power, air_power: kinds.Power, share: kinds.Fraction = 0.5
) -> kinds.Power:
    """Heat that pumps and air machines leave in the water."""
    return pump_power + share * air_power
