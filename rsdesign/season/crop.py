"""The fish of a season, day by day: stocked, fed, grown, dead and harvested.

A day runs in this order: water temperature, appetite, feed given, what is eaten, growth, deaths,
harvest.  Arrays are lines of growth x batches x designs; the middle line decides when a batch is
harvested, the slow and the fast line go beside it in the same water.  A step of a day is exact for
the growth relation, whatever the temperature does from day to day.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core.unit_table import DAY
from ..equations.fish import batches as batch
from ..equations.fish import growth, season_growth
from ..equations.power.backup import warmth_factor

Numbers = Any  # a float or an array, one number for each design

SLOW, MIDDLE, FAST = range(3)
"""Lines of growth; the middle one is the one that the design counts on."""

FASTING = 0.0025 / DAY
"""Share of its weight that a fish loses in a time without feed: 0.2 to 0.3 % a day, from memory."""

MOST_EATEN = 1.2
"""Most that fish eat over their appetite; from memory."""


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """What the fish of a season need to be known; each a number or an array of designs."""

    coefficient: np.ndarray
    """Of each line of growth: 3 x designs."""
    base: np.ndarray
    """Temperature where growth starts [°C], likewise."""
    top: Numbers
    feeding_low: Numbers
    feeding_high: Numbers
    kept: Numbers
    """Temperature of the design [°C], to which fasting and breathing are related."""
    per_ten: Numbers
    to_stock: Numbers
    stocking_weight: Numbers
    harvest_weight: Numbers
    survival: Numbers
    cycle: Numbers
    """Days of the plan over which this share survives."""
    conversion: Numbers
    interval: Numbers
    """Days between batches; infinite where the next one waits for the harvest."""
    rest: Numbers
    batches: int
    """Places for batches that grow at once."""
    ration: Numbers | None
    """Feed as a share of the weight of the fish [1/s], where the grower feeds by one."""


@dataclass(frozen=True, slots=True, eq=False)
class Fish:
    """What the fish of a season do: days x designs, [kg] in a day where nothing else is said."""

    number: np.ndarray
    """Fish alive at the end of the day."""
    biomass: np.ndarray
    weight: np.ndarray
    """Mean weight by each line of growth: days x 3 x designs."""
    largest: np.ndarray
    """Mean weight of the oldest batch."""
    appetite: np.ndarray
    feed: np.ndarray
    eaten: np.ndarray
    gain: np.ndarray
    loss: np.ndarray
    """Weight that unfed fish lose."""
    dead: np.ndarray
    died: np.ndarray
    """Number of them."""
    stocked: np.ndarray
    fingerlings: np.ndarray
    harvested: np.ndarray
    sold: np.ndarray
    """Number of fish harvested."""
    resting: np.ndarray
    """Feed that the fish would eat in the water of the design: the measure of what they breathe unfed."""


def degrees(plan: Plan, water: np.ndarray) -> np.ndarray:
    """Degrees of growth of each day, for every line: days x 3 x designs, 0 where no fish eats."""
    capped = growth.growing_temperature.__wrapped__(water, plan.top)
    eats = (water >= plan.feeding_low) & (water <= plan.feeding_high)
    warm = np.maximum(capped[:, None] - plan.base, 0.0)
    return np.where(eats[:, None], warm, 0.0)


def warmth_ahead(warm: np.ndarray, deadly: np.ndarray) -> np.ndarray:
    """Degree-days from each day to the next that kills; infinite where none does."""
    days, count = warm.shape
    if count == 1:
        left, found = np.inf, []
        for degree, kills in zip(warm[::-1, 0].tolist(), deadly[::-1, 0].tolist(), strict=True):
            left = 0.0 if kills else left + degree
            found.append(left)
        return np.array(found[::-1])[:, None]
    ahead = np.full((days + 1, count), np.inf)
    for day in range(days - 1, -1, -1):
        ahead[day] = np.where(deadly[day], 0.0, ahead[day + 1] + warm[day])
    return ahead[:days]


class Stock:
    """The fish in the water: cube roots of weight in g by lines x batches x designs, and numbers."""

    def __init__(self, plan: Plan, count: int) -> None:
        self.plan, self.count = plan, count
        self.root = np.zeros((3, plan.batches, count))
        self.number = np.zeros((plan.batches, count))
        self.free_from = np.zeros((plan.batches, count))
        self.next = np.zeros(count)
        self.soonest = 0.0
        self.first = np.ones(count, bool)
        self.put = np.broadcast_to(np.asarray(plan.to_stock, float), (count,))
        self.start = np.broadcast_to(_root(plan.stocking_weight), (count,))
        self.ready = _root(plan.harvest_weight) * (1.0 - 1e-13)
        self.alone = np.broadcast_to(np.isinf(plan.interval), (count,))
        self.left = season_growth.left_after_day.__wrapped__(1.0, plan.survival, plan.cycle)

    def stock(self, day: int, ready: np.ndarray) -> np.ndarray | None:
        """Stock what is due in a free place; gives which designs take a batch."""
        due = (self.next <= day) & (ready | self.first)
        if not due.any():
            return None
        free = (self.number == 0.0) & (self.free_from <= day)
        takes = due & free.any(axis=0)
        place = free.argmax(axis=0)[takes]
        self.root[:, place, takes] = self.start[takes]
        self.number[place, takes] = self.put[takes]
        late = np.maximum(self.next + self.plan.interval, day + 1.0)
        self.next = np.where(takes, late, self.next)
        self.soonest = float(self.next.min())
        self.first &= ~takes
        return takes

    def run(self, rise: np.ndarray) -> tuple[np.ndarray, ...]:
        """Days of growth without hunger up to the first harvest, as one sum.

        Gives roots and numbers of each day: before and after it.
        """
        grown = np.add.accumulate(np.concatenate([self.root[None], rise * (self.number > 0.0)]))
        ripe = (grown[1:, MIDDLE] >= self.ready).any(axis=(1, 2))
        days = int(ripe.argmax()) + 1 if ripe.any() else len(rise)
        kept = np.broadcast_to(self.left, (days, *self.number.shape))
        number = np.multiply.accumulate(np.concatenate([self.number[None], kept]))
        self.root, self.number = grown[days].copy(), number[days].copy()
        return grown[:days], grown[1 : days + 1], number[:days], number[1:]

    def harvest(self, day: int) -> np.ndarray | None:
        """Take out the batches that are ready; gives which places are emptied."""
        ready = self.root[MIDDLE] >= self.ready
        if not ready.any():
            return None
        free = day + 1.0 + np.where(self.alone, self.plan.rest, 0.0)
        self.free_from = np.where(ready, free, self.free_from)
        self.next = np.where(self.alone & ready.any(axis=0), free, self.next)
        self.soonest = float(self.next.min())
        self.number[ready] = 0.0
        self.root[:, ready] = 0.0
        return ready


def _ends_of(plain: np.ndarray) -> list[int]:
    """For each day, the day on which the plain days from it on end; the day itself where it is none.

    >>> _ends_of(np.array([True, True, False, True]))
    [2, 2, 2, 4]
    """
    found, end = [], len(plain)
    for day in range(len(plain) - 1, -1, -1):
        end = end if plain[day] else day
        found.append(end)
    return found[::-1]


def _root(weight):
    return np.cbrt(1000.0 * np.asarray(weight, float))  # units of the source


def grow(plan: Plan, water: np.ndarray, feed: np.ndarray, deadly: np.ndarray) -> Fish:
    """The fish through the days of a season.

    Parameters:
        plan: the ``Plan``.
        water: mean temperature of each day [°C], days x designs.
        feed: what is given over what the fish ask for, days x 1 or days x designs.
        deadly: days whose water kills, days x designs; no batch is begun that they would catch.
    Returns: ``Fish``.
    """
    days, count = water.shape
    warm = degrees(plan, water)
    needed = growth.days_to.__wrapped__(plan.stocking_weight, plan.harvest_weight, plan.base[MIDDLE] + 1.0,
                                 plan.coefficient[MIDDLE], plan.base[MIDDLE])  # fmt: skip
    ready = (warm[:, MIDDLE] > 0.0) & (warmth_ahead(warm[:, MIDDLE], deadly) >= needed)
    rise = season_growth.growth_of_root.__wrapped__(plan.coefficient, warm)[:, :, None]
    fast = season_growth.fasting_loss.__wrapped__(
        1.0, FASTING, warmth_factor.__wrapped__(water, plan.kept, plan.per_ten)
    )
    given = np.broadcast_to(feed, (days, count))
    by_rule = plan.ration is not None
    plain = np.zeros(days, bool)
    if not by_rule:
        plain |= (given >= 1.0).all(axis=1) & (warm > 0.0).all(axis=(1, 2))
    stock = Stock(plan, count)
    before, after = (np.zeros((days, 3, plan.batches, count)) for _ in range(2))
    alive, left, taken = (np.zeros((days, plan.batches, count)) for _ in range(3))
    put = np.zeros((days, count))
    far = _ends_of(plain) if count == 1 else [0] * days
    day = -1
    while (day := day + 1) < days:
        if stock.soonest <= day:
            takes = stock.stock(day, ready[day])
            if takes is not None:
                put[day] = np.where(takes, stock.put, 0.0)
        end = min(far[day], stock.soonest)
        if end > day + 1:
            span = slice(day, int(end))
            ran = stock.run(rise[span])
            day += len(ran[0]) - 1
            span = slice(span.start, day + 1)
            before[span], after[span], alive[span], left[span] = ran
        else:
            before[day], alive[day] = stock.root, stock.number
            if plain[day]:
                stock.root = stock.root + rise[day] * (stock.number > 0.0)
            else:
                stock.root = _root_after(plan, stock, rise[day], given[day], fast[day])
            stock.number = stock.number * stock.left
            after[day], left[day] = stock.root, stock.number
        emptied = stock.harvest(day)
        if emptied is not None:
            taken[day] = np.where(emptied, left[day], 0.0)
    return _summed(plan, _Course(before, after, alive, left, taken, put, rise, given, fast))


@dataclass(frozen=True, slots=True, eq=False)
class _Course:
    """What the days leave behind: roots before and after growth, numbers, what was put in and taken."""

    before: np.ndarray
    after: np.ndarray
    alive: np.ndarray
    left: np.ndarray
    taken: np.ndarray
    put: np.ndarray
    rise: np.ndarray
    given: np.ndarray
    fast: np.ndarray


def _weight(root):
    return root * root * root / 1000.0  # units of the source


def _fed(plan: Plan, root, number, rise, given):
    """Gain that warmth allows, appetite, feed given, feed eaten, and the gain on it [kg/s]."""
    alive = number > 0.0
    gain = np.where(alive, _weight(root + rise) - _weight(root), 0.0) / DAY
    appetite = batch.feed_for_gain.__wrapped__(number, gain, plan.conversion)
    offered = given * appetite
    if plan.ration is not None:
        by_rule = batch.ration_feed.__wrapped__(number * _weight(root), plan.ration)
        offered = given * np.where(appetite > 0.0, by_rule, 0.0)
    eaten = season_growth.eaten.__wrapped__(offered, appetite, MOST_EATEN)
    each = eaten / np.where(alive, number, 1.0)
    return (
        appetite,
        offered,
        eaten,
        season_growth.gain_on_feed.__wrapped__(gain, each, plan.conversion),
    )


def _root_after(plan: Plan, stock: Stock, rise, given, fast):
    """Cube roots after a day on which feed, not warmth alone, decides."""
    if not rise.any():  # no fish has an appetite
        weight = _weight(stock.root)
        return _root(weight - np.where(stock.number > 0.0, weight * fast, 0.0) * DAY)
    _, offered, _, gained = _fed(plan, stock.root, stock.number, rise, given)
    weight = _weight(stock.root)
    hungry = (offered <= 0.0) & (stock.number > 0.0)
    return _root(weight + (gained - np.where(hungry, weight * fast, 0.0)) * DAY)


def _summed(plan: Plan, course: _Course) -> Fish:
    """The days of a season, batches added up."""
    number = course.alive
    middle, grown = course.before[:, MIDDLE], course.after[:, MIDDLE]
    rise = course.rise[:, MIDDLE]
    appetite, offered, eaten, _ = _fed(plan, middle, number, rise, course.given[:, None])
    weight, heavier = _weight(middle), _weight(grown)
    change = (heavier - weight) * number
    home = np.maximum(
        growth.growing_temperature.__wrapped__(plan.kept, plan.top) - plan.base[MIDDLE], 0.0
    )
    at_home = season_growth.growth_of_root.__wrapped__(plan.coefficient[MIDDLE], home)
    resting = (
        batch.feed_for_gain.__wrapped__(number, _weight(middle + at_home) - weight, plan.conversion)
        / DAY
    )
    died, stays = number - course.left, course.left - course.taken
    left = stays.sum(axis=1)
    by_line = (_weight(course.after) * stays[:, None]).sum(axis=2)
    sums = {
        "appetite": appetite * DAY, "feed": offered * DAY, "eaten": eaten * DAY,
        "gain": np.maximum(change, 0.0), "loss": np.maximum(-change, 0.0), "dead": died * heavier,
        "died": died, "harvested": course.taken * heavier, "sold": course.taken, "resting": resting,
    }  # fmt: skip
    return Fish(
        number=left,
        biomass=by_line[:, MIDDLE],
        weight=by_line / np.where(left > 0.0, left, 1.0)[:, None],
        largest=np.where(stays > 0.0, heavier, 0.0).max(axis=1),
        stocked=course.put * plan.stocking_weight,
        fingerlings=course.put,
        **{name: value.sum(axis=1) for name, value in sums.items()},
    )
