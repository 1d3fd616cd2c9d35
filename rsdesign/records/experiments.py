"""Which test, or which day without feed, would decide what a log leaves open: worked out, not looked up.

The days go on for four weeks as the last week did, with more tests; how the readings would follow the numbers
is one run of the same model, and what they would tell is added to what the log tells.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..core.unit_table import DAY
from ..equations.fish import loads as formulas
from .box_model import BoxModel, at_times
from .drive import Drive
from .film_surface import expected_flows, surface_of
from .unknowns import FISH_APART, Task

WEEKS = 4
DAYS = 7 * WEEKS
COLOUR = 0.29
"""What a colour among doubling steps leaves open of a level, as a share: half a step and the reader's eye."""
DROPS = 0.11
"""What a test by drops or a photometer leaves open; 10 %, common practice."""
FISH = FISH_APART / 20.0**0.5
"""What a net of twenty fish leaves open of the mean weight."""
MORE_FISH = FISH_APART / 50.0**0.5
FAST = slice(7, 10)
"""Days without feed: three in the second week."""
SALTED = 0.3
"""Chloride [kg/m³] up to which salt is put in, 300 mg/L: a worked case."""
TWICE_A_WEEK = tuple(np.arange(1, DAYS, 3.5) + 0.8)
WEEKLY = (0.8, 7.8, 14.8, 21.8, 27.8)
FASTING = tuple(np.arange(6.3, 12.0, 0.5))
"""Every morning and evening around the days without feed."""


@dataclass(frozen=True, slots=True)
class Experiment:
    """What may be done in the next four weeks: words, with ``{day}`` for the first day without feed."""

    words: str
    tests: tuple[tuple[str, tuple[float, ...], float], ...]
    """Course, days, and what a reading leaves open."""
    fast: bool = False
    salt: bool = False


_NITRATE = ("nitrate", TWICE_A_WEEK, COLOUR)
_ALKALINITY = ("alkalinity", TWICE_A_WEEK, DROPS)
_AMMONIA = ("tan", TWICE_A_WEEK, DROPS)
_WHILE_FASTING = (("tan", FASTING, COLOUR), ("nitrate", FASTING, COLOUR))
_CHLORIDE = ("chloride", WEEKLY, DROPS)

EXPERIMENTS = (
    Experiment("Weigh a net of twenty fish now and again in four weeks.",
               (("fish_weight", (0.5, DAYS - 0.5), FISH),)),
    Experiment("Weigh a net of fifty fish once a week for four weeks.", (("fish_weight", WEEKLY, MORE_FISH),)),
    Experiment("Test nitrate twice a week for four weeks.", (_NITRATE,)),
    Experiment("Test alkalinity by drops twice a week for four weeks, and write down all base.", (_ALKALINITY,)),
    Experiment("Test ammonia twice a week for four weeks with a test that reads below the lowest colour.", (_AMMONIA,)),
    Experiment("Give no feed for three days from {day}, and test ammonia and nitrate each morning and evening"
               " from the day before to the day after.", _WHILE_FASTING, True),
    Experiment("Put in salt until chloride is 300 mg/L, then test chloride by drops once a week for four weeks.",
               (_CHLORIDE,), False, True),
    Experiment("Test nitrate by colours and alkalinity by drops twice a week for four weeks, and write down all"
               " base.", (_NITRATE, _ALKALINITY)),
    Experiment("Test ammonia by a test that reads below the lowest colour and alkalinity by drops, twice a week"
               " for four weeks, and write down all base.", (_AMMONIA, _ALKALINITY)),
    Experiment("Test nitrate and alkalinity twice a week for four weeks, write down all base, and give no feed"
               " for three days from {day}, with ammonia and nitrate tested each morning and evening then.",
               (_NITRATE, _ALKALINITY, *_WHILE_FASTING), True),
    Experiment("Put in salt until chloride is 300 mg/L, test chloride once a week, and nitrate and alkalinity"
               " twice a week, for four weeks; write down all base.", (_CHLORIDE, _NITRATE, _ALKALINITY), False, True),
    Experiment("Put in salt until chloride is 300 mg/L and test chloride once a week; test ammonia by a test that"
               " reads below the lowest colour, nitrate and alkalinity twice a week; four weeks, all base written"
               " down.", (_CHLORIDE, _NITRATE, _ALKALINITY, _AMMONIA), False, True),
)  # fmt: skip
"""From little effort to much."""


def information_of_each(task: Task, x: np.ndarray) -> list[np.ndarray]:
    """What each experiment would tell: a matrix like J'J for each of ``EXPERIMENTS``."""
    longer = {key: _longer(task, x, *key) for key in {(e.fast, e.salt) for e in EXPERIMENTS}}
    found = []
    for experiment in EXPERIMENTS:
        courses, step = longer[experiment.fast, experiment.salt]
        whole = np.zeros((x.size, x.size))
        for name, days, apart in experiment.tests:
            at = task.model.drive.days + np.array(days)
            levels = np.log(np.maximum(at_times(courses[name], at), 1e-9))
            slopes = (levels[:, 1:] - levels[:, :1]) / step
            whole += slopes.T @ slopes / apart**2
        found.append(whole)
    return found


def _longer(task: Task, x: np.ndarray, fast: bool, salt: bool) -> tuple[dict, float]:
    """Courses of the log and four weeks more: the first column as found, then one for each number moved."""
    step = 0.02
    columns = np.concatenate([x[:, None], x[:, None] + step * np.eye(x.size)], axis=1)
    numbers = task.numbers(columns)
    drive = _with_base(task.model.drive, numbers)
    lack = max(SALTED - float(numbers["chloride"][0]), 0.0) * float(np.max(drive.works.volume))
    drive = drive.longer(DAYS, FAST if fast else None, lack if salt else 0.0)
    shares, factors = (
        np.geomspace(v / 1.1, v * 1.1, 4)
        for v in (numbers["ammonia_share"][0], numbers["filter_factor"][0])
    )
    model = BoxModel(drive, surface_of(drive, shares, factors))
    return model.courses(numbers), step


def _with_base(drive: Drive, numbers: dict) -> Drive:
    """A drive that tells its base; where the log did not, what holds the alkalinity that the design keeps."""
    if drive.base is not None:
        return drive
    design, first = drive.sizing.design, {name: value[:1] for name, value in numbers.items()}
    nitrogen = formulas.feed_nitrogen.__wrapped__(drive.feed, drive.works.protein)
    use = formulas.alkalinity_net.__wrapped__(nitrogen * first["ammonia_share"])
    moved = expected_flows(drive, first["evaporated"], first["drained"])
    brought = moved["new"] * design.source.alkalinity - moved["out"] * design.keep.alkalinity
    return replace(drive, base=np.maximum(use - brought * DAY, 0.0))
