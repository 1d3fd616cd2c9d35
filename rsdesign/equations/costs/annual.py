"""Cost for each year of life: straight line, with interest, salvage; present value; real rates.

Money is in the design's currency, lives are in years, rates are fractions a year.  A rate is
either real (prices held still) or nominal (as a bank states it); never put one beside prices of
the other kind.
"""

import numpy as np

from ...core.equation import definition, equation
from ...core.kinds import Fraction, Money, Years
from .loans import loan_payment
from .returns import internal_rate

OPENSTAX = "Dahlquist & Knight 2022, Principles of Finance (OpenStax)"
ENGINEERING = "Blank & Tarquin, Engineering Economy"


@definition(
    "C",
    f"{OPENSTAX}, section 4.3",
    valid="life above zero; freight and setting up belong in the cost",
    basis="seen",
    example="straight_line(58000.0, 5.0, 10000.0) == 9600.0",
)
def straight_line(cost: Money, life: Years, salvage: Money = 0.0) -> Money:
    """Cost for each year, the loss of value shared out evenly."""
    return (cost - salvage) / life


@equation(
    latex=r"f = \frac{@rate \cdot (1 + @rate)^{@life}}{(1 + @rate)^{@life} - 1}",
    source=f"{ENGINEERING}, ch. 2",
    valid="rate above -1; at no interest 1/life",
)
def capital_recovery(rate: Fraction, life: Years) -> Fraction:
    """Share of a price that repays it with interest in equal years.

    >>> round(capital_recovery(0.10, 15.0), 5)
    0.13147
    """
    grown = np.expm1(life * np.log1p(rate))
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = rate * (1.0 + grown) / grown
    small = np.abs(np.asarray(rate) * life) < 1e-9  # below this the ratio is 1/life to 1e-9
    found = np.where(small, 1.0 / np.asarray(life, float) * (1.0 + rate * (life + 1) / 2), factor)
    return found if found.ndim else float(found)


@equation(
    latex=r"f = \frac{@rate}{(1 + @rate)^{@life} - 1}",
    source=f"{ENGINEERING}, ch. 2",
    valid="rate above -1",
)
def sinking_fund(rate: Fraction, life: Years) -> Fraction:
    """Share of a later sum that saves it up with interest in equal years.

    >>> round(sinking_fund(0.10, 5.0), 4)
    0.1638
    """
    return capital_recovery(rate, life) - rate


@equation(
    latex=r"C = (@cost - @salvage) \cdot \frac{@rate \cdot (1 + @rate)^{@life}}{(1 + @rate)^{@life} - 1} + "
    r"@salvage \cdot @rate",
    source=f"{ENGINEERING}, ch. 6, capital recovery with salvage",
    valid="rate above -1, life above zero",
)
def equivalent_annual(cost: Money, life: Years, rate: Fraction, salvage: Money = 0.0) -> Money:
    """Equal cost a year that is worth the price less the salvage, with interest.

    Things of unequal life compare by it, each bought again at its end.

    >>> round(equivalent_annual(100000.0, 15.0, 0.10, 20000.0), 1)
    12517.9
    """
    return (cost - salvage) * capital_recovery(rate, life) + salvage * rate


@definition(
    "r",
    "Fisher 1930, The Theory of Interest",
    valid="inflation above -1",
    basis="seen",
    example="round(real_rate(0.08, 0.03), 6) == 0.048544",
)
def real_rate(nominal: Fraction, inflation: Fraction) -> Fraction:
    """Interest with prices held still."""
    return (1.0 + nominal) / (1.0 + inflation) - 1.0


@definition(
    "r",
    "Iowa State University Extension, Estimating Farm Machinery Costs (A3-29)",
    valid="small rates; 3 % above the exact one at 8 and 3 percent",
    basis="seen",
    example="round(real_rate_rough(0.08, 0.03), 6) == 0.05",
)
def real_rate_rough(nominal: Fraction, inflation: Fraction) -> Fraction:
    """Interest with prices held still, as bulletins take it."""
    return nominal - inflation


@equation(
    latex=r"r = (1 + \frac{@nominal}{@per_year})^{@per_year} - 1",
    source=f"{OPENSTAX}, section 8.3",
    valid="a stated rate added so many times a year",
)
def effective_rate(nominal: Fraction, per_year: float) -> Fraction:
    """What a rate stated for a year comes to when interest is added several times.

    >>> round(effective_rate(0.12, 12.0), 6)
    0.126825
    """
    return (1.0 + nominal / per_year) ** per_year - 1.0


def present_value(rate, flows):
    """Worth today of yearly flows, the first of them now and not discounted.

    ``flows``: years along the last axis; ``rate`` a fraction, or an array that broadcasts with the
    other axes.  Source: Dahlquist & Knight 2022, Principles of Finance, section 16.2.

    >>> round(present_value(0.09, [-16000, 2000, 4000, 5000, 5000, 5000, 5000]), 2)
    2835.62
    """
    flows = np.asarray(flows, float)
    years = np.arange(flows.shape[-1])
    found = (flows / (1.0 + np.asarray(rate, float)[..., None]) ** years).sum(axis=-1)
    return found if found.ndim else float(found)


@equation(
    latex=r"B = @cost - \frac{@cost - @salvage}{@life} @age",
    source=f"{OPENSTAX}, section 4.3",
    valid="age up to the life",
)
def book_value(cost: Money, life: Years, age: Years, salvage: Money = 0.0) -> Money:
    """What a thing stands at in the books, straight line.

    >>> book_value(58000.0, 5.0, 1.0, 10000.0)
    48400.0
    """
    return cost - (cost - salvage) / life * age


@equation(
    latex=r"C = \frac{@cost - @salvage}{@total_units} @units",
    source=f"{OPENSTAX}, section 4.3",
    valid="a life counted in units, such as running hours",
)
def units_of_production(
    cost: Money, total_units: float, units: float, salvage: Money = 0.0
) -> Money:
    """Loss of value by use, for a pump or a blower whose life is in hours.

    >>> units_of_production(58000.0, 960000.0, 180000.0, 10000.0)
    9000.0
    """
    return (cost - salvage) / total_units * units


def declining_balance(cost, life, salvage=0.0, times=2.0) -> list[float]:
    """Loss of value in each year of the life, a fixed share of what is left, never under salvage.

    Source: Dahlquist & Knight 2022, section 4.3.

    >>> [round(x, 2) for x in declining_balance(58000, 5, 10000)]
    [23200.0, 13920.0, 8352.0, 2528.0, 0.0]
    """
    value, lost = float(cost), []
    for _ in range(int(life)):
        loss = min(value * times / life, max(value - salvage, 0.0))
        lost.append(loss)
        value -= loss
    return lost


__all__ = [
    "book_value", "capital_recovery", "declining_balance", "effective_rate", "equivalent_annual",
    "internal_rate", "loan_payment", "present_value", "real_rate", "real_rate_rough",
    "sinking_fund", "straight_line", "units_of_production",
]  # fmt: skip
