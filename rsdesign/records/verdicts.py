"""Whether a log decides a number, why or why not, and what would."""

from dataclasses import dataclass
from math import log

import numpy as np

from .experiments import EXPERIMENTS, information_of_each
from .fitting import covariance
from .unknowns import P90, Task, Unknown

TOLD = 0.5
"""Standard deviation by the log alone, over that of before, up to which a log decides: it must be twice as sure
as what was known without it."""
NOTHING = 1e-6
"""Information, in prior standard deviations, that counts as none."""
HARDLY = log(10.0) / P90
"""Spread of the logarithm, a factor of ten either way, from which a log hardly tells a number."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a log says of one number."""

    decidable: bool
    apart: float
    """Standard deviation of its logarithm by the log alone; infinite where it tells nothing."""
    why: str


def verdicts_of(task: Task, information: np.ndarray) -> dict[str, Verdict]:
    """A verdict on every number that is asked for.

    Parameters:
        task: the log with its model.
        information: J'J of the log, in prior standard deviations.
    Returns: by name.
    """
    apart, found = data_only(task, information), {}
    for place, unknown in enumerate(task.unknowns):
        if unknown.asked:
            sure = bool(apart[place] <= TOLD)
            why = (
                _told(unknown, apart[place])
                if sure
                else _open(task, place, apart[place], information)
            )
            found[unknown.name] = Verdict(sure, float(apart[place] * unknown.apart), why)
    return found


def what_decides(task: Task, x: np.ndarray, information: np.ndarray, date) -> dict[str, str]:
    """The test or the days without feed, of least effort, that would decide what the log leaves open.

    Parameters:
        task: the log with its model.
        x: the numbers that agree best.
        information: J'J of the log, in prior standard deviations.
        date: gives the date of a day of the log.
    Returns: a sentence for the name of each number that is not decidable.
    """
    apart = data_only(task, information)
    left = [i for i, u in enumerate(task.unknowns) if u.asked and not apart[i] <= TOLD]
    more = information_of_each(task, x) if left else []
    return {task.unknowns[i].name: _decided_by(task, i, information, more, date) for i in left}


def data_only(task: Task, information: np.ndarray, known: tuple[int, ...] = ()) -> np.ndarray:
    """Standard deviation of every number by the log alone, over that of before.

    Levels at the start keep what was known of them; ``known``: places of numbers taken as known.
    """
    starts = np.diag([0.0 if u.asked else 1.0 for u in task.unknowns])
    free = [i for i in range(len(task.unknowns)) if i not in known]
    found = np.zeros(len(task.unknowns))
    found[free] = np.sqrt(np.diag(covariance((information + starts)[np.ix_(free, free)])))
    return found


def _factor(apart: float) -> str:
    """A spread of a logarithm as the factor that holds 90 %."""
    factor = float(np.exp(P90 * apart))
    return (
        f"within {100.0 * (factor - 1.0):.0f} %"
        if factor < 2.0
        else f"within a factor of {factor:.1f}"
    )


def _told(unknown: Unknown, apart: float) -> str:
    return (f"The log alone tells it {_factor(apart * unknown.apart)}; before, it was known"
            f" {_factor(unknown.apart)}.")  # fmt: skip


def _open(task: Task, place: int, apart: float, information: np.ndarray) -> str:
    """Why a number is not decidable."""
    unknown = task.unknowns[place]
    start = "Not decidable from this log: "
    if information[place, place] < NOTHING:
        return start + f"no test in it depends on the {unknown.words}."
    partner = _partner(task, place, information)
    if partner is not None:
        other, rises = partner
        return start + (f"{unknown.more} with {other.more if rises else other.less} would give the same"
                        " readings.")  # fmt: skip
    if apart * unknown.apart > HARDLY:
        return start + f"its readings hardly tell the {unknown.words}."
    return start + (f"the readings leave it open {_factor(apart * unknown.apart)}; before, it was known"
                    f" {_factor(unknown.apart)}.")  # fmt: skip


def _partner(task: Task, place: int, information: np.ndarray) -> tuple[Unknown, bool] | None:
    """The number that would decide this one if it were known, and whether the two rise together."""
    known = {i: data_only(task, information, (i,))[place]
             for i, u in enumerate(task.unknowns) if u.asked and i != place}  # fmt: skip
    best = min(known, key=lambda i: known[i], default=None)
    if best is None or known[best] > TOLD:
        return None
    return task.unknowns[best], bool(covariance(information, 1.0)[place, best] > 0.0)


def _decided_by(task: Task, place: int, information, more, date) -> str:
    """The least effort that would decide a number."""
    for experiment, told in zip(EXPERIMENTS, more, strict=True):
        if data_only(task, information + told)[place] <= TOLD:
            from_day = date(task.model.drive.days + 7)
            return experiment.words.replace("{day}", from_day.isoformat())
    return "None of the tests that were tried, of four weeks each, would decide it; use what is known before."
