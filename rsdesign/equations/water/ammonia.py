"""Un-ionised ammonia: the share of total ammonia nitrogen that is toxic to fish."""

from ...core.arrays import power, ratio
from ...core.equation import definition
from ...core.kinds import PH, Concentration, Fraction, Salinity, Temperature


@definition(
    "f",
    "Emerson et al. 1975; salinity term as in Whitfield 1974 and Bower and Bidwell 1978",
    valid="0 to 35 °C, pH 6 to 10; with salt within 2 % of the 1978 table",
    basis="seen",
    example="round(unionized_fraction(30.0, 8.6), 4) == 0.2428",
)
def unionized_fraction(temperature: Temperature, ph: PH, salinity: Salinity = 0.0) -> Fraction:
    """Share of total ammonia nitrogen that is un-ionised."""
    ionic = 19.973 * salinity / (1000.0 - 1.2005109 * salinity)  # units of the source
    pka = 0.09018 + 2729.92 / (temperature + 273.2) + (0.1552 - 0.0003142 * temperature) * ionic
    return 1.0 / (1.0 + power(10.0, pka - ph))


@definition("S", example="total_ammonia_limit(0.00005, 0.05) == 0.001")
def total_ammonia_limit(
    unionized_limit: Concentration, unionized_fraction: Fraction
) -> Concentration:
    """Total ammonia nitrogen at which its un-ionised part is at the limit."""
    return ratio(unionized_limit, unionized_fraction, float("inf"))


@definition("C", example="unionized_ammonia(0.002, 0.25) == 0.0005")
def unionized_ammonia(total_ammonia: Concentration, unionized_fraction: Fraction) -> Concentration:
    """Un-ionised ammonia nitrogen in a total."""
    return total_ammonia * unionized_fraction
