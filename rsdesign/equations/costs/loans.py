"""Loans: the equal payment, and the schedule with payments rounded to the cent."""

from dataclasses import dataclass

import numpy as np

from ...core.equation import equation
from ...core.kinds import Fraction, Money, Years


@equation(
    latex=r"p = \frac{@principal \cdot @rate / @per_year}{1 - (1 + @rate / @per_year)^{-@years "
    r"\cdot @per_year}}",
    source="Dahlquist & Knight 2022, Principles of Finance (OpenStax), section 8.3",
    valid="a nominal rate; at no interest the sum in equal parts",
)
def loan_payment(principal: Money, rate: Fraction, years: Years, per_year: float = 12.0) -> Money:
    """Equal payment that repays a loan.

    ``rate`` is the nominal rate a year.

    >>> round(loan_payment(32000.0, 0.06, 3.0), 2)
    973.5
    """
    number = years * per_year
    each = rate / per_year
    left = -np.expm1(-number * np.log1p(each))
    with np.errstate(divide="ignore", invalid="ignore"):
        found = np.where(np.abs(left) < 1e-12, principal / number, principal * each / left)
    return found if found.ndim else float(found)


@dataclass(frozen=True, slots=True)
class Instalment:
    """One line of a schedule, in cents kept whole: what is paid and what is still owed."""

    number: int
    payment: float
    interest: float
    principal: float
    balance: float


def schedule(principal: float, rate: float, years: float, per_year: int = 12) -> list[Instalment]:
    """Every payment of a loan, rounded to the cent; the last one clears what rounding left.

    Source of the form: Dahlquist & Knight 2022, section 8.3.

    >>> lines = schedule(32000, 0.06, 3)
    >>> lines[0].interest, lines[0].principal, lines[-1].balance
    (160.0, 813.5, 0.0)
    """
    number = round(years * per_year)
    payment = round(loan_payment(float(principal), rate, number / per_year, per_year), 2)
    lines, balance = [], round(float(principal), 2)
    for place in range(1, number + 1):
        interest = round(balance * rate / per_year, 2)
        paid = round(balance + interest, 2) if place == number else payment
        part = round(paid - interest, 2)
        balance = round(balance - part, 2)
        lines.append(Instalment(place, paid, interest, part, balance))
    return lines
