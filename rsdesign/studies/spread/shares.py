"""Draws that fill every range evenly, and what a result hangs on; plain numbers, no design.

The shares of the variance are those of Sobol 1993, over the pairs of matrices of Saltelli 2002: the
first by the sums of Saltelli et al. 2010, the total by those of Jansen 1999.  They are of a finite number: of a yes or no, or of a result that is
missing in some draws, they mean nothing, and are not given.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ...core.choices import DesignError
from ...equations import chance

SLICES = 20
"""Slices of an input, within each of which the mean of a result is taken."""
FEWEST = 10
"""Draws in a slice at least."""


@functools.lru_cache(maxsize=16)
def latin_hypercube(count: int, inputs: int, seed: int) -> np.ndarray:
    """Chances between 0 and 1: of each input one in each of ``count`` slices, in shuffled order.

    Parameters:
        count: of draws, 1 or more.
        inputs: how many.
        seed: of the shuffle; the same seed gives the same draws.
    Returns: a matrix, a row for each draw and a column for each input (McKay, Beckman and Conover 1979).

    >>> sorted((latin_hypercube(4, 1, 1)[:, 0] * 4).astype(int).tolist())
    [0, 1, 2, 3]
    """
    random = np.random.default_rng(seed)
    slices = random.permuted(np.tile(np.arange(count), (inputs, 1)), axis=1)
    found = (slices + random.random((inputs, count))).T / count
    found.setflags(write=False)
    return found


@dataclass(frozen=True, slots=True, eq=False)
class Shares:
    """For each input, the share of the variance that goes once it is known, and that stays without it."""

    when_known: np.ndarray
    left: np.ndarray
    variance: float


def shares(run: Callable[[np.ndarray], np.ndarray], inputs: int, count: int = 1024, seed: int = 1):
    """Which input a result hangs on: ``count`` times (inputs + 2) runs.

    Parameters:
        run: takes a matrix of chances (a row for each run, a column for each input), gives a number each.
        inputs: how many.
        count: of pairs, a power of two from 64 to 65,536.
        seed: of the draws.
    Returns: ``Shares``.
    Raises: ``DesignError`` where the count is no power of two, and where the result is a yes or no,
        is missing or endless in some draw, or is the same in all.
    """
    if isinstance(count, bool) or count not in [2**k for k in range(6, 17)]:
        raise DesignError(f"n (pairs of draws) is {count}; write a power of two from 64 to 65,536.")
    first, second = np.hsplit(latin_hypercube(count, 2 * inputs, seed), 2)
    mixed = np.repeat(first[None, :, :], inputs, axis=0)
    for place in range(inputs):
        mixed[place, :, place] = second[:, place]
    values = finite(run(np.concatenate([first, second, mixed.reshape(-1, inputs)])))
    of_first, of_second, of_mixed = np.split(values, [count, 2 * count])
    of_mixed = of_mixed.reshape(inputs, count)
    variance = float(np.var(np.concatenate([of_first, of_second])))
    same = np.mean((of_second - of_second.mean()) * (of_mixed - of_first), axis=1)
    apart = np.mean((of_mixed - of_first) ** 2, axis=1)
    return Shares(
        chance.share_when_known.__wrapped__(same, variance),
        chance.share_left.__wrapped__(apart, variance),
        variance,
    )


def finite(values) -> np.ndarray:
    """The values of a result as numbers.

    Raises ``DesignError`` for a yes or no, for one that is missing in some draw, and for one that never varies.
    """
    found = np.asarray(values)
    if found.dtype == bool or set(np.unique(found[np.isfinite(found)]).tolist()) <= {0.0, 1.0}:
        raise DesignError(
            "This result is a yes or no: shares of its variance mean nothing. Take its margin, or"
            " the chance itself."
        )
    missing = int(np.count_nonzero(~np.isfinite(found)))
    if missing:
        raise DesignError(
            f"This result has no number in {missing:,} of {found.size:,} draws: shares of its"
            " variance would mean nothing. Take another result."
        )
    if np.ptp(found) <= 1e-12 * np.max(np.abs(found)):
        raise DesignError("This result is the same in all draws: nothing here moves it.")
    return found.astype(float)


def known_by_slices(uniform: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Share of the variance that goes once an input is known, from draws that are there already.

    The variance of the means within slices of the input over the whole (the correlation ratio of
    Pearson 1905), less what chance alone would leave.

    Parameters:
        uniform: chances, a row for each draw and a column for each input.
        values: a finite result for each draw.
    Returns: a share for each input, from 0.
    """
    count = len(values)
    slices = min(SLICES, max(count // FEWEST, 2))
    ranks = np.minimum((uniform * slices).astype(int), slices - 1) + slices * np.arange(
        uniform.shape[1]
    )
    weight = np.broadcast_to(values[:, None] - values.mean(), uniform.shape)
    sums = np.bincount(ranks.ravel(), weight.ravel(), slices * uniform.shape[1])
    size = np.maximum(np.bincount(ranks.ravel(), minlength=sums.size), 1)
    between = (sums**2 / size).reshape(-1, slices).sum(axis=1)
    whole = float(np.sum((values - values.mean()) ** 2))
    if whole <= 0.0:
        return np.zeros(uniform.shape[1])
    ratio = between / whole
    return np.maximum(0.0, 1.0 - (1.0 - ratio) * (count - 1) / (count - slices))


def rank_correlation(uniform: np.ndarray, values: np.ndarray) -> np.ndarray:
    """How steadily a result rises with each input, from -1 to 1: Spearman's correlation of ranks."""
    ranks = _ranks(values)
    ranks = ranks - ranks.mean()
    inputs = uniform.argsort(axis=0).argsort(axis=0) - (len(values) - 1) / 2.0
    scale = np.sqrt(np.sum(inputs**2, axis=0) * np.sum(ranks**2))
    return (ranks @ inputs) / np.where(scale > 0, scale, 1.0)


def _ranks(values: np.ndarray) -> np.ndarray:
    """Ranks from 0; values that are alike share the mean of their ranks."""
    _, place, many = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(many)
    return (last - (many + 1) / 2.0)[place]
