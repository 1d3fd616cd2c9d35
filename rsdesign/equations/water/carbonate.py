"""Alkalinity, pH and carbon dioxide, each from the others; base to add."""

from ...core.arrays import exp, log, log10, power, sqrt
from ...core.equation import definition, equation
from ...core.kinds import PH, ChemicalDose, Concentration, Pressure, Ratio, Temperature

_CO2_PER_ALKALINITY = 44.01 / 50.04
"""Mass of carbon dioxide for each mass of alkalinity as CaCO3, equivalents."""


def _first(kelvin):
    return power(10.0, 14.8435 - 3404.71 / kelvin - 0.032786 * kelvin)


def _second(kelvin):
    return power(10.0, 6.4980 - 2902.39 / kelvin - 0.02379 * kelvin)


@equation(
    latex=r"C = \frac{@alkalinity \cdot \frac{44.01}{50.04} \cdot"
    r" 10^{\frac{3404.71}{K} + 0.032786 \cdot K - 14.8435 - @ph}}"
    r"{1 + 2 \cdot 10^{@ph - \frac{2902.39}{K} - 0.02379 \cdot K + 6.4980}}, K = @temperature + 273.15",
    source="Harned and Davis 1943 (pK1) and Harned and Scholes 1941 (pK2), fresh water",
    valid="0 to 40 °C, pH 5 to 9.5, fresh water; hydroxide left out",
)
def carbon_dioxide(alkalinity: Concentration, ph: PH, temperature: Temperature) -> Concentration:
    """Carbon dioxide in water of an alkalinity (as CaCO3) and pH.

    >>> round(carbon_dioxide(0.050, 6.8, 25.0) * 1e3, 1)
    15.6
    """
    k = temperature + 273.15
    h = power(10.0, -ph)
    return alkalinity * _CO2_PER_ALKALINITY * h / _first(k) / (1.0 + 2.0 * _second(k) / h)


@equation(
    latex=r"pH = -\log_{10}\left(\frac{b + \sqrt{b^{2} + 8 \cdot a \cdot b \cdot K_2}}{2 "
    r"\cdot a}\right), a = @alkalinity \cdot \frac{44.01}{50.04}, b = @carbon_dioxide "
    r"\cdot K_1, K_1 = 10^{14.8435 - \frac{3404.71}{K} - 0.032786 \cdot K}, K_2 = "
    r"10^{6.4980 - \frac{2902.39}{K} - 0.02379 \cdot K}, K = @temperature + 273.15",
    source="inverse of the relation for carbon dioxide, a quadratic in the hydrogen ion",
    valid="as there",
    basis="derived",
)
def ph(alkalinity: Concentration, carbon_dioxide: Concentration, temperature: Temperature) -> PH:
    """pH of water of an alkalinity (as CaCO3) that holds carbon dioxide.

    >>> round(ph(0.050, 0.01565, 25.0), 2)
    6.8
    """
    k = temperature + 273.15
    a = alkalinity * _CO2_PER_ALKALINITY
    b = carbon_dioxide * _first(k)
    return -log10((b + sqrt(b * b + 8.0 * a * b * _second(k))) / (2.0 * a))


@equation(
    latex=r"C = \frac{a \cdot \frac{h}{K_1}}{1 + 2 \cdot \frac{K_2}{h}} \cdot \left(1 + "
    r"\frac{K_1}{h} + \frac{K_1 \cdot K_2}{h^{2}}\right), a = @alkalinity \cdot "
    r"\frac{44.01}{50.04}, h = 10^{-@ph}, K_1 = 10^{14.8435 - \frac{3404.71}{K} - "
    r"0.032786 \cdot K}, K_2 = 10^{6.4980 - \frac{2902.39}{K} - 0.02379 \cdot K}, K = "
    r"@temperature + 273.15",
    source="carbonate equilibrium, constants as for carbon dioxide",
    valid="0 to 40 °C, pH 5 to 9.5, fresh water",
    basis="derived",
)
def total_inorganic_carbon(
    alkalinity: Concentration, ph: PH, temperature: Temperature
) -> Concentration:
    """Inorganic carbon in all its forms, counted as carbon dioxide.

    >>> round(total_inorganic_carbon(0.100, 7.0, 25.0), 4)
    0.1076
    """
    k = temperature + 273.15
    h = power(10.0, -ph)
    first, second = _first(k), _second(k)
    free = alkalinity * _CO2_PER_ALKALINITY * h / first / (1.0 + 2.0 * second / h)
    return free * (1.0 + first / h + first * second / (h * h))


def _weiss(kelvin):
    x = kelvin / 100.0
    return exp(-58.0931 + 90.5069 / x + 22.2940 * log(x))


@equation(
    latex=r"C = 44.01 \cdot K_0 \cdot @mole_fraction \cdot \frac{@pressure - p}{101325}, p "
    r"= 610.8 \cdot \exp\left(\frac{17.27 \cdot @temperature}{@temperature + "
    r"237.3}\right), K_0 = \exp\left(-58.0931 + \frac{9050.69}{K} + 22.2940 \cdot "
    r"\ln\left(\frac{K}{100}\right)\right), K = @temperature + 273.15",
    source="Weiss 1974, Marine Chemistry 2:203, solubility K0 in mol/(L atm), fresh water",
    valid="0 to 40 °C, moist air",
    basis="from memory",
)
def equilibrium_carbon_dioxide(
    temperature: Temperature, pressure: Pressure = 101325.0, mole_fraction: Ratio = 420e-6
) -> Concentration:
    """Carbon dioxide in water at equilibrium with air.

    >>> round(equilibrium_carbon_dioxide(25.0) * 1e3, 2)
    0.61
    """
    vapour = 610.8 * exp(17.27 * temperature / (temperature + 237.3))
    k0 = _weiss(temperature + 273.15)
    return 44.01 * k0 * mole_fraction * (pressure - vapour) / 101325.0


@equation(
    latex=r"H = \frac{1}{0.082057 \cdot K \cdot K_0}, K_0 = \exp\left(-58.0931 + "
    r"\frac{9050.69}{K} + 22.2940 \cdot \ln\left(\frac{K}{100}\right)\right), K = "
    r"@temperature + 273.15",
    source="Weiss 1974 for K0; ideal gas",
    valid="0 to 40 °C, fresh water",
    basis="from memory",
)
def gas_partition(temperature: Temperature) -> Ratio:
    """Carbon dioxide in a volume of air over that in the same volume of water, at equilibrium.

    >>> round(gas_partition(28.0), 2)
    1.29
    """
    k = temperature + 273.15
    return 1.0 / (0.082057 * k * _weiss(k))


@definition(
    "M",
    "stoichiometry: one equivalent of alkalinity in each mole of sodium bicarbonate",
    example="round(bicarbonate_dose(1.0), 3) == 1.679",
)
def bicarbonate_dose(alkalinity_load: ChemicalDose) -> ChemicalDose:
    """Baking soda that brings an alkalinity, as CaCO3."""
    return alkalinity_load * (84.007 / 50.04)
