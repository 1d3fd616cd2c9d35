"""When to stock and when to harvest: start days side by side, and what one more day brings."""

from dataclasses import replace

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS
from ..core.notebook import shown_in
from ..core.unit_table import DAY
from ..design.model import Design, arrays_of
from ..design.prices import prices_of
from ..equations.fish import season_growth
from ..equations.fish.growth_bands import BANDS
from ..sizing.system import Sizing, size
from .crop import MIDDLE, Fish, Plan, grow
from .growing_season import YEAR, dates, first_day
from .season_numbers import lines_of_growth, plan_of
from .water_course import WaterCourse, water_course

LONGEST = 730
"""Days that a batch is followed at most."""


def _one(design) -> Sizing:
    sizing = size(design) if isinstance(design, Design) else design
    if arrays_of(sizing.design):
        raise DesignError(
            "Stocking and harvest are shown of one design; take one of the swept designs."
        )
    return sizing


def _one_batch(sizing: Sizing, count: int) -> Plan:
    """The plan of one batch that nobody harvests, for so many start days."""
    coefficient, base = (
        np.repeat(x, count, axis=1) for x in lines_of_growth(sizing.design, sizing)
    )
    plan = plan_of(sizing, (coefficient, base))
    return replace(plan, batches=1, interval=np.inf, harvest_weight=1e3)


def best_stocking_day(design: Design | Sizing, every: int = 7, system: str = "us"):
    """Days of stocking side by side: when each comes to size, by slow, middle and fast growth.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        every: time between the start days that are tried [days], 1 to 60.
        system: "us", "metric" or "si".
    Returns: a pandas frame, a row for each start day: days to the harvest weight by each line of
        growth (empty where the water kills first or two years do not do), and the weight after half a year.
        ``attrs``: units, best (day of the year and date), sure (whether even slow fish come to
        size), and why.
    Raises: ``DesignError`` with one sentence.
    Source: ``data/growth_bands.csv``; the water of ``heat``.

    >>> from rsdesign import load
    >>> best_stocking_day(load("commercial")).attrs["sure"]
    True
    """
    import pandas as pd  # noqa: PLC0415

    sizing = _one(design)
    if isinstance(every, bool) or not isinstance(every, int) or not 1 <= every <= 60:
        raise DesignError(
            f"every (days between start days) is {every}; write a whole number from 1 to 60."
        )
    starts = np.arange(0, YEAR, every)
    whole = water_course(sizing)
    at = (starts[None, :] + np.arange(LONGEST)[:, None]) % YEAR
    water, lethal = whole.mean[at, 0], whole.lethal(sizing.tables.species)[at, 0]
    fish = grow(_one_batch(sizing, starts.size), water, np.ones((LONGEST, 1)), lethal)
    dead = np.where(lethal.any(axis=0), lethal.argmax(axis=0), LONGEST)
    goal = sizing.design.goal.weight * (1.0 - 1e-12)
    reached = fish.weight >= goal
    ready = np.where(reached.any(axis=0), reached.argmax(axis=0) + 1.0, np.inf)
    ready = np.where(ready <= dead, ready, np.inf)
    half_year = np.minimum(dead, 182) - 1
    weight = fish.weight[np.maximum(half_year, 0), MIDDLE, np.arange(starts.size)]
    best = _best(ready, weight)
    shown, unit = shown_in(weight, KINDS["fish weight"], system)
    frame = pd.DataFrame({"start": starts + 1, "date": dates(1, YEAR)[::every],
                          **{f"days_{b}": np.where(np.isfinite(r), r, np.nan) for b, r in zip(BANDS, ready, strict=True)},
                          "weight_half_year": shown})  # fmt: skip
    sure = bool(np.isfinite(ready[0, best]))
    why = "even slow fish come to size, and soonest from this day" if sure else (
        "fish of middle growth come to size, slow ones do not before the water kills them"
        if np.isfinite(ready[1, best]) else "no fish come to size before the water kills them; from this"
        " day they grow most"
    )  # fmt: skip
    frame.attrs.update(
        units={"start": "day of the year", "date": "", "days_slow": "day", "days_middle": "day",
               "days_fast": "day", "weight_half_year": unit},
        best={"day": int(starts[best]) + 1, "date": frame["date"][best]}, sure=sure, why=why,
    )  # fmt: skip
    return frame


def _best(ready: np.ndarray, weight: np.ndarray) -> int:
    """The place of the best start: the soonest by slow growth, else by middle, else the heaviest."""
    for line in (0, MIDDLE):
        if np.isfinite(ready[line]).any():
            return int(ready[line].argmin())
    return int(weight.argmax())


