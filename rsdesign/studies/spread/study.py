"""``spread``: how sure a design is, once it is built and what is not known of it falls out either way."""

from dataclasses import dataclass

import numpy as np

from ...core.choices import DesignError
from ...design.model import Design, arrays_of
from ...sizing.system import Sizing, size
from .built import Built, build
from .inputs import UncertainInput, uncertain_inputs
from .outcomes import Asked, Outcomes
from .shares import known_by_slices, latin_hypercube, rank_correlation

DRAWS, SEED = 2000, 1
FEWEST, MOST = 100, 20_000
BANDS = (0.05, 0.50, 0.95)
"""Shares of the draws that lie below the low end, the middle and the high end of a band."""
MARGIN, COST = "margin", "cost"
"""Results that may be asked about: the tightest check that stands as planned, and what fish cost."""
THIRDS = 3


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """How sure a design is: the draws, and what became of the design in each.

    ``rsdesign.spread`` gives it.  ``frames`` makes tables of it: ``found.checks()`` and so on.
    """

    base: Built
    uniform: np.ndarray
    """Chances, a row for each draw and a column for each input."""
    drawn: dict[str, np.ndarray]
    """By the path of an input, what each draw does to the value of the design: a ratio or a difference."""
    outcomes: Outcomes
    alone: Outcomes
    """With one input at a time at its low and at its high tenth."""
    planned: Outcomes
    """With every input as the design has it: one draw."""
    seed: int

    @property
    def sizing(self) -> Sizing:
        """Of the design as it stands."""
        return self.base.sizing

    @property
    def rows(self) -> tuple[UncertainInput, ...]:
        """Every input."""
        return self.base.rows

    @property
    def known(self) -> tuple[str, ...]:
        """Paths of the inputs that do not vary."""
        return self.base.known

    @property
    def asked(self) -> tuple[Asked, ...]:
        """Every check that is judged in each draw."""
        return self.base.asked

    @property
    def draws(self) -> int:
        """How many draws."""
        return len(self.uniform)

    @property
    def judged(self) -> tuple[Asked, ...]:
        """The checks of which a chance is told; those of the emergency are not among them."""
        return tuple(one for one in self.asked if not one.emergency)

    @property
    def failing(self) -> tuple[Asked, ...]:
        """The checks that fall short as planned already, before anything is drawn."""
        return tuple(one for one in self.judged if not one.stands)

    @property
    def emergency(self) -> tuple[Asked, ...]:
        """The checks for the hour in which the power fails: no chance is told of them."""
        return tuple(one for one in self.asked if one.emergency)

    @property
    def all_stand(self) -> float:
        """Chance that every check stands."""
        return float(self._together(self.judged).mean())

    @property
    def kept_stand(self) -> float:
        """Chance that every check stands that stands as planned."""
        return float(self.keeping.mean())

    @property
    def keeping(self) -> np.ndarray:
        """For each draw, whether every check stands that stands as planned."""
        return self._together(tuple(one for one in self.judged if one.stands))

    def _together(self, checks: tuple[Asked, ...]) -> np.ndarray:
        rows = [self.outcomes.stands[one.name] for one in checks]
        return np.all(rows, axis=0) if rows else np.ones(self.draws, bool)

    def chance(self, name: str) -> float:
        """Chance that one check stands, by its name.  Raises ``DesignError`` for no such check."""
        return float(self.outcomes.stands[self._check(name)].mean())

    def result(self, name: str, found: Outcomes | None = None) -> np.ndarray:
        """A result in each draw, plain numbers: ``"margin"``, ``"cost"``, or the margin of a check by its name.

        Raises ``DesignError`` for a result that is not there, and for a yes or no.
        """
        found = found or self.outcomes
        if name == COST:
            return found.cost
        if name == MARGIN:
            tight = [found.margins[one.name] for one in self.moved]
            return np.min(tight, axis=0) if tight else np.ones(len(found.cost))
        if self._check(name) not in found.margins:
            raise DesignError(
                f"{name!r} is a yes or no: shares of its variance mean nothing. Ask for its chance."
            )
        return found.margins[name]

    def _check(self, name: str) -> str:
        if name not in [one.name for one in self.judged]:
            there = ", ".join(one.name for one in self.judged if one.ratio)
            raise DesignError(f"{name!r} is not a result; choose cost, margin, or one of {there}.")
        return name

    @property
    def moved(self) -> tuple[Asked, ...]:
        """The checks that stand as planned, and whose margin is a ratio that the draws move."""
        return tuple(
            one for one in self.judged
            if one.stands and one.ratio and np.ptp(self.outcomes.margins[one.name]) > 0.0
        )  # fmt: skip

    @property
    def varying(self) -> tuple[int, ...]:
        """Places of the inputs that vary."""
        return tuple(k for k, row in enumerate(self.rows) if row.path not in self.known)

    def known_shares(self, name: str) -> np.ndarray:
        """For each input, the share of the variance of a result that goes once it is known; 0 where it is."""
        values = self.result(name)
        found = np.zeros(len(self.rows))
        if np.all(np.isfinite(values)):
            places = list(self.varying)
            found[places] = known_by_slices(self.uniform[:, places], values)
        return found

    def correlations(self, name: str) -> np.ndarray:
        """For each input, how steadily a result rises with it, from -1 to 1; 0 where it is known."""
        found, places = np.zeros(len(self.rows)), list(self.varying)
        found[places] = rank_correlation(self.uniform[:, places], self.result(name))
        return found

    def chances_by_third(self) -> np.ndarray:
        """For each input, the chance that all keep standing in its lowest, middle and highest third."""
        third = np.minimum((self.uniform * THIRDS).astype(int), THIRDS - 1)
        return np.array(
            [
                [self.keeping[third[:, k] == part].mean() for part in range(THIRDS)]
                for k in range(len(self.rows))
            ]
        )

    def run(self, uniform: np.ndarray) -> Outcomes:
        """What becomes of the built design at other chances of the inputs; known ones stay as they are."""
        return self.base.outcomes(self.base.drawn(uniform), len(uniform))

    def one_at_a_time(self, name: str) -> np.ndarray:
        """A result with each input at its low and its high tenth while all others stay in the middle.

        Returns: a row for each input, two columns.
        """
        return self.result(name, self.alone).reshape(len(self.rows), 2)

    def as_planned(self, name: str) -> float:
        """A result with every input at the value of the design."""
        return float(self.result(name, self.planned)[0])

    def checks(self, system: str = "us"):
        """Every check, worst first, as a pandas frame; see ``frames.checks``."""
        from .frames import checks  # noqa: PLC0415  (only who asks for a frame needs pandas)

        return checks(self, system)

    def inputs(self, system: str = "us"):
        """Every input with its range and source, as a pandas frame; see ``frames.inputs``."""
        from .frames import inputs  # noqa: PLC0415

        return inputs(self, system)

    def measure_first(self, result: str = MARGIN, system: str = "us"):
        """What narrows a result most once it is measured, as a pandas frame; see ``frames.measure_first``."""
        from .frames import measure_first  # noqa: PLC0415

        return measure_first(self, result, system)

    def tornado(self, result: str = COST, system: str = "us"):
        """Each input alone at its low and high tenth, as a pandas frame; see ``frames.tornado``."""
        from .frames import tornado  # noqa: PLC0415

        return tornado(self, result, system)

    def total_shares(self, result: str = MARGIN, n: int = 1024):
        """First and total share of each input in the variance of a result; see ``frames.total_shares``."""
        from .frames import total_shares  # noqa: PLC0415

        return total_shares(self, result, n)

    def each_draw(self, system: str = "us"):
        """Every draw, as a pandas frame; see ``frames.each_draw``."""
        from .frames import each_draw  # noqa: PLC0415

        return each_draw(self, system)

    def __repr__(self) -> str:
        return (
            f"Spread of {self.draws:,} draws: all checks stand in {100 * self.all_stand:.0f} %,"
            f" all that stand as planned in {100 * self.kept_stand:.0f} %"
        )


