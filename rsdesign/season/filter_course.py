"""The filter through a season: ammonia, nitrite and nitrate of each day.

A step is implicit and never goes below zero: bacteria take ammonia as far as they are many enough,
and the film of the sizing lets them (the smaller of both).  On an even day a few steps are enough; when
a level moves, or something happened to the filter, the day is cut into hours.  Against steps of a
quarter hour nitrite is within 4 % and ammonia within 2 % on every day of three seasons.  New water goes in
between the steps, exactly.  Every kilogram of nitrogen that enters is counted where it leaves.
"""

from dataclasses import dataclass
from math import sqrt as root_of
from typing import Any

import numpy as np

from ..core.arrays import exp, least, most, sqrt, where
from ..core.unit_table import DAY
from .film_curve import film
from .film_search import FilmStep

Numbers = Any  # a float or an array, one number for each design

HOURS = 24
"""Steps of a day on which a level moves."""
EVEN = 6
"""Steps of a day on which none does; with a single one nitrite was up to 19 % off."""
QUICK_HOURS, QUICK_EVEN = 8, 2
"""The same where a course may be about right: no level of three seasons is off by 4 % of its highest."""
MOVES = 0.1
"""Change of a level over a day, relative, beyond which the next day is cut into hours."""
AFTER = 4
"""Days for which hours are kept after the last move: a level that turns stands still for a while."""
LITTLE = 1e-4
"""Level [kg/m³], 0.1 mg/L, below which a change does not count."""


START, MOST_AT_START, LONG = 3e-4, 1e-2, 100.0 * DAY
"""Level [kg/m³] from which the film's rest is sought, the most that it starts from, and a time [s] so
long that a step ends at rest."""


@dataclass(frozen=True, slots=True, eq=False)
class Colony:
    """One kind of bacteria on each day: days x designs, [1/s]; yield and half level one number.

    ``speed``: nitrogen taken at most, for each mass of bacteria; ``decay``; ``yields``: bacteria
    made of nitrogen; ``half``: level [kg/m³] at half speed.
    """

    speed: np.ndarray
    decay: np.ndarray
    yields: float
    half: float


@dataclass(frozen=True, slots=True, eq=False)
class Day:
    """What a filter meets on each day, days x designs."""

    load: np.ndarray
    """Ammonia nitrogen for the bacteria, over the water [kg/(m³ s)]."""
    nitrate: np.ndarray
    """Nitrate nitrogen that comes from elsewhere, likewise."""
    uptake: np.ndarray
    """Nitrate nitrogen that plants could take, likewise."""
    out: np.ndarray
    """Water that leaves as a liquid, over the water [1/s]."""
    area: np.ndarray
    """Media over water, scaled to the day [1/m]."""
    killed: np.ndarray
    still: np.ndarray
    left: np.ndarray
    """Share of the bacteria that is left after media were lost on that morning."""


@dataclass(frozen=True, slots=True, eq=False)
class Levels:
    """Levels at the end of each day [kg/m³], and what the day did [kg/m³ of water]: days x designs."""

    ammonia: np.ndarray
    nitrite: np.ndarray
    nitrate: np.ndarray
    most_ammonia: np.ndarray
    most_nitrite: np.ndarray
    nitrified: np.ndarray
    drained: np.ndarray
    """Nitrogen that left with the water."""
    plants: np.ndarray
    ammonia_bacteria: np.ndarray
    nitrite_bacteria: np.ndarray
    start: np.ndarray
    """Ammonia and nitrite before the first day, one for each design."""


