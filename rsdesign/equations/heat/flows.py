"""The heat flows of a tank, one by one; a gain of the water is above zero, a loss below."""

from math import pi

from ...core.equation import equation
from ...core.kinds import (
    AirMassFlow,
    Area,
    Conductance,
    Conductivity,
    Fraction,
    HeatFlux,
    Length,
    OxygenRate,
    Power,
    Ratio,
    Temperature,
    ThermalResistance,
    VapourRate,
)
from .sky import SIGMA

WATER_HEAT = 4180.0
"""J/(kg K) of water from 10 to 50 °C, within 0.1 %."""

AIR_HEAT = 1006.0
"""J/(kg K) of air."""


@equation(
    latex=r"P = @area \cdot @sun \cdot @transmittance \cdot @absorptance",
    source="definition; water takes up 0.90 to 0.95 of what reaches it",
    valid="dark tanks deeper than a hand",
    basis="from memory",
)
def sun_gain(
    area: Area, sun: HeatFlux, transmittance: Fraction = 1.0, absorptance: Fraction = 0.93
) -> Power:
    """Heat from the sunshine that reaches the water.

    Floats or arrays that broadcast.

    >>> round(sun_gain(7.0686, 1000.0), 1)
    6573.8
    """
    return area * sun * transmittance * absorptance


@equation(
    latex=r"R = @sun \cdot \left(1 - @shade\right) \cdot @glazing_transmittance",
    source="definition",
    valid="cloth and glazing over the whole tank",
    basis="derived",
)
def sun_let_in(sun: HeatFlux, shade: Fraction, glazing_transmittance: Fraction = 1.0) -> HeatFlux:
    """Sunshine left under shade cloth and glazing.

    Floats or arrays that broadcast.

    >>> sun_let_in(800.0, 0.5, 0.5)
    200.0
    """
    return sun * (1.0 - shade) * glazing_transmittance


@equation(
    latex=r"P = @area \cdot @emissivity \cdot \left(@sky_heat - 5.670374 \cdot 10^{-8} \cdot"
    r" \left(@water_temperature + 273.15\right)^{4}\right)",
    source="Stefan-Boltzmann law; emissivity of water 0.95 to 0.97",
    valid="open water",
    basis="derived",
)
def longwave(
    area: Area, sky_heat: HeatFlux, water_temperature: Temperature, emissivity: Fraction = 0.97
) -> Power:
    """Radiant heat from sky or walls less what the water sends out.

    Floats or arrays that broadcast.

    >>> round(longwave(1.0, 407.4, 28.0), 1)
    -57.2
    """
    kelvin = water_temperature + 273.15
    sent = SIGMA * kelvin * kelvin * kelvin * kelvin
    return area * emissivity * (sky_heat - sent)


@equation(
    latex=r"T_s = @air_temperature + @film \cdot \left(@absorptance \cdot @sun + @sky_heat -"
    r" @cloth_heat\right)",
    source="the air temperature that would warm a surface as sun and sky do; film at rest",
    valid="lids; the radiant heat of a surface at the temperature of the air is taken off",
    basis="derived",
)
def sun_warmed(
    air_temperature: Temperature,
    film: ThermalResistance,
    absorptance: Fraction,
    sun: HeatFlux,
    sky_heat: HeatFlux,
    cloth_heat: HeatFlux,
) -> Temperature:
    """Temperature that a lid feels outside, in sun and under the sky.

    Floats or arrays that broadcast.

    >>> sun_warmed(30.0, 0.05, 0.5, 800.0, 380.0, 480.0)
    45.0
    """
    return air_temperature + film * (absorptance * sun + sky_heat - cloth_heat)


@equation(
    latex=r"P = \frac{@area \cdot \left(@outside - @water_temperature\right)}{@resistance + @film}",
    source="definition",
    valid="steady; a lid stores no heat",
    basis="derived",
)
def lid_gain(
    area: Area,
    outside: Temperature,
    water_temperature: Temperature,
    resistance: ThermalResistance,
    film: ThermalResistance,
) -> Power:
    """Heat through a lid that lies on the water.

    Floats or arrays that broadcast.

    >>> round(lid_gain(7.0686, 18.0, 28.0, 0.35, 0.12), 1)
    -150.4
    """
    return area * (outside - water_temperature) / (resistance + film)


@equation(
    latex=r"R = @bare_resistance + \frac{@thickness}{@conductivity}",
    source="resistances in a row add",
    valid="walls thin beside their size",
    basis="derived",
)
def board_resistance(
    bare_resistance: ThermalResistance, thickness: Length, conductivity: Conductivity
) -> ThermalResistance:
    """Resistance of a wall or floor with a board on it.

    Floats or arrays that broadcast; ``bare_resistance`` holds the films and the wall itself.

    >>> round(board_resistance(0.17, 0.05, 0.029), 3)
    1.894
    """
    return bare_resistance + thickness / conductivity


