"""Dates and hours as people write them."""

import datetime
import re
from collections.abc import Iterable

from ..core.days import FIRST_YEAR, LAST_YEAR
from ..core.unit_words import plain

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
SPANISH = {"ene": "jan", "abr": "apr", "ago": "aug", "dic": "dec"}
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t ](\d{1,2}:\d{2})(?::\d{2})?)?")
_SHORT = re.compile(r"(\d{1,2})([-/.])(\d{1,2})[-/.](\d{4}|\d{2})")
_NAMED = (
    re.compile(
        r"(?P<day>\d{1,2})[-. ]*(?:de )?(?P<month>[a-z]{3,10})[-., ]*(?:de )?(?P<year>\d{4}|\d{2})"
    ),
    re.compile(
        r"(?P<month>[a-z]{3,10})[-. ]*(?P<day>\d{1,2})(?:st|nd|rd|th)?[-., ]+(?P<year>\d{4}|\d{2})"
    ),
)
_HOUR = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?(?::\d{2})?\s*([ap])?\.?\s?(?:m\.?)?")


class DateError(ValueError):
    """A date or an hour that cannot be read, as the end of a sentence."""


def order_of(texts: Iterable[str]) -> str | None:
    """Which comes first in dates such as 4/15/2027: "month", "day", or None where both are found.

    Parameters:
        texts: all dates of a log as typed.
    Returns: "month" also where nothing decides, as dates are written in the United States.

    >>> order_of(["4/5/2027", "4/15/2027"]), order_of(["5/4/2027", "15/4/2027"]), order_of(["4/5/2027"])
    ('month', 'day', 'month')
    """
    first, second = set(), set()
    for text in texts:
        found = _SHORT.fullmatch(plain(text))
        if found and found[2] == "/":
            first.add(int(found[1]) > 12)
            second.add(int(found[3]) > 12)
    if True in first and True in second:
        return None
    return "day" if True in first else "month"


def decided(texts: Iterable[str]) -> bool:
    """Whether some date shows which number is the month, or none is written in that way."""
    pairs = [_SHORT.fullmatch(plain(text)) for text in texts]
    slashed = [(int(p[1]), int(p[3])) for p in pairs if p and p[2] == "/"]
    return not slashed or any(max(pair) > 12 for pair in slashed)


def read_date(text: str, order: str | None) -> tuple[datetime.date, str]:
    """A date as typed, and an hour written beside it.  Raises ``DateError``.

    Parameters:
        text: such as ``"2027-04-15"``, ``"4/15/2027"``, ``"15.4.2027"`` or ``"15 Apr 2027"``.
        order: what ``order_of`` gave.

    >>> read_date("15.4.2027", "month")[0].isoformat(), read_date("April 15, 2027", None)[0].isoformat()
    ('2027-04-15', '2027-04-15')
    """
    found = plain(text)
    iso = _ISO.fullmatch(found)
    if iso:
        return _day(int(iso[1]), int(iso[2]), int(iso[3])), iso[4] or ""
    short = _SHORT.fullmatch(found)
    if short:
        return _short(short, order), ""
    for pattern in _NAMED:
        named = pattern.fullmatch(found)
        if named:
            month = SPANISH.get(named["month"][:3], named["month"][:3])
            if month in MONTHS:
                return _day(_year(named["year"]), MONTHS.index(month) + 1, int(named["day"])), ""
    raise DateError("is no date; write year-month-day, such as 2027-04-15")


def _short(found, order: str | None) -> datetime.date:
    first, last, year = int(found[1]), int(found[3]), _year(found[4])
    if found[2] == "." or first > 12:
        return _day(year, last, first)
    if last > 12 or order == "month":
        return _day(year, first, last)
    if order == "day" or first == last:
        return _day(year, last, first)
    raise DateError(
        "may be two dates, as other lines write the day first and the month first; write year-month-day"
    )


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _day(year: int, month: int, day: int) -> datetime.date:
    try:
        found = datetime.date(year, month, day)
    except ValueError:
        raise DateError(
            "is no day of the calendar; write year-month-day, such as 2027-04-15"
        ) from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise DateError(f"lies outside the years {FIRST_YEAR} to {LAST_YEAR}; look at the year")
    return found


def read_hour(text: str) -> float:
    """An hour of the day as typed, as a share of the day.  Raises ``DateError``.

    >>> read_hour("7:30"), read_hour("6 pm"), read_hour("0730")
    (0.3125, 0.75, 0.3125)
    """
    found = plain(text)
    packed = re.fullmatch(r"(\d{2})(\d{2})", found)
    match = packed or _HOUR.fullmatch(found)
    if not match:
        raise DateError("is no time of day; write such as 7:30 or 18:05")
    hour, minute = int(match[1]), int(match[2] or 0)
    half = None if packed else match[3]
    if (half and not 1 <= hour <= 12) or hour > 23 or minute > 59:
        raise DateError("is no time of day; write such as 7:30 or 18:05")
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    return (hour + minute / 60.0) / 24.0