def harvest_day(design: Design | Sizing, start=None, days: int = 500, system: str = "us"):
    """What one more day of a batch brings and costs, and the day to harvest.

    The place for a batch earns most on a mean day when batches are harvested where one more day
    just brings what a mean day earns: gain times price, less feed and running costs.  Tanks, air and
    filter are sized for the weight of the design, so no later day is chosen.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        start: the day of stocking as in ``growout``.
        days: time followed at most [days], 30 to 730.
        system: "us", "metric" or "si".
    Returns: a pandas frame by day: weight, worth of the batch, gain, feed and running costs of the
        day, what the day brings, and what a mean day of the place earns if harvested then.
        ``attrs``: units, best (day), why, weight, worth_of_place, planned (day on which the weight
        of the design is met).
    Raises: ``DesignError`` with one sentence.
    Source: ``data/growth_bands.csv``; the mean-day rule is a definition, prices as for ``enterprise``.

    >>> from rsdesign import load
    >>> harvest_day(load("commercial")).attrs["best"] > 30
    True
    """
    import pandas as pd  # noqa: PLC0415

    sizing = _one(design)
    if isinstance(days, bool) or not isinstance(days, int) or not 30 <= days <= LONGEST:
        raise DesignError(f"days is {days}; write a whole number from 30 to {LONGEST}.")
    whole = water_course(sizing)
    first = first_day(start, whole, sizing)
    place = (first if isinstance(first, int) else first.timetuple().tm_yday) - 1
    water = whole.days(min(place, YEAR - 1), days)
    lethal = water.lethal(sizing.tables.species)
    end = int(lethal[:, 0].argmax()) if lethal.any() else days
    fish = grow(_one_batch(sizing, 1), water.mean, np.ones((days, 1)), lethal)
    money = _money_of_days(sizing, fish, water)
    earns = money["place_earns"]
    reached = np.flatnonzero(
        fish.weight[:end, MIDDLE, 0] >= sizing.design.goal.weight * (1 - 1e-12)
    )
    room = int(reached[0]) + 1 if reached.size else end
    best = int(np.argmax(earns[: max(room, 1)]))
    weight, unit = shown_in(fish.weight[:end, MIDDLE, 0], KINDS["fish weight"], system)
    currency = sizing.design.prices.currency
    frame = pd.DataFrame({"day": np.arange(1, end + 1), "date": dates(first, days)[:end], "weight": weight,
                          **{name: value[:end] for name, value in money.items()}})  # fmt: skip
    frame.attrs.update(
        units={"day": "day", "date": "", "weight": unit, **dict.fromkeys(money, currency)},
        best=best + 1, weight=float(weight[best]), worth_of_place=float(earns[best]),
        planned=int(reached[0]) + 1 if reached.size else None,
        why="one more day earns less than a mean day" if best + 1 < room else (
            "the system is sized for no heavier fish" if reached.size else "the days end here"
        ),
    )  # fmt: skip
    return frame


def _money_of_days(sizing: Sizing, fish: Fish, water: WaterCourse) -> dict[str, np.ndarray]:
    """What each day of one batch brings and costs, and what its place earns if harvested then."""
    price = {name: p.value for name, p in prices_of(sizing.design).items()}
    terms, batches = sizing.design.terms, float(sizing.stock.cohorts)
    share = terms.home_share
    each = terms.saleable * (
        share * price["home_fish"] + (1.0 - share) * (price["fish"] - price["ice"])
    )
    biomass = fish.biomass[:, 0]
    gain = np.diff(biomass, prepend=float(fish.stocked[0, 0]))
    feed = fish.feed[:, 0] * price["feed"]
    new = (
        sizing.water.exchange / sizing.stock.peak_feed * fish.feed[:, 0]
        + (sizing.design.makeup.splash * sizing.tank.volume * DAY + water.evaporation[:, 0] * DAY)
        / batches
    )
    power = (
        (sizing.standby.daily_energy + water.heating[:, 0] * DAY) * price["electricity"] / batches
    )
    running = power + new * price["water"]
    costs = float(fish.fingerlings[0, 0]) * price["fingerling"] + np.cumsum(feed + running)
    age = np.arange(1, biomass.size + 1, dtype=float)
    return {
        "worth": biomass * each, "gain": gain * each, "feed": feed, "running": running,
        "day_brings": season_growth.worth_of_day.__wrapped__(gain, each, feed, running),
        "place_earns": season_growth.worth_of_place.__wrapped__(
            biomass * each, costs, age, sizing.design.stock.rest
        ),
    }  # fmt: skip
