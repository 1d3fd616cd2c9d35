"""Carbon dioxide out of the water: stripping, and where it settles."""

from ...core import kinds
from ...core.arrays import ratio
from ...core.equation import definition, equation
from ..water import carbonate


def _level(production, strength, equilibrium, exchange, source):
    return ratio(
        production + strength * equilibrium + exchange * source, strength + exchange, float("inf")
    )


@equation(
    latex=r"x = @approach \cdot \frac{@gas_water_ratio \cdot H}{1 + @gas_water_ratio \cdot "
    r"H}, H = \frac{1}{0.082057 \cdot K \cdot K_0}, K_0 = \exp\left(-58.0931 + "
    r"\frac{9050.69}{K} + 22.2940 \cdot \ln\left(\frac{K}{100}\right)\right), K = "
    r"@temperature + 273.15",
    source="air and water mixed to balance, times how far a column gets; Summerfelt 2003 "
    "saw 0.21 to 0.37 in columns of 1 m",
    valid="air for each volume of water 1 to 20",
    basis="common practice",
)
def stripped_fraction(
    gas_water_ratio: kinds.Ratio, temperature: kinds.Temperature, approach: kinds.Fraction = 1.0
) -> kinds.Fraction:
    """Share of the carbon dioxide over balance that one pass takes away.

    >>> round(stripped_fraction(5.0, 20.0, 0.3), 2)
    0.25
    """
    return (
        approach
        * gas_water_ratio
        * carbonate.gas_partition.__wrapped__(temperature)
        / (1.0 + gas_water_ratio * carbonate.gas_partition.__wrapped__(temperature))
    )


@equation(
    latex=r"C = \frac{@production + \left(@air_flow \cdot @approach \cdot @partition + "
    r"@loop_flow \cdot @loop_removal\right) \cdot @equilibrium + @exchange \cdot "
    r"@source}{@air_flow \cdot @approach \cdot @partition + @loop_flow \cdot "
    r"@loop_removal + @exchange}",
    source="conservation of carbon: production, bubbles that reach part of balance, filter, "
    "new water",
    valid="bubbles at 0.7 to 1 m reach 0.3 to 0.6 of balance (common practice)",
    basis="derived",
)
def tank_carbon_dioxide(
    production: kinds.OxygenRate,
    air_flow: kinds.AirFlow,
    approach: kinds.Fraction,
    partition: kinds.Ratio,
    equilibrium: kinds.Concentration,
    exchange: kinds.DailyFlow = 0.0,
    source: kinds.Concentration = 0.0,
    loop_flow: kinds.Flow = 0.0,
    loop_removal: kinds.Fraction = 0.0,
) -> kinds.Concentration:
    """Carbon dioxide in a mixed tank in steady state.

    >>> round(tank_carbon_dioxide(0.117 / 3600, 1.194 / 60, 0.3, 1.29, 0.55e-3) * 1e3, 1)
    4.8
    """
    return _level(
        production,
        air_flow * approach * partition + loop_flow * loop_removal,
        equilibrium,
        exchange,
        source,
    )


@definition(
    "M",
    "conservation of carbon",
    valid="bubbles at 0.7 to 1 m",
    example="air_transfer_of_carbon_dioxide(2.0, 0.5, 1.0, 1.0, 0.5) == 0.5",
)
def air_transfer_of_carbon_dioxide(
    air_flow: kinds.AirFlow,
    approach: kinds.Fraction,
    partition: kinds.Ratio,
    carbon_dioxide: kinds.Concentration,
    equilibrium: kinds.Concentration,
) -> kinds.OxygenRate:
    """Carbon dioxide that rising bubbles take away."""
    return air_flow * approach * partition * (carbon_dioxide - equilibrium)
