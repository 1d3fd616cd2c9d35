"""Least squares with what was known before, gross errors held back, and what the data leave open.

A number is sought in units in which its prior has the standard deviation one.  Residuals far from zero
count as soft L1: ``2 (sqrt(1 + z) - 1)`` of their square ``z``, so that one wrong reading does not carry
the rest away.  The search is that of Levenberg and Marquardt with bounds, in plain NumPy; the tests compare
it with SciPy's.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

SOFT = 2.5
"""Residual, in standard deviations, beyond which a reading counts less and less; common practice."""
STEP = 1e-3
"""Step of a parameter for its slope, in prior standard deviations."""
ROUNDS = 80
STILL = 1e-7
"""Change of the sum of squares, relative, at which the search ends."""
SINGULAR = 1e8
"""Condition number from which the data tell nothing at all along some direction."""

Model = Callable[[np.ndarray], np.ndarray]
"""Residuals x columns for parameters x columns."""


def soft_l1(square, soft: float = SOFT):
    """The soft L1 loss of squared residuals and its slope; the square itself where ``soft`` is infinite.

    >>> loss, slope = soft_l1(np.array([0.0, 3.0]), 1.0)
    >>> loss.tolist(), slope.tolist()
    ([0.0, 2.0], [1.0, 0.5])
    """
    if not np.isfinite(soft):
        return square, np.ones_like(square)
    whole = np.sqrt(1.0 + square / soft**2)
    return 2.0 * soft**2 * (whole - 1.0), 1.0 / whole


@functools.cache
def strength(soft: float = SOFT) -> float:
    """By how much soft L1 counts, so that normal scatter gives standard errors that are true.

    The curvature of the loss over the variance of its slope, for residuals of a normal scatter of one:
    ``E[psi'] / E[psi²]`` (Huber 1964), by the quadrature of Gauss and Hermite.

    >>> round(strength(float("inf")), 12), 1.0 < strength(2.5) < 1.2
    (1.0, True)
    """
    x, weight = np.polynomial.hermite_e.hermegauss(80)
    whole = np.sqrt(1.0 + x * x / soft**2)
    return float((weight / whole**3).sum() / (weight * (x / whole) ** 2).sum())


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """What a search found, in prior standard deviations from the prior."""

    at: np.ndarray
    residuals: np.ndarray
    slopes: np.ndarray
    """Residuals x parameters."""
    weights: np.ndarray
    """What each residual counts after soft L1."""
    cost: float
    rounds: int
    settled: bool


def fit(model: Model, start, low, high, prior: bool = True, soft: float = SOFT) -> Fit:
    """The numbers that agree best with the data and with what was known before.

    Parameters:
        model: the residuals, for all columns in one run.
        start: where to begin, in prior standard deviations.
        low, high: bounds, likewise.
        prior: whether what was known before counts, as the sum of squares of the numbers.
        soft: residual from which soft L1 holds back; infinite for plain least squares.
    Returns: ``Fit``.
    Source: Levenberg 1944 and Marquardt 1963; the loss as in Triggs et al. 2000.

    >>> found = fit(lambda p: 2.0 * p - 1.0, np.zeros(1), -np.ones(1), np.ones(1), prior=False)
    >>> round(float(found.at[0]), 5)
    0.5
    """
    x, damping, settled, rounds = np.clip(start, low, high), 1e-3, False, 0
    residuals, slopes = _with_slopes(model, x, high)
    cost = cost_of(residuals, x, prior, soft)
    while not settled and rounds < ROUNDS:
        rounds += 1
        weights = weights_of(residuals, soft)
        curve = (slopes * weights[:, None]).T @ slopes + prior * np.eye(x.size)
        pull = slopes.T @ (weights * residuals) + prior * x
        trial = np.clip(x + _step(curve, pull, damping, (x, low, high)), low, high)
        new = _with_slopes(model, trial, high)
        new_cost = cost_of(new[0], trial, prior, soft)
        if new_cost <= cost:
            settled = cost - new_cost <= STILL * cost + 1e-14
            x, (residuals, slopes), cost = trial, new, new_cost
            damping = max(0.3 * damping, 1e-9)
        else:
            damping *= 6.0
            settled = damping > 1e10
    return Fit(x, residuals, slopes, weights_of(residuals, soft), cost, rounds, settled)


def _with_slopes(model: Model, x, high) -> tuple[np.ndarray, np.ndarray]:
    """Residuals and their slopes, from one run of the model with a column for each number."""
    steps = np.where(x + STEP > high, -STEP, STEP)
    found = model(np.concatenate([x[:, None], x[:, None] + np.diag(steps)], axis=1))
    return found[:, 0], (found[:, 1:] - found[:, :1]) / steps


def _step(curve, pull, damping, ends) -> np.ndarray:
    """The step that the curve asks for; a number at a bound that pulls outward stays."""
    x, low, high = ends
    held = ((x <= low) & (pull > 0.0)) | ((x >= high) & (pull < 0.0))
    free = ~held
    step = np.zeros_like(x)
    some = curve[np.ix_(free, free)]
    some = some + damping * np.diag(np.diag(some) + 1e-12)
    step[free] = -np.linalg.lstsq(some, pull[free], rcond=None)[0]
    return step


def weights_of(residuals, soft: float = SOFT):
    """What each residual counts."""
    return strength(soft) * soft_l1(residuals**2, soft)[1]


def cost_of(residuals, x, prior: bool = True, soft: float = SOFT):
    """Half the sum of what residuals and departures from the prior count; along the first axis."""
    data = strength(soft) * soft_l1(residuals**2, soft)[0].sum(axis=0)
    return 0.5 * (data + prior * (x**2).sum(axis=0))


def covariance(information: np.ndarray, prior: float = 0.0) -> np.ndarray:
    """The inverse of J'J, with a prior of so many times one standard deviation's worth.

    What the data do not tell at all comes out as good as infinite, never as a pseudo-inverse has it, which
    would call such numbers certain.

    >>> spread = covariance(np.array([[4.0]])), covariance(np.ones((2, 2)))
    >>> float(spread[0][0, 0]), bool(spread[1][0, 0] > 1e6)
    (0.25, True)
    """
    values, vectors = np.linalg.eigh(information + prior * np.eye(len(information)))
    least = max(float(values.max(initial=0.0)) / SINGULAR, 1e-12)
    return (vectors / np.maximum(values, least)) @ vectors.T


def condition(information: np.ndarray) -> float:
    """How many times more the data tell along their best direction than along their worst.

    >>> condition(np.diag([4.0, 1.0])), condition(np.ones((2, 2))) > 1e12
    (4.0, True)
    """
    values = np.linalg.eigvalsh(information)
    return float(values[-1] / max(values[0], values[-1] * 1e-16, 1e-300))


def block_bootstrap(residuals: np.ndarray, slopes: np.ndarray, length: int = 5, count: int = 400,
                    prior: float = 1.0, seed: int = 1) -> np.ndarray:  # fmt: skip
    """Standard deviations by drawing the residuals again, in blocks of neighbours.

    Each draw lays blocks of residuals end to end in the place of the others and takes one step of Gauss and
    Newton; neighbours stay together, so that readings that err alike do not count as many.

    Parameters:
        residuals: what the fit left, in standard deviations, neighbours side by side.
        slopes: residuals x numbers.
        length: residuals in a block.
        count: draws.
        prior: 1 where what was known before holds the numbers, else 0.
        seed: of the draws.
    Returns: a standard deviation for each number.
    Source: Künsch 1989, moving blocks, wrapped around.

    >>> noise = np.random.default_rng(2).normal(size=400)
    >>> found = block_bootstrap(noise, np.ones((400, 1)), prior=0.0)
    >>> 0.035 < float(found[0]) < 0.065
    True
    """
    many = residuals.size
    curve = slopes.T @ slopes + prior * np.eye(slopes.shape[1])
    lever = np.linalg.pinv(curve) @ slopes.T
    random = np.random.default_rng(seed)
    starts = random.integers(many, size=(count, -(-many // length)))
    places = (starts[:, :, None] + np.arange(length)) % many
    drawn = (residuals - residuals.mean())[places.reshape(count, -1)[:, :many]]
    return (drawn @ lever.T).std(axis=0)
