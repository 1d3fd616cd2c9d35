"""Fresh water and air: density, viscosity, vapour pressure, pressure at a height."""

from ...core import kinds
from ...core.arrays import exp, power
from ...core.equation import definition, equation


@definition(
    "p",
    "U.S. Standard Atmosphere, 1976, troposphere, as rounded in engineering handbooks",
    valid="-1,000 to 11,000 m",
    basis="from memory",
    example="round(pressure_at_elevation(457.2)) == 95952",
)
def pressure_at_elevation(elevation: kinds.Elevation) -> kinds.Pressure:
    """Air pressure of the standard atmosphere at a height above sea level."""
    return 101325.0 * power(1.0 - 2.25577e-5 * elevation, 5.25588)


@equation(
    latex=r"\rho = \frac{999.83952 + 16.945176 \cdot @temperature"
    r" - 7.9870401 \cdot 10^{-3} \cdot @temperature^{2}"
    r" - 46.170461 \cdot 10^{-6} \cdot @temperature^{3}"
    r" + 105.56302 \cdot 10^{-9} \cdot @temperature^{4}"
    r" - 280.54253 \cdot 10^{-12} \cdot @temperature^{5}}"
    r"{1 + 16.879850 \cdot 10^{-3} \cdot @temperature}",
    source="Kell 1975, J. Chem. Eng. Data 20:97, air-free water at one atmosphere",
    valid="0 to 100 °C",
    basis="from memory",
)
def density(temperature: kinds.Temperature) -> kinds.Density:
    """Density of fresh water.

    >>> round(density(20.0), 2)
    998.2
    """
    t = temperature
    top = t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))
    top = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + top))
    return top / (1.0 + 16.879850e-3 * t)


@definition(
    r"\mu",
    "IAPWS SR6-08, liquid water at 0.1 MPa (Pátek et al. 2009), viscosity",
    valid="-20 to 110 °C at one atmosphere",
    basis="from memory",
    example="round(viscosity(20.0), 6) == 0.001002",
)
def viscosity(temperature: kinds.Temperature) -> kinds.Viscosity:
    """Dynamic viscosity of fresh water."""
    x = (temperature + 273.15) / 300.0
    return 1e-6 * (
        280.68 * power(x, -1.9)
        + 511.45 * power(x, -7.7)
        + 61.131 * power(x, -19.6)
        + 0.45903 * power(x, -40.0)
    )


@definition(r"\nu", valid="any fluid", example="viscosity_over_density(0.001, 1000.0) == 1e-06")
def viscosity_over_density(
    viscosity: kinds.Viscosity, density: kinds.Density
) -> kinds.KinematicViscosity:
    """Kinematic viscosity."""
    return viscosity / density


def kinematic_viscosity(temperature):
    """Kinematic viscosity of fresh water [m²/s] at a temperature [°C].

    A thin composition of ``viscosity`` and ``density``.

    >>> round(kinematic_viscosity(28.0) * 1e6, 3)
    0.836
    """
    return viscosity_over_density(viscosity(temperature), density(temperature))


@definition(
    "p",
    "FAO Irrigation and Drainage Paper 56, equation 11",
    valid="0 to 50 °C, within 0.11 % of steam tables from 10 to 40 °C",
    basis="seen",
    example="round(vapour_pressure(20.0)) == 2338",
)
def vapour_pressure(temperature: kinds.Temperature) -> kinds.Pressure:
    """Vapour pressure of water at saturation."""
    return 610.8 * exp(17.27 * temperature / (temperature + 237.3))


@definition(
    r"\rho",
    "ideal gas law, gas constant of dry air",
    valid="dry air near one atmosphere",
    example="round(air_density(20.0), 3) == 1.204",
)
def air_density(
    temperature: kinds.Temperature, pressure: kinds.Pressure = 101325.0
) -> kinds.Density:
    """Density of dry air."""
    return pressure / (287.058 * (temperature + 273.15))


@definition(
    "p",
    "hydrostatics; standard gravity, CGPM 1901",
    valid="still water",
    example="round(water_pressure(1.0, 996.2)) == 9769",
)
def water_pressure(depth: kinds.Length, density: kinds.Density) -> kinds.Pressure:
    """Gauge pressure under a depth of water."""
    return density * 9.80665 * depth
