"""Figures that are shown with their range: the minutes to act and the base, the same words everywhere."""

from ..core.kinds import KINDS
from ..core.units import show

MINUTES = ("standby.minutes_peak", "standby.minutes_low", "standby.minutes_high")
"""The headline of the minutes and the ends of its range, as figures of a sizing."""


def banded(value: str, low: str, high: str) -> str:
    """A value with its range in words; every number keeps its unit.

    >>> banded("12.9 min", "9.42 min", "18.2 min")
    '12.9 min (9.42 min to 18.2 min)'
    """
    return f"{value} ({low} to {high})"


def minutes_to_act(sizing, system: str) -> str:
    """The one answer to "how long do the fish have?", with its range."""
    s, kind = sizing.standby, KINDS["minutes"]
    return banded(
        *(show(float(t), kind, system) for t in (s.minutes_peak, s.minutes_low, s.minutes_high))
    )


def baking_soda(sizing, system: str) -> str:
    """Baking soda a day on the biggest feed day: the textbook use, and the band from net to that."""
    w, kind = sizing.water, KINDS["chemical dose"]
    book, net = (show(float(x), kind, system) for x in (w.bicarbonate_book, w.bicarbonate_net))
    return banded(book, net, book)