def spread(
    design: Design | Sizing, draws: int = DRAWS, seed: int = SEED, known: tuple[str, ...] = ()
) -> Spread:
    """How sure a design is: the chance that each check stands, the band of the cost, what to measure.

    Every part is sized once, at the values of the design, and stays as it is built; then all that is
    not sure is drawn at once, within ranges from published values, and the whole balance computed for
    each draw.  The chance is one of this model with these ranges: it is no warranty.

    Parameters:
        design: one ``Design`` (no arrays) or its ``Sizing``.
        draws: how many [whole number], 100 to 20,000; 2,000 tell a chance within about 2 in 100.
        seed: [whole number] the same one, in the range from 0 up, gives the same draws, so that two designs can be compared.
        known: paths of inputs that were measured, such as ``"air.efficiency"``: they do not vary.
    Returns: ``Spread``; ``found.checks()``, ``found.measure_first()``, ``found.tornado()``,
        ``found.total_shares()`` and ``found.each_draw()`` give frames with units in ``attrs``.
    Raises: ``DesignError`` with one sentence.
    Source: ``data/uncertain_inputs.csv``; ``equations.chance``.

    >>> from rsdesign import load
    >>> found = spread(load("family"), draws=200)
    >>> 0.0 <= found.all_stand <= found.kept_stand <= 1.0
    True
    """
    sizing = size(design) if isinstance(design, Design) else design
    if arrays_of(sizing.design):
        raise DesignError("How sure it is, is asked of one design, not of a row of them.")
    _whole("draws", draws, FEWEST, MOST)
    _whole("seed", seed, 0, 2**32 - 1)
    paths = [row.path for row in uncertain_inputs()]
    for path in known:
        if path not in paths:
            raise DesignError(
                f"{path!r} is not an input that varies; there are {', '.join(paths)}."
            )
    return computed(sizing, draws, seed, tuple(known))


def computed(
    sizing: Sizing, draws: int, seed: int, known: tuple[str, ...], money: bool = True
) -> Spread:
    """``spread`` of what was checked; without ``money`` the cost is left out, which is quicker."""
    base = build(sizing, known, money)
    uniform = latin_hypercube(draws, len(base.rows), seed)
    by, ends, middle = base.drawn(uniform), base.ends(), base.middle(1)
    alone = draws + 2 * len(base.rows)
    found = base.outcomes(
        {path: np.concatenate([row, ends[path], middle[path]]) for path, row in by.items()},
        alone + 1,
    )
    return Spread(
        base, uniform, by, found.part(slice(0, draws)), found.part(slice(draws, alone)),
        found.part(slice(alone, None)), seed,
    )  # fmt: skip


def _whole(name: str, value, low: int, high: int) -> None:
    if (
        isinstance(value, bool)
        or not isinstance(value, (int, np.integer))
        or not low <= value <= high
    ):
        raise DesignError(f"{name} is {value!r}; write a whole number from {low:,} to {high:,}.")
