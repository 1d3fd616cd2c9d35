"""How a set worked in a class: each exercise's facility and discrimination, reliability, the gain.

The sums are those of classical test theory: facility is the mean share of the points, discrimination
the correlation with the rest of the set, reliability Cronbach's alpha (Cronbach 1951, Psychometrika
16(3), 297-334), which is Kuder and Richardson's formula 20 (1937, Psychometrika 2(3), 151-160) where
answers are right or wrong.  Few learners say little: below ``ENOUGH`` a correlation is not given.
"""

from collections import Counter
from dataclasses import dataclass
from math import atan2, cos, pi, sin, sqrt

import numpy as np

from ..core.arrays import root
from .marking import Mark, Marks

ENOUGH = 15
"""Learners below which discrimination and reliability say too little to be shown (common practice)."""
FEW = 5
"""Learners below which no gain is told."""
RESAMPLES, SEED = 4000, 20
SHARE = 0.95
"""Of the confidence intervals."""
SLIPS = 3


@dataclass(frozen=True, slots=True)
class Item:
    """One exercise in a class.

    ``facility`` is the mean share of its points among those who tried; ``discrimination`` the
    correlation of its share with the rest of the set, None where it says too little.
    """

    exercise: str
    tried: int
    right: int
    facility: float | None
    discrimination: float | None
    attempts: float | None
    slips: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Gain:
    """What the questions after show beside those before, over learners who answered both.

    ``before`` and ``after`` are mean shares right; ``change`` their difference with its interval;
    ``normalised`` the part of what could be gained, with its interval, None where nothing could.
    """

    learners: int
    before: float
    after: float
    change: float
    change_low: float
    change_high: float
    normalised: float | None
    normalised_low: float | None
    normalised_high: float | None


def items(marks: tuple[Marks, ...]) -> tuple[Item, ...]:
    """Each exercise of the set, in its order; questions before and after are left out."""
    names = list(dict.fromkeys(r.exercise for m in marks for r in m.rows if not r.turn))
    shares = _shares(marks, names)
    found = []
    for place, name in enumerate(names):
        rows = [r for m in marks for r in m.rows if r.exercise == name and r.attempts]
        slips = Counter(slip for r in rows for slip in r.mistakes)
        found.append(Item(
            name, len(rows), sum(r.right for r in rows),
            float(np.mean([_share(r) for r in rows])) if rows else None,
            discrimination(shares, place) if len(marks) >= ENOUGH else None,
            float(np.mean([r.attempts for r in rows])) if rows else None,
            tuple(sorted(slips.items(), key=lambda pair: (-pair[1], pair[0]))[:SLIPS]),
        ))  # fmt: skip
    return tuple(found)


def reliability(marks: tuple[Marks, ...]) -> float | None:
    """Cronbach's alpha of a set in a class; None where it says too little."""
    names = list(dict.fromkeys(r.exercise for m in marks for r in m.rows if not r.turn))
    return alpha(_shares(marks, names)) if len(marks) >= ENOUGH else None


def _shares(marks: tuple[Marks, ...], names: list[str]) -> np.ndarray:
    """A row a learner, a column an exercise; what was not tried brings nothing."""
    rows = [{r.exercise: _share(r) for r in m.rows} for m in marks]
    return np.array([[row.get(name, 0.0) for name in names] for row in rows], float).reshape(
        len(marks), len(names)
    )


def _share(row: Mark) -> float:
    return row.points / row.out_of if row.out_of else 0.0


def discrimination(shares: np.ndarray, place: int) -> float | None:
    """Correlation of one column with the sum of all the others; None where either stands still.

    For a column of 0 and 1 this is the point-biserial correlation with the rest of the set.

    Parameters:
        shares: a row a learner, a column an exercise [-], 0 to 1.
        place: the column.
    Returns: from -1 to 1 [-].

    >>> round(discrimination(np.array([[0, 0], [1, 0.5], [1, 1.0]]), 0), 3)
    0.866
    """
    one = shares[:, place]
    rest = shares.sum(axis=1) - one
    if np.ptp(one) < 1e-9 or np.ptp(rest) < 1e-9:
        return None
    return float(np.corrcoef(one, rest)[0, 1])


def alpha(shares: np.ndarray) -> float | None:
    """Cronbach's alpha: k/(k-1) × (1 - sum of the variances ÷ variance of the sum).

    Parameters:
        shares: a row a learner, a column an exercise [-], 0 to 1.
    Returns: at most 1 [-]; None for fewer than two columns or equal sums.
    """
    count = shares.shape[1]
    total = shares.sum(axis=1).var() if shares.size else 0.0
    if count < 2 or total < 1e-12:
        return None
    return float(count / (count - 1) * (1.0 - shares.var(axis=0).sum() / total))


# --- the gain ------------------------------------------------------------------------------------