def course(
    day: Day,
    colonies: tuple[Colony, Colony],
    turnover,
    cap,
    mixed: bool,
    nitrate,
    ripe_for: float = 0.0,
    quick: bool = False,
) -> Levels:
    """The filter through the days, ripe for the load of the first, and for ``ripe_for`` at least.

    Parameters:
        day: what it meets.
        colonies: bacteria that take ammonia and bacteria that take nitrite.
        turnover: flow over water [1/s].
        cap: level [kg/m³] beyond which the film takes no more, for want of oxygen.
        mixed: a mixed bed, else plug flow.
        nitrate: level at the start [kg/m³].
        ripe_for: ammonia nitrogen over the water [kg/(m³ s)] for which the filter was made ripe.
        quick: about right, in a third of the time.
    Returns: ``Levels``.
    """
    days, count = day.load.shape
    one = count == 1
    rows = _rows(day, colonies, one)
    flow = most(_plain(turnover, one), 1e-9)
    runner = _Filter(colonies, flow, _plain(cap, one) + 0.0, mixed, rows[0], _plain(nitrate, one),
                     _plain(day.load.mean(axis=0), one), ripe_for)  # fmt: skip
    runner.steps = (QUICK_EVEN, QUICK_HOURS) if quick else (EVEN, HOURS)
    start = np.asarray(runner.ammonia + runner.nitrite) + np.zeros(count)
    found = [runner.day(*row) for row in rows]
    whole = np.array(found, float).reshape(days, -1, count)
    names = [name for name in Levels.__dataclass_fields__ if name != "start"]
    by_name = {name: whole[:, k] for k, name in enumerate(names)}
    return Levels(**by_name, start=start)


def _plain(value, one: bool):
    return float(np.ravel(value)[0]) if one else np.asarray(value, float)


def _rows(day: Day, colonies, one: bool) -> list:
    """What each day needs, as plain floats for one design, as arrays for many."""
    arrays = [getattr(day, name) for name in Day.__dataclass_fields__]
    arrays += [a for colony in colonies for a in (colony.speed, colony.decay)]
    shape = day.load.shape
    arrays = [np.broadcast_to(a, shape) for a in arrays]
    if one:
        return list(zip(*(a[:, 0].tolist() for a in arrays), strict=True))
    return list(zip(*arrays, strict=True))