@equation(
    latex=r"K = \frac{@area}{@resistance}",
    source="definition",
    valid="any",
    basis="derived",
)
def conductance(area: Area, resistance: ThermalResistance) -> Conductance:
    """Heat that a wall lets through for each degree.

    Floats or arrays that broadcast.

    >>> round(conductance(9.4248, 1.894), 3)
    4.976
    """
    return area / resistance


@equation(
    latex=r"A = \pi \cdot @diameter \cdot @depth",
    source="geometry",
    valid="any",
    basis="derived",
)
def side_area(diameter: Length, depth: Length) -> Area:
    """Wetted wall of a round tank, or of one with the same floor.

    Floats or arrays that broadcast.

    >>> round(side_area(3.0, 1.0), 3)
    9.425
    """
    return pi * diameter * depth


@equation(
    latex=r"P = @heat_conductance \cdot \left(@outside - @water_temperature\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def conduction(
    heat_conductance: Conductance, outside: Temperature, water_temperature: Temperature
) -> Power:
    """Heat that comes in through walls or floor.

    Floats or arrays that broadcast.

    >>> conduction(5.0, 18.0, 28.0)
    -50.0
    """
    return heat_conductance * (outside - water_temperature)


@equation(
    latex=r"P = 4180 \cdot @water_mass \cdot \left(@inlet_temperature - @water_temperature\right)",
    source="definition, heat capacity of water",
    valid="10 to 50 °C",
    basis="derived",
)
def makeup_gain(
    water_mass: VapourRate, inlet_temperature: Temperature, water_temperature: Temperature
) -> Power:
    """Heat that new water brings, for the same mass leaving as warm as the tank.

    Floats or arrays that broadcast.

    >>> round(makeup_gain(0.0040906, 15.0, 28.0) * 24 / 1000, 3)
    -5.335
    """
    return WATER_HEAT * water_mass * (inlet_temperature - water_temperature)


@equation(
    latex=r"w = @humidity_in + @approach \cdot \left(@humidity_full - @humidity_in\right)",
    source="bubbles and drops leave some way to full; 1 for bubbles",
    valid="air that passes through water",
    basis="common practice",
)
def leaving_humidity(humidity_in: Ratio, humidity_full: Ratio, approach: Fraction = 1.0) -> Ratio:
    """Water vapour in air that has passed through water.

    Floats or arrays that broadcast.

    >>> leaving_humidity(0.0, 0.03, 0.5)
    0.015
    """
    return humidity_in + approach * (humidity_full - humidity_in)


@equation(
    latex=r"E = @air_mass_flow \cdot \left(@humidity_out - @humidity_in\right)",
    source="conservation of water",
    valid="any",
    basis="derived",
)
def stream_vapour(
    air_mass_flow: AirMassFlow, humidity_out: Ratio, humidity_in: Ratio
) -> VapourRate:
    """Water that air takes out of the tank as it passes through.

    Floats or arrays that broadcast.

    >>> stream_vapour(0.5, 0.03, 0.0)
    0.015
    """
    return air_mass_flow * (humidity_out - humidity_in)


@equation(
    latex=r"P = 1006 \cdot @air_mass_flow \cdot @approach \cdot \left(@air_temperature -"
    r" @water_temperature\right)",
    source="conservation of heat, heat capacity of air",
    valid="air that passes through water",
    basis="derived",
)
def stream_warmth(
    air_mass_flow: AirMassFlow,
    air_temperature: Temperature,
    water_temperature: Temperature,
    approach: Fraction = 1.0,
) -> Power:
    """Heat that air leaves in the water it passes through, vapour apart.

    Floats or arrays that broadcast.

    >>> round(stream_warmth(0.02, 43.0, 28.0), 1)
    301.8
    """
    return AIR_HEAT * air_mass_flow * approach * (air_temperature - water_temperature)


@equation(
    latex=r"P = 1.36 \cdot 10^{7} \cdot @oxygen_demand",
    source="13.6 kJ for each gram of oxygen, the oxycalorific value",
    valid="everything that breathes",
    basis="from memory",
)
def breathing_heat(oxygen_demand: OxygenRate) -> Power:
    """Heat of fish and bacteria, from the oxygen they use.

    Floats or arrays.

    >>> round(breathing_heat(0.0955 / 3600))
    361
    """
    return 1.36e7 * oxygen_demand


@equation(
    latex=r"P = @pump_power + @share \cdot @air_power",
    source="nearly all that a pump draws ends as heat in the water; of a blower's, what the air"
    " still holds at the stones",
    valid="pumps in or beside the water",
    basis="common practice",
)
def motor_heat(pump_power: Power, air_power: Power, share: Fraction = 0.5) -> Power:
    """Heat that pumps and air machines leave in the water.

    Floats or arrays that broadcast.

    >>> motor_heat(100.0, 400.0)
    300.0
    """
    return pump_power + share * air_power
