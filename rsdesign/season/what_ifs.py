"""What may go wrong in a season, or be done otherwise: named, with its day.

A what-if changes some days: what is fed, how warm the water is, what is left of the filter, or for
how long its pump stands still.  They are gathered into arrays, a value for each day.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches

import numpy as np

from ..core.choices import DesignError
from ..core.units import clipped

HOURS = 24.0


@dataclass(frozen=True, slots=True)
class Kind:
    """What is known of one kind of what-if."""

    words: str
    days: int
    """Days that it lasts where they are not told."""
    most_days: int
    amount: str
    """What its amount means; empty where it has none."""
    usual: float | None = None
    """The amount where it is not told; None where the design gives it."""
    low: float = 0.0
    high: float = 1.0


KINDS = {
    "skip feeding": Kind("no feed is given", 1, 60, ""),
    "double feed": Kind("more feed is given than the fish ask for", 1, 60, "times the feed of the day", 2.0, 0.0, 5.0),
    "half the filter": Kind("media and their bacteria are lost", 1, 1, "share of the filter that is left", 0.5),
    "chlorine slip": Kind("chlorine kills bacteria", 1, 1, "share of the bacteria killed", 0.9, 0.0, 0.9999),
    "heat wave": Kind("the water is warmer", 7, 60, "degrees warmer, K", None, 0.0, 15.0),
    "cold snap": Kind("the water is colder", 7, 60, "degrees colder, K", None, 0.0, 25.0),
    "pump off": Kind("no water passes the filter", 1, 1, "hours", 6.0, 0.0, 24.0),
}  # fmt: skip
"""Every kind of what-if by its name."""


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One what-if: its kind, its day of the season, how long, and how much.

    ``day`` counts from 1, the day of stocking.  ``days`` and ``amount`` may be left out.
    """

    name: str
    day: int
    days: int | None = None
    amount: float | None = None

    def __post_init__(self) -> None:
        known = KINDS.get(self.name)
        if known is None:
            near = get_close_matches(str(self.name), KINDS, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise DesignError(
                f"{clipped(str(self.name))} is not a what-if.{hint} There are: {', '.join(KINDS)}."
            )
        _whole(f"The day of {self.name}", self.day, 1, 3650)
        if self.days is not None:
            _whole(f"The days of {self.name}", self.days, 1, known.most_days)
        if self.amount is not None:
            if not known.amount:
                raise DesignError(f"{self.name} takes no amount; leave {self.amount:g} out.")
            if not known.low <= self.amount <= known.high:
                raise DesignError(
                    f"The amount of {self.name} ({known.amount}) is {self.amount:g}; choose from"
                    f" {known.low:g} to {known.high:g}."
                )

    @property
    def last(self) -> int:
        """Its last day."""
        return self.day + (self.days or KINDS[self.name].days) - 1


def _whole(words: str, value, low: int, high: int) -> None:
    if (
        isinstance(value, bool)
        or not isinstance(value, (int, np.integer))
        or not low <= value <= high
    ):
        raise DesignError(
            f"{words} is {clipped(str(value))}; write a whole number from {low} to {high}."
        )


def read_what_if(text: str) -> WhatIf:
    """A what-if as it is typed: name, day, and where wanted days and amount, between colons.

    Parameters:
        text: such as ``"chlorine slip:60"`` or ``"heat wave:90:7:4"``; an empty place is left out.
    Returns: the ``WhatIf``.
    Raises: ``DesignError`` with one sentence that says what to write.

    >>> read_what_if("half the filter:60::0.4").amount
    0.4
    """
    name, *rest = (part.strip() for part in text.split(":"))
    if not 1 <= len(rest) <= 3:
        raise DesignError(
            f"The what-if {clipped(text)} cannot be read; write its name and its day, such as"
            " 'chlorine slip:60', and where wanted days and amount, such as 'heat wave:90:7:4'."
        )
    try:
        day = int(rest[0])
        days = int(rest[1]) if len(rest) > 1 and rest[1] else None
        amount = float(rest[2]) if len(rest) > 2 and rest[2] else None
    except ValueError:
        raise DesignError(
            f"The what-if {clipped(text)} holds something that is not a number; write it such as"
            " 'heat wave:90:7:4': name, day, days, amount."
        ) from None
    return WhatIf(name.lower(), day, days, amount)


def as_what_ifs(given: Iterable) -> tuple[WhatIf, ...]:
    """What-ifs as they may be given: ``WhatIf``, text, or (name, day, ...)."""
    if isinstance(given, (str, WhatIf)):
        given = [given]
    found = []
    for one in given:
        if isinstance(one, WhatIf):
            found.append(one)
        elif isinstance(one, str):
            found.append(read_what_if(one))
        else:
            try:
                found.append(WhatIf(**one) if isinstance(one, dict) else WhatIf(*one))
            except TypeError:
                raise DesignError(
                    f"The what-if {clipped(str(one))} cannot be read; give its name and its day, such"
                    " as ('chlorine slip', 60)."
                ) from None
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class Changes:
    """What the what-ifs change, a value for each day; days x 1, or days x designs."""

    feed: np.ndarray
    """Feed given over what the fish ask for."""
    warmer: np.ndarray
    """Degrees by which the water is warmer [K]."""
    media_left: np.ndarray
    """Share of the filter that is left on the morning of the day."""
    killed: np.ndarray
    """Share of the bacteria that is killed on that morning."""
    still: np.ndarray
    """Share of the day in which no water passes the filter, from its start."""
    events: list[tuple[int, str]] = field(default_factory=list)


def changes(what_ifs: Iterable[WhatIf], days: int, hot_spell=4.0, cold_spell=4.0) -> Changes:
    """The what-ifs as arrays over the days of a season.

    Parameters:
        what_ifs: each a ``WhatIf``.
        days: of the season; a what-if after its end raises ``DesignError``.
        hot_spell, cold_spell: degrees [K] of a heat wave and a cold snap where they are not told.
    Returns: ``Changes``.

    >>> changes([WhatIf("skip feeding", 2)], 3).feed[:, 0].tolist()
    [1.0, 0.0, 1.0]
    """
    one, none = np.ones((days, 1)), np.zeros((days, 1))
    feed, warmer, left, killed, still = (
        one.copy(),
        none.copy(),
        one.copy(),
        none.copy(),
        none.copy(),
    )
    events = []
    for what in what_ifs:
        if what.day > days:
            raise DesignError(
                f"{what.name} is on day {what.day}, after the last day of the season; choose a day"
                f" from 1 to {days}."
            )
        span, known = slice(what.day - 1, what.last), KINDS[what.name]
        told = known.usual if what.amount is None else what.amount
        amount = 0.0 if told is None else told
        if what.name == "skip feeding":
            feed[span] = 0.0
        elif what.name == "double feed":
            feed[span] *= amount
        elif what.name == "half the filter":
            left[span] *= amount
        elif what.name == "chlorine slip":
            killed[span] = 1.0 - (1.0 - killed[span]) * (1.0 - amount)
        elif what.name == "pump off":
            still[span] = np.maximum(still[span], amount / HOURS)
        else:
            usual = hot_spell if what.name == "heat wave" else -cold_spell
            sign = 1.0 if what.name == "heat wave" else -1.0
            warmer[span] += usual if told is None else sign * told
        events.append((what.day, f"{what.name}: {known.words}"))
    return Changes(feed, warmer, left, killed, still, events)