class _Filter:
    """The state of a filter, and a day of it."""

    def __init__(self, colonies, turnover, cap, mixed, first, nitrate, usual, ripe_for) -> None:
        self.kinds, self.turnover, self.mixed = colonies, turnover, mixed
        self.curve = film()
        self.top = self.curve.top(cap)
        load, area = first[0], first[4]
        self.outlet = 0.0 * load
        self.nitrate = nitrate + 0.0 * load
        eaters, takers = colonies
        ripe_for = most(load, ripe_for + 0.0 * load)
        self.eaters = eaters.yields * ripe_for / first[9]  # ripe: what grows is what decays
        self.takers = takers.yields * ripe_for / first[11]
        self.ammonia = _at_rest(eaters.half, first[8] * self.eaters, load)
        self.nitrite = _at_rest(takers.half, first[10] * self.takers, load)
        self.before = (self.eaters, self.takers)
        self.alert, self.steps = AFTER, (EVEN, HOURS)
        self.moving, self.load, self.usual = True, load, usual
        if np.any(np.asarray(area) > 0.0):
            self.outlet = START + 0.0 * load
            rest = self._film(LONG, area)
            for _ in range(3):
                level, self.outlet = rest.limited(0.0 * load, LONG * load, self.outlet)
            self.ammonia = most(self.ammonia, least(level, MOST_AT_START + 0.0 * level))

    def _film(self, seconds, area) -> FilmStep:
        return FilmStep(self.curve, seconds, area, self.turnover, self.top, self.mixed)

    def day(self, load, nitrate, uptake, out, area, killed, still, left, *pace):
        """One day: events of the morning, then its steps; gives the row of ``Levels``."""
        hurt = (1.0 - killed) * left
        self.eaters, self.takers = self.eaters * hurt, self.takers * hurt
        happened = _any(hurt < 1.0) or _any(still > 0.0)
        jump = _any(abs(load - self.load) > MOVES * most(load, self.usual))
        self.load = load
        self.alert = AFTER if self.moving or happened or jump else self.alert - 1
        steps = self.steps[self.alert > 0]
        seconds = DAY / steps
        held = exp(-1.0 * out * seconds)
        fades = (exp(-1.0 * pace[1] * seconds), exp(-1.0 * pace[3] * seconds))
        self.before = (self.eaters, self.takers)
        start = (self.ammonia, self.nitrite)
        top_ammonia, top_nitrite = start
        nitrified = drained = plants = 0.0 * load
        runs = self._film(seconds, area)
        stands = _any(still > 0.0)
        for step in range(steps):
            on = where(still * steps > step + 0.5, 0.0, 1.0) if stands else 1.0
            through = self._film(seconds, on * area) if stands else runs
            taken = self._step(seconds, load, through, pace, fades, on)
            nitrified = nitrified + taken
            there = self.nitrate + seconds * nitrate
            used = least(seconds * uptake, there)
            self.nitrate = there - used
            plants = plants + used
            gone = 1.0 - held
            drained = drained + gone * (self.ammonia + self.nitrite + self.nitrate)
            self.ammonia, self.nitrite, self.nitrate = (
                self.ammonia * held, self.nitrite * held, self.nitrate * held,
            )  # fmt: skip
            top_ammonia = most(top_ammonia, self.ammonia)
            top_nitrite = most(top_nitrite, self.nitrite)
        self.moving = happened or _moved(start[0], self.ammonia) or _moved(start[1], self.nitrite)
        return (self.ammonia, self.nitrite, self.nitrate, top_ammonia, top_nitrite, nitrified,
                drained, plants, self.eaters, self.takers)  # fmt: skip

    def _step(self, seconds, load, through: FilmStep, pace, fades, on):
        """Ammonia to nitrite to nitrate through a step; gives the ammonia taken."""
        eaters, takers = self.kinds
        eating = self.eaters + 0.5 * (self.eaters - self.before[0])  # in the middle of the step
        taking = self.takers + 0.5 * (self.takers - self.before[1])
        self.before = (self.eaters, self.takers)
        there = self.ammonia + seconds * load
        speed = on * seconds * pace[0] * most(eating, 0.0)
        level = left_over(there, speed, eaters.half)
        film, self.outlet = through.limited(level, there, self.outlet)
        level = least(most(level, film), there)
        taken = there - level
        within = self.nitrite + taken
        speed = on * seconds * pace[2] * most(taking, 0.0)
        nitrite = least(left_over(within, speed, takers.half), within)
        passed = within - nitrite
        self.ammonia, self.nitrite = level, nitrite
        self.nitrate = self.nitrate + passed
        self.eaters = _grown(self.eaters, taken, eaters.yields, pace[1] * seconds, fades[0])
        self.takers = _grown(self.takers, passed, takers.yields, pace[3] * seconds, fades[1])
        return taken


def _any(condition) -> bool:
    return condition if type(condition) is bool else bool(np.any(condition))


def _moved(was, now) -> bool:
    return _any(abs(now - was) > MOVES * most(now, was) + LITTLE)


def left_over(there, speed, half):
    """Level that is left where S + speed S / (half + S) = there; never below zero.

    >>> left_over(2.0, 2.0, 1.0)
    1.0
    """
    b = half + speed - there
    c = half * there
    if type(b) is float:
        root = root_of(b * b + 4.0 * c)
        return 2.0 * c / (b + root + 1e-300) if b > 0.0 else 0.5 * (root - b)
    root = sqrt(b * b + 4.0 * c)
    return where(b > 0.0, 2.0 * c / (b + root + 1e-300), 0.5 * (root - b))


def _grown(bacteria, taken, yields, faded, fade):
    """Bacteria after a step of even uptake, exactly."""
    return bacteria * fade + yields * taken * (1.0 - fade) / faded


def _at_rest(half, speed, load):
    """Level at which bacteria of this speed take the load."""
    return where(load > 0.0, half * load / most(speed - load, 1e-15), 0.0 * load)
