"""A day of the calendar as it is told, of years that a calculation may count on from."""

import datetime

from .choices import DesignError
from .units import clipped

FIRST_YEAR, LAST_YEAR = 1950, 2200
"""Years in which a told day may lie: a wider one is a slip of the hand, and a calendar ends in 9999."""


def read_day(told: str | datetime.date) -> datetime.date:
    """A day as text, such as "2027-03-15", or as a date.  Raises ``DesignError`` with one sentence.

    >>> read_day("2027-03-15")
    datetime.date(2027, 3, 15)
    """
    if isinstance(told, datetime.datetime):
        told = told.date()
    try:
        day = told if isinstance(told, datetime.date) else datetime.date.fromisoformat(told)
    except ValueError:
        raise DesignError(
            f"{clipped(told)} is not a date; write year-month-day, such as 2027-03-15."
        ) from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise DesignError(
            f"{clipped(str(told))} lies outside the years {FIRST_YEAR} to {LAST_YEAR}; look at the year."
        )
    return day
