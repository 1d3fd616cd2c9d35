"""How fast a film of bacteria takes ammonia: the relations and their factors."""

from ...core.arrays import clip, exp, least, most, power, ratio, sqrt
from ...core.equation import definition, equation
from ...core.kinds import PH, ArealRate, Concentration, Fraction, Ratio, Temperature

LOW, HIGH = 0.4, 0.6
"""mg/L between which the linear form passes into the half-order form."""

OXYGEN_FOR_AMMONIA = 3.0
"""Oxygen over ammonia, by mass, below which oxygen holds the film back (common practice)."""

CAP = 0.69
"""Largest rate at 24 °C, g/(m² day), fresh water: Nijhof and Bovendeur 1990."""

_SI = 1e-3 / 86400.0  # units of the source


def half_order(level):
    """The half-order form at 24 °C, g/(m² day), of a level in mg/L."""
    return least(most(0.55 * sqrt(level) - 0.10, 0.0), CAP)


def rate_law(oxygen, temperature, ph, alkalinity, derate=0.75, organic=1.0):
    """The areal rate [kg/(m² s)] as a function of the level alone [kg/m³].

    Everything that does not change with the level is worked out once, so that a root search or
    an integral over levels stays quick.

    >>> law = rate_law(0.005, 28.0, 7.2, 1e9)
    >>> round(law(0.00079) * 86400 * 1000, 2)
    0.3
    """
    acid = clip(1.0 + 0.13 * (least(ph, 8.2) - 8.2), 0.05, 1.0)
    alkaline = 1000.0 * alkalinity / (10.0 + 1000.0 * alkalinity)  # units of the source
    shared = _SI * derate * organic * acid * alkaline
    warm = power(1.043, temperature - 24.0)  # units of the source
    fast = shared * warm
    slow = shared * 0.22 * power(1.043, temperature - 20.0)
    most_level = 1000.0 * oxygen / OXYGEN_FOR_AMMONIA  # units of the source

    def rate(level):
        s = most(least(1000.0 * level, most_level), 0.0)  # units of the source
        half = fast * half_order(s)
        low = least(half, slow * s)
        share = clip((s - LOW) / (HIGH - LOW), 0.0, 1.0)
        return low + share * (half - low)

    return rate


@equation(
    latex=r"r = d \cdot o \cdot \left(0.55 \sqrt{S} - 0.10\right) \cdot 1.043^{T - 24} "
    r"\cdot \left(1 + 0.13 \left(\min\left(pH, 8.2\right) - 8.2\right)\right) \cdot "
    r"\frac{A}{10 + A}",
    source="half-order form and cap 0.69 at 24 °C, Nijhof and Bovendeur 1990; temperature, "
    "Zhu and Chen 2002; pH, Villaverde 1997; linear form 0.22 m/day, Kinyage 2019",
    valid="0.05 to 10 mg/L, 10 to 35 °C, pH 5 to 9; S in mg/L, r in g/(m² day)",
)
def areal_rate(
    total_ammonia: Concentration,
    oxygen: Concentration,
    temperature: Temperature,
    ph: PH,
    alkalinity: Concentration,
    derate: Fraction = 0.75,
    organic: Fraction = 1.0,
) -> ArealRate:
    """Ammonia that each area of film takes.

    Below 0.4 mg/L the smaller of this and the linear form, above 0.6 this form, between them a
    straight blend, so that it always rises.  Oxygen below three times the ammonia holds it back.

    >>> round(areal_rate(0.00065, 0.006, 28.0, 7.2, 1e9) * 86400 * 1000, 3)
    0.265
    """
    return rate_law(oxygen, temperature, ph, alkalinity, derate, organic)(total_ammonia)


@equation(
    latex=r"r = \frac{10^{-3}}{86400} \cdot \min\left(\max\left(0.55 \cdot \sqrt{1000 \cdot "
    r"@total_ammonia} - 0.10, 0\right), 0.69\right) \cdot 1.043^{@temperature - 24}",
    source="Nijhof and Bovendeur 1990, coefficients 0.55 and -0.10 from memory",
    valid="0.05 to 2 mg/L; S in mg/L, r in g/(m² day)",
    basis="from memory",
)
def half_order_rate(total_ammonia: Concentration, temperature: Temperature) -> ArealRate:
    """Areal rate of a clean film by the half-order relation, no allowance taken.

    >>> round(half_order_rate(0.001, 24.0) * 86400 * 1000, 2)
    0.45
    """
    return (
        _SI
        * half_order(1000.0 * total_ammonia)
        * power(1.043, temperature - 24.0)  # units of the source
    )  # units of the source


@equation(
    latex=r"r = \frac{10^{-3}}{86400} \cdot 0.22 \cdot 1000 \cdot @total_ammonia \cdot "
    r"1.043^{@temperature - 20}",
    source="Kinyage 2019, fresh-water moving bed at low load, 0.22 m/day",
    valid="below about 1 mg/L; S in mg/L, r in g/(m² day)",
    basis="derived",
)
def linear_rate(total_ammonia: Concentration, temperature: Temperature) -> ArealRate:
    """Areal rate of a clean film by the linear relation, no allowance taken.

    >>> round(linear_rate(0.001, 20.0) * 86400 * 1000, 2)
    0.22
    """
    return (
        _SI
        * 0.22
        * 1000.0
        * total_ammonia
        * power(1.043, temperature - 20.0)  # units of the source
    )  # units of the source


@definition(
    "d'",
    "a rate of one's own scales the law, so that what is needed and what is met agree",
    example="derate_for(0.75, 2.0, 1.0) == 1.5",
)
def derate_for(derate: Fraction, areal_rate: ArealRate, law_rate: ArealRate) -> Ratio:
    """Working filter over clean film that gives a rate of one's own where the law gives another."""
    return derate * ratio(areal_rate, law_rate, 1.0)


@definition(
    "x",
    "fitted to a loss of 70 % at carbon over nitrogen 1 to 2, Zhu and Chen 2001",
    valid="0 to 3",
    example="round(organic_factor(1.5), 2) == 0.3",
)
def organic_factor(carbon_to_nitrogen: Ratio) -> Fraction:
    """Share of the rate left when organic carbon comes with the ammonia."""
    return exp(-0.8 * carbon_to_nitrogen)
