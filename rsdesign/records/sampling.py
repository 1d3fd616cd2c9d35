"""Draws from what a log leaves possible, by importance: bands that follow intervals and bounds as they are."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

TAIL = 6.0
"""Degrees of freedom of the t distribution that is drawn from; its tails reach beyond those of a normal one."""
FEW = 0.05
"""Share of draws inside the bounds below which those outside are put on the bound."""
ROUNDS = (400, 400, 1000)
"""Draws of each round; each is drawn from what the one before found."""


@dataclass(frozen=True, slots=True, eq=False)
class Draws:
    """Draws with their weights, which add up to one."""

    at: np.ndarray
    """Numbers x draws."""
    weights: np.ndarray

    @property
    def effective(self) -> float:
        """How many draws of equal weight they are worth (Kish 1965)."""
        return float(1.0 / np.sum(self.weights**2))

    def quantiles(self, values: np.ndarray, shares=(0.05, 0.5, 0.95)) -> np.ndarray:
        """The values below which such shares of the weight lie; ``values``: a place for each draw."""
        order = np.argsort(values)
        along = np.cumsum(self.weights[order]) - 0.5 * self.weights[order]
        return np.interp(shares, along, values[order])

    def equal(self, count: int) -> np.ndarray:
        """So many draws of equal weight: numbers x count."""
        along = np.cumsum(self.weights)
        places = np.searchsorted(along, (np.arange(count) + 0.5) / count * along[-1])
        return self.at[:, np.minimum(places, self.weights.size - 1)]


def draws(cost: Callable[[np.ndarray], np.ndarray], centre, spread, ends, seed: int = 1) -> Draws:
    """Draws by the chance that a cost leaves them: the exponential of its negative.

    Parameters:
        cost: of numbers x columns, for all columns in one run.
        centre, spread: where to begin, and a covariance about it.
        ends: low and high bounds.
        seed: of the draws.
    Returns: ``Draws``.
    Source: adaptive importance sampling, Oh and Berger 1992.
    """
    random = np.random.default_rng(seed)
    low, high = (e[:, None] for e in ends)
    for count in ROUNDS:
        root = np.linalg.cholesky(spread + 1e-9 * np.eye(centre.size))
        normal = random.normal(size=(centre.size, count))
        stretch = np.sqrt(TAIL / random.chisquare(TAIL, size=count))
        at = centre[:, None] + root @ (normal * stretch)
        inside = ((at >= low) & (at <= high)).all(axis=0)
        if inside.mean() < FEW:  # pressed against a bound, where most draws would be lost
            at, inside = np.clip(at, low, high), np.ones(count, bool)
        found = np.full(count, np.inf)
        if inside.any():
            found[inside] = np.nan_to_num(cost(at[:, inside]), nan=np.inf)
        far = (normal * stretch) ** 2
        drawn = -0.5 * (TAIL + centre.size) * np.log1p(far.sum(axis=0) / TAIL)
        score = -found - drawn
        weights = np.exp(score - score.max())
        weights /= weights.sum()
        whole = Draws(at, weights)
        if whole.effective > 3 * centre.size:
            centre = at @ weights
            off = at - centre[:, None]
            spread = 1.1 * (off * weights) @ off.T
    return whole
