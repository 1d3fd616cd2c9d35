"""One choice swept over its range, every result along it, in one call of the sizing."""

import functools
from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError, problem
from ..design.model import FIELDS, CacheKey, Design, problems, value_of, with_values
from ..design.possible import INSTEAD
from ..sizing.system import Sizing, size, value_at


@dataclass(frozen=True, slots=True, eq=False)
class Sweep:
    """A choice's values and the sizing at each; ``short`` says where a part falls short, and which."""

    path: str
    values: np.ndarray
    sizing: Sizing
    short: np.ndarray
    first_short: np.ndarray

    def result(self, figure: str) -> np.ndarray:
        """One figure along the sweep."""
        return np.broadcast_to(np.asarray(value_at(self.sizing, figure), float), self.values.shape)


def sweep(design: Design, path: str, low: float, high: float, count: int = 31) -> Sweep:
    """The design with one choice from ``low`` to ``high`` (plain numbers) in ``count`` steps.

    Steps are even, or in equal ratios where the span is a hundredfold or more.  Raises
    ``DesignError`` when the choice cannot be swept; values at which no design is possible, such as
    more oxygen than water holds, are left out.
    """
    entry = FIELDS.get(path)
    if entry is None or not entry.choice.sweep or entry.choice.low is None:
        raise DesignError(f"{path!r} is not a choice that can be swept.")
    for end in (low, high):
        wrong = problem(entry, float(end))
        if wrong:
            raise DesignError(wrong)
    start = with_values(design, {path: float(low), **dict.fromkeys(INSTEAD.get(path, ()))})
    choices = (*(value_of(start, name) for name in FIELDS), start.unknown)
    return _along(CacheKey(start, choices), path, float(low), float(high), count)


@functools.lru_cache(maxsize=4)
def _along(key: CacheKey, path: str, low: float, high: float, count: int) -> Sweep:
    """The sweep; wherever the choice itself stands meanwhile, what comes along its range is the same."""
    design = key.value
    wide = low > 0 and high / low >= 100
    values = np.geomspace(low, high, count) if wide else np.linspace(low, high, count)
    wrong = [problems(with_values(design, {path: float(v)})) for v in values]
    possible = np.array([not w for w in wrong])
    if possible.sum() < 2:
        raise DesignError(next(w[0] for w in wrong if w))
    values = values[possible]
    found = size(with_values(design, {path: values}))
    parts = [p for p in found.parts if p.capacity]
    margins = np.array(
        [np.broadcast_to(np.nan_to_num(p.margin, nan=0.0), values.shape) for p in parts]
    )
    worst = margins.argmin(axis=0)
    names = np.array([p.label for p in parts])
    return Sweep(path, values, found, margins.min(axis=0) < 1 - 1e-9, names[worst])
