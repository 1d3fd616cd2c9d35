"""A design as it is built, ready to be drawn: its unsure inputs, its checks, and the year that it rests on."""

import functools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ...design.model import Design, value_of
from ...sizing.system import Sizing
from ..heat.yearly import Weathered, weathered
from .inputs import UncertainInput, drawn, range_of, uncertain_inputs
from .outcomes import Asked, Outcomes, asked_of, outcomes
from .plan import EVAPORATION, as_built, changes
from .seasons import allowed_by

MIDDLE = {"ratio": 1.0, "difference": 0.0, "rest": 1.0, "line": 1.0}
"""What leaves the value of a design as it is, by the way of an input."""
TENTHS = (0.1, 0.9)
"""Where each input is set in turn, one at a time."""
GROWTH = "stock.growth_coefficient"


@dataclass(frozen=True, slots=True, eq=False)
class Built:
    """A design with every part told, and all that is asked of it in each draw."""

    sizing: Sizing
    design: Design
    weather: Weathered | None
    """What the year rests on; None where no cost is asked."""
    rows: tuple[UncertainInput, ...]
    known: tuple[str, ...]
    asked: tuple[Asked, ...]

    def drawn(self, uniform: np.ndarray) -> dict[str, np.ndarray]:
        """What each draw does to each input, by its path; known inputs stay as they are."""
        # Chances that are kept as a read-only matrix are turned into values once.
        draw = _draw if uniform.flags.writeable else _drawn_once
        found = self.middle(len(uniform))
        for place, row in enumerate(self.rows):
            if row.path not in self.known:
                found[row.path] = draw(row, range_of(row, self.sizing), _Column(uniform, place))
        return found

    def middle(self, count: int) -> dict[str, np.ndarray]:
        """Draws that leave every input as the design has it."""
        return {row.path: np.full(count, MIDDLE[row.way]) for row in self.rows}

    def ends(self) -> dict[str, np.ndarray]:
        """Two draws for each input, which alone is at its low and at its high tenth."""
        found = self.middle(2 * len(self.rows))
        for place, row in enumerate(self.rows):
            if row.path not in self.known:
                ends = drawn(row, range_of(row, self.sizing), np.array(TENTHS))
                found[row.path][2 * place : 2 * place + 2] = ends
        return found

    def outcomes(self, by: dict[str, np.ndarray], count: int) -> Outcomes:
        """What becomes of the built design in each of so many draws."""
        changed = changes(self.sizing, self.rows, by)
        allowed = None
        if self.weather is not None:
            rate = changed.get(GROWTH, value_of(self.sizing.design, GROWTH))
            allowed = allowed_by(self.sizing, self.weather, np.broadcast_to(rate, (count,)))
            allowed = allowed or self.weather.allowed
        return outcomes(
            self.sizing, self.design, self.asked, changed, count, self.weather, by[EVAPORATION],
            allowed,
        )  # fmt: skip


def build(sizing: Sizing, known: tuple[str, ...], money: bool = True) -> Built:
    """A design as it is built; without ``money`` no cost is asked."""
    return Built(
        sizing, as_built(sizing), weathered(sizing) if money else None, uncertain_inputs(), known,
        asked_of(sizing),
    )  # fmt: skip


class _Column:
    """One column of a matrix of chances; equal to another column of the same matrix by its place."""

    def __init__(self, matrix: np.ndarray, place: int):
        self.matrix, self.place = matrix, place

    def __hash__(self):
        return hash((id(self.matrix), self.place))

    def __eq__(self, other):
        return self.matrix is other.matrix and self.place == other.place


def _draw(row: UncertainInput, ends: tuple[float, float, float], column: _Column) -> np.ndarray:
    return drawn(row, ends, column.matrix[:, column.place])


_drawn_once: Callable = functools.lru_cache(maxsize=256)(_draw)
