"""Sizes as a builder reads them off a tape, and levels over the datum."""

import re

from ....core.kinds import KINDS
from ....core.units import feet_and_inches, show


def size_words(meters: float, system: str) -> str:
    """A length on a drawing: feet and inches to the quarter inch, or whole millimeters.

    >>> size_words(0.8128, "us"), size_words(0.8128, "metric"), size_words(-0.1, "metric")
    ('2 ft 8 in', '813 mm', '-100 mm')
    >>> size_words(0.00635, "us")
    '1/4 in'
    """
    sign = "-" if meters < 0 else ""
    long = round(abs(meters), 9)  # so that a half of a quarter inch is always rounded the same way
    if system == "us":
        words = re.sub(r"^0 (?=\d/)", "", feet_and_inches(long))
        return words if words == "0 ft" else sign + words
    millimeters = round(long * 1000)
    words = show(millimeters / 1000, KINDS["pipe diameter"], "metric", 9)
    return words if not millimeters else sign + words


def level_words(meters: float, system: str) -> str:
    """A height over the datum, with its sign.

    >>> level_words(0.8128, "us"), level_words(-0.61, "metric"), level_words(0.0, "metric")
    ('+2 ft 8 in', '-610 mm', '±0')
    """
    words = size_words(meters, system)
    if words.lstrip("-") in ("0 ft", "0 mm"):
        return "±0"
    return words if words.startswith("-") else f"+{words}"
