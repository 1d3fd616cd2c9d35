"""Dissolved oxygen in air-saturated water."""

from ...core.arrays import exp
from ...core.equation import equation
from ...core.kinds import Concentration, Pressure, Salinity, Temperature


@equation(
    latex=r"C = 10^{-3} \cdot \exp\left(-139.34411 + \frac{1.575701 \cdot 10^{5}}{K} - "
    r"\frac{6.642308 \cdot 10^{7}}{K^{2}} + \frac{1.243800 \cdot 10^{10}}{K^{3}} - "
    r"\frac{8.621949 \cdot 10^{11}}{K^{4}} - @salinity \cdot \left(0.017674 - "
    r"\frac{10.754}{K} + \frac{2140.7}{K^{2}}\right)\right) \cdot \frac{\left(P - "
    r"u\right) \cdot \left(1 - w \cdot P\right)}{\left(1 - u\right) \cdot \left(1 - "
    r"w\right)}, P = \frac{@pressure}{101325}, u = \exp\left(11.8571 - "
    r"\frac{3840.70}{K} - \frac{216961}{K^{2}}\right), w = 0.000975 - 1.426 \cdot "
    r"10^{-5} \cdot @temperature + 6.436 \cdot 10^{-8} \cdot @temperature^{2}, K = "
    r"@temperature + 273.15",
    source="Benson and Krause 1984, equations 24 and 32, as in USGS OWQ TM 2011.03",
    valid="0 to 40 °C, 0 to 40 g/kg, 0.5 to 1.1 atm, moist air",
)
def saturation(
    temperature: Temperature, salinity: Salinity = 0.0, pressure: Pressure = 101325.0
) -> Concentration:
    """Oxygen in water saturated by moist air.

    u is the vapour pressure of water in atm (Green and Carritt 1967, as in the same source) and
    theta the pressure term of equation 24.

    >>> round(saturation(20.0) * 1e3, 2)
    9.09
    """
    t = temperature
    k = t + 273.15
    r = 1.0 / k
    poly = r * (1.575701e5 + r * (-6.642308e7 + r * (1.243800e10 - r * 8.621949e11)))
    salt = salinity * (0.017674 + r * (-10.754 + r * 2140.7))
    full = 1e-3 * exp(-139.34411 + poly - salt)
    u = exp(11.8571 + r * (-3840.70 - r * 216961.0))
    theta = 0.000975 + t * (-1.426e-5 + t * 6.436e-8)
    p = pressure / 101325.0
    return full * (p - u) * (1.0 - theta * p) / ((1.0 - u) * (1.0 - theta))
