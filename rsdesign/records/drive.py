"""What drove the water on each day of a log: feed, water, salt, base and warmth, from its lines."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..core.choices import DesignError
from ..core.unit_table import DAY
from ..equations.biofilter import doses
from ..equations.power.backup import warmth_factor
from ..equations.power.tables import bases
from ..season.crop import FASTING
from ..season.growing_season import YEAR
from ..season.season_numbers import Waterworks, waterworks_of
from ..season.water_course import water_course
from ..sizing.system import Sizing

Log = Any
"""A ``WaterLog``, or anything with its first day, its days, and its values with their ends."""

UNKNOWN_EVAPORATION = 0.2
"""Share of the new water that evaporates where no weather is told; common practice, taken with a wide
range, as a covered indoor tank loses next to nothing."""
MEAN_OF = 7
"""Days before and after over which new water is averaged to tell what of it made up for evaporation."""


@dataclass(frozen=True, slots=True, eq=False)
class Drive:
    """Days x 1, plain units; amounts are those of a whole day."""

    sizing: Sizing
    works: Waterworks
    temperature: np.ndarray
    ph: np.ndarray
    feed: np.ndarray
    """[kg] a day."""
    fasting: np.ndarray
    """Weight that the fish lose on days without feed [kg]."""
    added: np.ndarray | None
    """New water [m³] a day; None where the log does not tell it."""
    evaporation: np.ndarray
    """As the design expects it [m³] a day."""
    salt: np.ndarray
    """Chloride of the salt that was put in [kg] a day."""
    base: np.ndarray | None
    """As calcium carbonate [kg] a day; None where the log does not tell it."""
    known_feed: np.ndarray
    weather: bool
    """Whether the evaporation follows from weather."""

    @property
    def days(self) -> int:
        """How many days."""
        return self.feed.shape[0]

    def longer(self, days: int, without_feed: slice | None = None, salt: float = 0.0) -> "Drive":
        """The same with days behind it that go on as the last week did.

        ``without_feed``: which of the days behind have none; ``salt``: chloride [kg] put in on the first.
        """

        def on(values):
            usual = values[-MEAN_OF:].mean(axis=0, keepdims=True)
            return np.concatenate([values, np.repeat(usual, days, axis=0)])

        names = ("temperature", "ph", "feed", "fasting", "evaporation", "salt")
        more = {name: on(getattr(self, name)) for name in names}
        more |= {n: on(v) for n in ("added", "base") if (v := getattr(self, n)) is not None}
        more["salt"][-days:] = 0.0
        more["salt"][-days] = salt
        if without_feed is not None:
            behind = np.arange(self.days, self.days + days)[without_feed]
            more["fasting"][behind] = _fasting(self.sizing, more["temperature"], more["feed"])[
                behind
            ]
            more["feed"][behind] = 0.0
        known = np.concatenate([self.known_feed, np.ones((days, 1), bool)])
        return replace(self, **more, known_feed=known)


def drive_of(log: Log, sizing: Sizing) -> Drive:
    """What drove the water, day by day.

    Parameters:
        log: the ``WaterLog``.
        sizing: of the design.
    Returns: ``Drive``, from the first line of the log to its last.
    Raises: ``DesignError`` where no feed is told.
    """
    count = int(np.floor(log.days[-1])) + 1
    amounts = {name: _by_day(log, name, count) for name in ("feed", "water_added", "salt", "base")}
    feed, known = amounts["feed"]
    if not known.any():
        raise DesignError(
            "The log tells no feed. Feed is what loads the water, so nothing can be tuned; write down what"
            " you feed each day."
        )
    days = np.arange(count)
    feed = np.interp(days, days[known], feed[known])
    design = sizing.design
    temperature = _course(log, "temperature", count, float(design.site.water_temperature))
    evaporation, weather = _evaporation(sizing, log, count)
    added = amounts["water_added"][0] if amounts["water_added"][1].any() else None
    if not weather and added is not None:
        evaporation = np.full(count, UNKNOWN_EVAPORATION * added.mean())
    strength = next(b.strength for b in bases() if b.name == design.makeup.base)
    base = strength * amounts["base"][0] if amounts["base"][1].any() else None
    column = _column
    return Drive(
        sizing=sizing,
        works=waterworks_of(sizing),
        temperature=column(temperature),
        ph=column(_course(log, "ph", count, float(sizing.gas.ph))),
        feed=column(feed),
        fasting=np.where(column(feed) > 0.0, 0.0, _fasting(sizing, column(temperature), column(feed))),
        added=None if added is None else column(added),
        evaporation=column(evaporation),
        salt=column(amounts["salt"][0] / doses.salt_for_chloride.__wrapped__(1.0)),
        base=None if base is None else column(base),
        known_feed=column(known),
        weather=weather,
    )  # fmt: skip


def _column(values) -> np.ndarray:
    return np.asarray(values)[:, None]


def _by_day(log: Log, name: str, count: int) -> tuple[np.ndarray, np.ndarray]:
    """What was given on each day, and which days are told: an amount stands for the days since the line before."""
    total, known = np.zeros(count), np.zeros(count, bool)
    values = log.values.get(name)
    if values is None:
        return total, known
    before = -1
    for time, value in zip(log.days, values, strict=True):
        day = int(np.floor(time))
        if np.isfinite(value):
            span = slice(min(before + 1, day), day + 1)
            total[span] += value / (span.stop - span.start)
            known[span] = True
        before = day
    return total, known


def _course(log: Log, name: str, count: int, else_value: float) -> np.ndarray:
    """A value of each day, along straight lines between readings; that of the design where none is."""
    values = log.values.get(name)
    there = np.zeros(0, bool) if values is None else np.isfinite(values)
    if values is None or not there.any():
        return np.full(count, else_value)
    return np.interp(np.arange(count) + 0.5, log.days[there], values[there])


def _evaporation(sizing: Sizing, log: Log, count: int) -> tuple[np.ndarray, bool]:
    """Water that evaporates on each day [m³] by the weather of the design, and whether it tells any."""
    whole = water_course(sizing)
    place = min(log.first_day.timetuple().tm_yday, YEAR) - 1
    return whole.days(place, count).evaporation[:, 0] * DAY, whole.basis != "told"


def _fasting(sizing: Sizing, temperature: np.ndarray, feed: np.ndarray) -> np.ndarray:
    """Weight that fish lose on a day without feed [kg].

    How many fish there are is read off what they eat on other days, at the share of their weight that the
    design feeds at its peak; the ammonia of a fast is a seventh of that of feeding, so this may be rough.
    """
    share = float(np.max(sizing.stock.peak_feed / sizing.stock.peak_biomass)) * DAY
    fish = feed[feed > 0.0].mean() / share if (feed > 0.0).any() else 0.0
    design = sizing.design
    warmth = warmth_factor.__wrapped__(
        temperature, design.site.water_temperature, design.safety.per_ten
    )
    return fish * FASTING * DAY * warmth
