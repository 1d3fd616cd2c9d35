"""Meals as people tell them: hours of the day, and how the feed is shared among them."""

import re

import numpy as np

from ..core.choices import DesignError
from ..core.typed_numbers import clipped

MOST = 96
"""Most meals in a day: one a quarter of an hour, as a feeder gives."""

_CLOCK = re.compile(r"(\d{1,2})(?::(\d{2}))?(?:\s*(am|pm|h))?", re.ASCII | re.IGNORECASE)

HOW = "Write hours from 0:00 to 23:59, such as 8:00, 12:00, 16:00."


def clock(hour: float) -> str:
    """An hour as a clock shows it.

    >>> clock(17.75), clock(8)
    ('17:45', '8:00')
    """
    minutes = round(float(hour) * 60) % 1440
    return f"{minutes // 60}:{minutes % 60:02d}"


def meal_hours(meals) -> list[float]:
    """Hours after midnight of meals that are told as text or as numbers, in order.

    Parameters:
        meals: a text such as ``"8:00, 12:30, 5 pm"``, or a list of texts or of hours [h].
    Returns: the hours.
    Raises: ``DesignError`` with one sentence.

    >>> meal_hours("8:00, 12:30, 5 pm"), meal_hours([16, 8])
    ([8.0, 12.5, 17.0], [8.0, 16.0])
    """
    if isinstance(meals, str):
        told = [part for part in re.split(r"[,;]", meals) if part.strip()]
    elif isinstance(meals, (int, float)):
        told = [meals]
    else:
        told = list(meals)
    if not told:
        raise DesignError(f"No meal is told. {HOW}")
    if len(told) > MOST:
        raise DesignError(f"{len(told)} meals are too many; give 1 to {MOST} in a day.")
    hours = sorted(_hour(one) for one in told)
    if len(set(hours)) < len(hours):
        raise DesignError("Two meals stand at the same hour; tell each hour once.")
    return hours


def _hour(told) -> float:
    """One meal as hours after midnight."""
    if isinstance(told, str):
        found = _CLOCK.fullmatch(told.strip())
        if found:
            whole, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "").lower()
            twelve = half in ("am", "pm")
            if minute < 60 and (1 <= whole <= 12 if twelve else whole < 24):
                whole = whole % 12 + 12 * (half == "pm") if twelve else whole
                return whole + minute / 60.0
    elif isinstance(told, (int, float, np.number)) and 0.0 <= told < 24.0:
        return float(told)
    raise DesignError(f"A meal at {clipped(told)} is no hour of the day. {HOW}")


def meal_shares(shares, count: int) -> list[float]:
    """Share of the day's feed in each of so many meals; all alike where none are told.

    Parameters:
        shares: numbers that add up to 1, or None.
        count: number of meals.
    Returns: the shares.
    Raises: ``DesignError`` with one sentence.

    >>> meal_shares(None, 2), meal_shares([0.25, 0.75], 2)
    ([0.5, 0.5], [0.25, 0.75])
    """
    if shares is None:
        return [1.0 / count] * count
    try:
        parts = np.asarray(list(shares), float)
    except (TypeError, ValueError):
        parts = np.full(1, np.nan)
    if parts.shape != (count,) or not np.all(parts >= 0.0) or abs(parts.sum() - 1.0) > 1e-6:
        raise DesignError(
            f"Shares of the feed are {count} numbers from 0 up, one for each meal, that add up to 1."
        )
    return parts.tolist()