def gain(marks: tuple[Marks, ...]) -> Gain | None:
    """The gain of a class from the questions before to those after; None for too few learners."""
    pairs = [pair for pair in map(_before_and_after, marks) if pair is not None]
    if len(pairs) < FEW:
        return None
    before, after = np.array(pairs).T
    low, high = mean_interval(after - before)
    part, part_low, part_high = normalised(before, after)
    return Gain(len(pairs), float(before.mean()), float(after.mean()),
                float((after - before).mean()), low, high, part, part_low, part_high)  # fmt: skip


def _before_and_after(found: Marks) -> tuple[float, float] | None:
    """Shares right of one learner, who answered some of the questions each time."""
    rows = {turn: [r for r in found.rows if r.turn == turn] for turn in ("before", "after")}
    if not all(any(r.attempts for r in rows[turn]) for turn in rows):
        return None
    before, after = (sum(r.right for r in rows[t]) / len(rows[t]) for t in ("before", "after"))
    return before, after


def mean_interval(values: np.ndarray) -> tuple[float, float]:
    """The 95 % confidence interval of a mean of few values, by Student's t.

    Parameters:
        values: one for each learner, two or more.
    Returns: its ends.
    Source: Student (1908), Biometrika 6(1), 1-25.
    """
    count = len(values)
    half = t_quantile(0.5 + SHARE / 2, count - 1) * float(np.std(values, ddof=1)) / sqrt(count)
    return float(np.mean(values)) - half, float(np.mean(values)) + half


def normalised(before: np.ndarray, after: np.ndarray):
    """The average normalised gain of a class and its 95 % interval from learners drawn anew.

    Parameters:
        before: share right of each learner [-], 0 to 1.
        after: the same learners' later.
    Returns: gain and the ends of its interval [-]; None where there was nothing left to gain.
    Source: Hake (1998), American Journal of Physics 66(1), 64-74; the interval: percentiles of the
    bootstrap, Efron & Tibshirani (1993), An Introduction to the Bootstrap, chapter 13.
    """
    if before.mean() > 1.0 - 1e-9:
        return None, None, None
    drawn = np.random.default_rng(SEED).integers(0, len(before), (RESAMPLES, len(before)))
    b, a = before[drawn].mean(axis=1), after[drawn].mean(axis=1)
    some = b < 1.0 - 1e-9
    parts = (a[some] - b[some]) / (1.0 - b[some])
    low, high = np.quantile(parts, [0.5 - SHARE / 2, 0.5 + SHARE / 2])
    part = (after.mean() - before.mean()) / (1.0 - before.mean())
    return float(part), float(low), float(high)


def t_quantile(share: float, freedom: int) -> float:
    """Student's t below which so large a share lies.

    Parameters:
        share: 0.5 to below 1 [-].
        freedom: degrees of freedom, 1 or more.
    Source: the sums of Abramowitz & Stegun (1964), Handbook of Mathematical Functions, 26.7.3 and
    26.7.4, turned round.

    >>> round(t_quantile(0.975, 9), 3)
    2.262
    """
    top = 1.0
    while _t_between(top, freedom) < 2 * share - 1:
        top *= 2.0
    return root(lambda t: _t_between(t, freedom) - (2 * share - 1), 0.0, top)


def _t_between(t: float, freedom: int) -> float:
    """The share of Student's t between -t and t."""
    angle = atan2(t, sqrt(freedom))
    term, total = 1.0, 0.0
    if freedom % 2:
        term = cos(angle)
        for j in range(1, freedom - 1, 2):
            total += term
            term *= cos(angle) ** 2 * (j + 1) / (j + 2)
        return 2.0 / pi * (angle + sin(angle) * total)
    for j in range(0, freedom, 2):
        total += term
        term *= cos(angle) ** 2 * (j + 1) / (j + 2)
    return sin(angle) * total


# --- in words ------------------------------------------------------------------------------------

CLASS_ONLY = (
    "It says what changed in this class, not why: nobody was left untaught to compare with."
)


def gain_words(found: Gain | None) -> str:
    """The gain in two sentences."""
    if found is None:
        return f"Too few learners answered both before and after to tell a gain; {FEW} are needed."
    words = (
        f"{found.learners} learners answered both: {100 * found.before:.0f} % right before,"
        f" {100 * found.after:.0f} % after, a change of {100 * found.change:.0f} points (95 %"
        f" interval {100 * found.change_low:.0f} to {100 * found.change_high:.0f})."
    )
    if found.normalised is not None:
        words += (
            f" Of what could be gained {100 * found.normalised:.0f} % was (normalised gain, 95 %"
            f" interval {100 * found.normalised_low:.0f} to {100 * found.normalised_high:.0f})."
        )
    return f"{words} {CLASS_ONLY}"


def reliability_words(marks: tuple[Marks, ...]) -> str:
    """The reliability of a set in one sentence."""
    if len(marks) < ENOUGH:
        return (
            f"Discrimination and reliability are told from {ENOUGH} learners on; here are"
            f" {len(marks)}."
        )
    found = reliability(marks)
    if found is None:
        return "All learners have the same points, so nothing can be said of reliability."
    return (
        f"Reliability of the points in this class: {found:.2f} (Cronbach's alpha; 1 is the most)."
    )
