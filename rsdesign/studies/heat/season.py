"""The growing season of unheated water, and what each fish makes of it."""

from dataclasses import dataclass

import numpy as np

from ...core.figures import figure, stage
from ...core.kinds import Days, DegreeDays, FishWeight, Temperature
from ...design.weather import MIDDLE
from ...equations.fish import growth
from ...equations.fish.species import Species

YEAR = 365
"""Days of the year that is looked at."""

CALENDAR = np.arange(1, YEAR + 1) - 0.5


@stage()
class Season:
    """What a fish finds in water that is not heated."""

    species: str = figure("Fish")
    growing_days: Days = figure("Days of the year in which they eat and grow")
    season_days: Days = figure("The longest of these in a row")
    first_day: Days = figure("First of them, day of the year")
    last_day: Days = figure("Last of them, day of the year")
    degree_days: DegreeDays = figure(
        "Warmth of that season over the temperature where growth starts"
    )
    end_weight: FishWeight = figure("Weight at its end, from the size at stocking")
    days_to_harvest: Days | None = figure("Days from its start to the harvest size")
    coldest: Temperature = figure("Coldest hour of a mean month")
    hottest: Temperature = figure("Hottest hour of a mean month")


def through_the_year(months) -> np.ndarray:
    """Twelve monthly means as one value for each day of the year, straight between mid-months.

    >>> bool(abs(through_the_year(np.full(12, 20.0)) - 20.0).max() < 1e-12)
    True
    """
    return np.interp(CALENDAR, MIDDLE, months, period=YEAR)


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """Days in a row, which may go over the turn of the year."""

    first: int
    days: int

    @property
    def places(self) -> np.ndarray:
        """Places in the calendar, in order."""
        return (self.first + np.arange(self.days)) % YEAR


def longest_run(good: np.ndarray) -> Run:
    """The longest row of good days of a year that closes on itself.

    >>> run = longest_run(np.array([True] * 100 + [False] * 200 + [True] * 65))
    >>> run.first, run.days
    (300, 165)
    """
    if good.all():
        return Run(0, good.size)
    best, start, length = Run(0, 0), 0, 0
    first_gap = int(np.argmin(good))
    for step in range(1, good.size + 1):
        place = (first_gap + step) % good.size
        if good[place]:
            if not length:
                start = place
            length += 1
            if length > best.days:
                best = Run(start, length)
        else:
            length = 0
    return best


def grows(species: Species, water) -> np.ndarray:
    """Whether a fish eats and grows on each day of a year, in monthly means of water [°C]."""
    daily = through_the_year(water)
    warm = (daily > species.base_temperature) & (daily >= species.feeding_low)
    return warm & (daily <= species.feeding_high)


def season(species: Species, water, hottest, coldest, weights, coefficient=None, only=None):
    """The season of one fish in monthly means of water, and the run of days it takes.

    ``weights``: size at stocking and at harvest [kg].  ``only``: the days that may be used.
    Gives (Season, Run).
    """
    start, harvest = weights
    rate = species.growth_coefficient if coefficient is None else coefficient
    daily, good = through_the_year(water), grows(species, water)
    if only is not None:
        good &= only
    run = longest_run(good)
    warm = np.minimum(daily[run.places], species.top_temperature) - species.base_temperature
    gathered = np.cumsum(warm)
    degree_days = float(gathered[-1]) if run.days else 0.0
    needed = growth.days_to.__wrapped__(start, harvest, species.base_temperature + 1.0, rate,
                                 species.base_temperature)  # fmt: skip
    enough = np.flatnonzero(gathered >= needed)
    days = float(max(run.days, 1))
    return Season(
        species=species.name,
        growing_days=float(good.sum()),
        season_days=float(run.days),
        first_day=float(run.first + 1),
        last_day=float((run.first + max(run.days, 1) - 1) % YEAR + 1),
        degree_days=degree_days,
        end_weight=growth.weight_after.__wrapped__(
            start, days, species.base_temperature + degree_days / days, rate,
            species.base_temperature,
        ),
        days_to_harvest=float(enough[0] + 1) if enough.size else None,
        coldest=float(np.min(coldest)),
        hottest=float(np.max(hottest)),
    ), run  # fmt: skip
