"""The numbers of a system as its own log shows them, with what the log cannot tell."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS, Kind
from ..core.notebook import shown_in
from ..core.units import clipped
from ..design.model import FIELDS, Design, arrays_of, with_values
from ..sizing.system import Sizing, size
from .box_model import COURSES, BoxModel
from .drive import Log, drive_of
from .film_surface import surface_of
from .fitting import Fit, block_bootstrap, condition, covariance, fit
from .sampling import Draws, draws
from .unknowns import Task, check_enough, tests_of, unknowns_of
from .verdicts import Verdict, data_only, verdicts_of, what_decides

BAND = (0.05, 0.5, 0.95)
BAND_DRAWS = 300
"""Draws behind a band of courses."""
PLACES = 9
"""Draws among which the middling J'J is found."""
GROSS = 3.0
"""Standard deviations beyond which a reading is a gross error, which soft L1 holds back and scatter does not count."""
KIND_OF = {"filter_factor": "ratio", "ammonia_share": "fraction", "water_out": "daily flow",
           "evaporation": "daily flow", "growth": "ratio"}  # fmt: skip
PATHS = {
    "filter_factor": "filter.derate",
    "water_out": "makeup.drained",
    "growth": "stock.growth_coefficient",
}
"""The choice of a design that a number is carried into; the others have none."""


@dataclass(frozen=True, slots=True)
class TunedNumber:
    """One tuned number, plain."""

    name: str
    words: str
    kind: Kind
    prior: tuple[float, float, float]
    """What was known before: 5 %, 50 % and 95 %."""
    value: float
    low: float
    """5 %."""
    high: float
    """95 %."""
    decidable: bool
    why: str
    decides: str
    source: str


@dataclass(frozen=True, eq=False)
class Tuned:
    """What a log says of a design: numbers with their bands, what it cannot tell, and the tuned design."""

    log: Log
    sizing: Sizing
    task: Task
    found: Fit
    drawn: Draws
    information: np.ndarray
    """J'J of the readings, in prior standard deviations."""
    verdicts: dict[str, Verdict]
    notes: tuple[str, ...]

    @property
    def condition(self) -> float:
        """Condition number of J'J: how much better the log tells one direction than another."""
        return asked_condition(self.task, self.information)

    @cached_property
    def decides(self) -> dict[str, str]:
        """What would decide each number that the log leaves open, a sentence each; four weeks more are run for it."""
        return what_decides(self.task, self.found.at, self.information, self.log.date)

    @cached_property
    def parameters(self) -> tuple[TunedNumber, ...]:
        """Every number that was looked for."""
        before, after = (self.answers(x) for x in (self._before(2000), self.drawn.at))
        return tuple(
            self._one(n, before[n], after[n]) for n in after if self._of(n) in self.verdicts
        )

    def _of(self, name: str) -> str:
        """The number that was looked for, behind one that is asked."""
        water = "drained" if self.task.model.drive.added is None else "evaporated"
        return water if name in ("water_out", "evaporation") else name

    def __getitem__(self, name: str) -> TunedNumber:
        """One number by its name, such as ``"filter_factor"``."""
        for one in self.parameters:
            if one.name == name:
                return one
        raise KeyError(
            f"{name!r} is not a tuned number; choose from: {', '.join(p.name for p in self.parameters)}."
        )

    def _one(self, name: str, before: np.ndarray, after: np.ndarray) -> TunedNumber:
        unknowns = {u.name: u for u in self.task.unknowns}
        of = self._of(name)
        verdict = self.verdicts[of]
        words = {
            "water_out": "water that leaves as a liquid",
            "evaporation": "water that evaporates",
        }
        low, middle, high = (float(v) for v in self.drawn.quantiles(after, BAND))
        prior = np.quantile(before, BAND)
        # A band moved by the fit of the other numbers would claim what the log does not know.
        if not verdict.decidable:
            low, middle, high = (float(v) for v in prior)
        return TunedNumber(name, words.get(name, unknowns[of].words), KINDS[KIND_OF[name]],
                      (float(prior[0]), float(prior[1]), float(prior[2])), middle, low, high,
                      verdict.decidable, verdict.why, self.decides.get(of, ""), unknowns[of].source)  # fmt: skip

    def answers(self, x: np.ndarray) -> dict[str, np.ndarray]:
        """What is asked for, plain, for each column of numbers."""
        numbers, model = self.task.numbers(x), self.task.model
        found = {n: numbers[n] for n in ("filter_factor", "ammonia_share")}
        found["water_out"] = model.drained(numbers)
        if model.drive.added is not None:
            found["evaporation"] = model.evaporated(numbers)
        return found | {"growth": numbers["growth"]}

    def _before(self, count: int) -> np.ndarray:
        """Draws of what was known before the log, with the levels at the start as they were found."""
        random = np.random.default_rng(1)
        low, high = (e[:, None] for e in self.task.ends)
        found = np.clip(random.normal(size=(low.size, count)), low, high)
        start = [i for i, u in enumerate(self.task.unknowns) if not u.asked]
        found[start] = self.drawn.equal(count)[start]
        return found

    def courses(self, system: str = "us"):
        """What the water should have been, by the design before and by the tuned numbers after.

        Parameters:
            system: "us", "metric" or "si".
        Returns: a pandas frame with a row for the evening of each day; for each of ``tan``, ``nitrite``,
            ``nitrate``, ``alkalinity``, ``chloride`` and ``fish_weight`` the columns ``_before_5``,
            ``_before_50``, ``_before_95`` and the same after.  ``attrs``: units by column, system.
        """
        import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

        days = np.arange(self.task.model.drive.days)
        columns: dict = {"day": days, "date": [self.log.date(d).isoformat() for d in days]}
        units = {"day": "day", "date": ""}
        bands = {"before": self._before(BAND_DRAWS), "after": self.drawn.equal(BAND_DRAWS)}
        for word, x in bands.items():
            found = self.task.model.courses(self.task.numbers(x))
            for name, kind in COURSES.items():
                band = np.quantile(found[name][1:], BAND, axis=1)
                for share, row in zip(BAND, band, strict=True):
                    head = f"{name}_{word}_{round(100 * share)}"
                    columns[head], units[head] = shown_in(row, KINDS[kind], system)
        frame = pd.DataFrame(columns)
        frame.attrs.update(units=units, system=system)
        return frame

    def table(self, system: str = "us"):
        """Every tuned number as a row of a pandas frame; units in the column ``unit``."""
        import pandas as pd  # noqa: PLC0415

        rows = []
        for one in self.parameters:
            (value, unit), *ends = (
                shown_in(v, one.kind, system) for v in (one.value, one.low, one.high, *one.prior)
            )
            low, high, *prior = (v for v, _ in ends)
            rows.append({"number": one.words, "before": prior[1], "before_5": prior[0], "before_95": prior[2],
                         "value": value, "value_5": low, "value_95": high, "unit": unit,
                         "decidable": one.decidable, "why": one.why, "decides": one.decides})  # fmt: skip
        return pd.DataFrame(rows, index=[one.name for one in self.parameters])

    @cached_property
    def bootstrap(self) -> dict[str, tuple[float, float]]:
        """Standard deviations of the logarithms: by (J'J)⁻¹ with the prior, and by blocks of residuals drawn again.

        The two agree where readings err one by one; the second is larger where neighbours err alike.
        """
        slopes = self.task.slopes(self.found.at) * np.sqrt(self.task.told(self.found.at))[:, None]
        left = np.nan_to_num(self.task.off(self.found.at)) / self.task.misfit
        drawn = block_bootstrap(left, slopes)
        plain = np.sqrt(np.diag(covariance(self.information, 1.0) @ self.information
                                @ covariance(self.information, 1.0)))  # fmt: skip
        return {u.name: (float(u.apart * a), float(u.apart * b))
                for u, a, b in zip(self.task.unknowns, plain, drawn, strict=True) if u.asked}  # fmt: skip

    def design(self) -> Design:
        """The design with the tuned numbers in it: those that the log decides and that a design has a choice for.

        ``carried()`` says in words which were taken over, and which could not be.
        """
        return with_values(
            self.sizing.design, {path: value for path, value, _ in self._carried() if path}
        )

    def carried(self) -> tuple[str, ...]:
        """What the tuned design takes over and what it cannot, a sentence for each number."""
        return tuple(words for _, _, words in self._carried())

    def _carried(self) -> list[tuple[str, float, str]]:
        return [self.carry(one) for one in self.parameters]

    def carry(self, one: TunedNumber) -> tuple[str, float, str]:
        """The choice that a number goes into, its value there, and a sentence."""
        design, path = self.sizing.design, PATHS.get(one.name)
        said = f"{one.words[0].upper()}{one.words[1:]}"
        if not one.decidable:
            return "", 0.0, f"{said}: left as it is in the design, for the log does not decide it."
        if path is None:
            instead = {"ammonia_share": "the season takes it as ammonia_share",
                       "evaporation": "it follows from the weather of the design"}[one.name]  # fmt: skip
            return "", 0.0, f"{said}: not carried over, a design has no choice for it; {instead}."
        value = one.value
        if one.name == "filter_factor":
            path = "filter.derate" if design.filter.rate is None else "filter.rate"
            value *= float(
                design.filter.derate if design.filter.rate is None else design.filter.rate
            )
        if one.name == "growth" and design.stock.ration is not None:
            return (
                "",
                0.0,
                f"{said}: not carried over, this design feeds by a ration and leaves growth out.",
            )
        about = FIELDS[path].choice
        low, high = (float(x) if x is not None else None for x in (about.low, about.high))
        kept = float(np.clip(value, low, high))
        words = f"{said}: carried over into “{about.label}”."
        if kept != value:
            words = f"{said}: carried over into “{about.label}” as far as its range goes."
        return path, kept, words


def tune(log: Log, design: Design | Sizing, known: Iterable[str] = (), seed: int = 1) -> Tuned:
    """The numbers of a system as its own log shows them.

    Looked for are the filter factor (rate of the film over that of the design), the share of the feed's
    nitrogen that turns to ammonia, the water that leaves as a liquid and that evaporates, and the growth
    coefficient: by least squares of the season's water under the logged feed, each number held by what was
    known before, each colour of a kit taken as the interval it stands for, wrong readings held back by soft
    L1.  Bands are drawn from what readings and prior leave possible.

    Parameters:
        log: a ``WaterLog``, from ``records.read_log``.
        design: the design of the system, or its ``Sizing``.
        known: names of numbers that are taken as the design has them: "filter_factor", "ammonia_share",
            "evaporated", "drained", "growth".
        seed: number [-] that begins the draws, 0 or more.
    Returns: ``Tuned``.
    Raises: ``DesignError`` with one sentence where the log is too short or tells no feed.
    Source: least squares with soft L1 and priors (a common method); the water of ``season``; priors
        in ``records.unknowns``, each with its own.

    Example: ``tune(read_log("my_log.csv"), load("school"))["filter_factor"].value``.
    """
    sizing = size(design) if isinstance(design, Design) else design
    if arrays_of(sizing.design):
        raise DesignError("A log is of one system; take one of the swept designs.")
    tests = tests_of(log)
    check_enough(log, tests)
    drive = drive_of(log, sizing)
    unknowns = unknowns_of(drive, tests)
    fixed = _fixed(unknowns, known)
    model = BoxModel(drive, surface_of(drive))
    task = Task(model, tuple(u for u in unknowns if u.name not in fixed), tests, fixed=fixed)
    found, task = _settled(task)
    spread = 1.3 * covariance(task.information(found.at), 1.0)
    drawn = draws(task.cost, found.at, spread, task.ends, seed)
    information = _middling(task, drawn)
    return Tuned(
        log, sizing, task, found, drawn, information, verdicts_of(task, information), _notes(task)
    )


def _middling(task: Task, drawn: Draws) -> np.ndarray:
    """Of J'J at some draws, the one that leaves every number open about as far as the middle of them does.

    Where bacteria take over from the film the courses have a fold, and J'J at such a place looks as if it told
    more than the log does; the middle of what is possible is not misled by it.
    """
    found = [task.information(x) for x in drawn.equal(PLACES).T]
    left_open = np.log([data_only(task, one) for one in found])
    off = np.abs(left_open - np.median(left_open, axis=0)).sum(axis=1)
    return found[int(off.argmin())]


def asked_condition(task: Task, information: np.ndarray) -> float:
    """Condition number of J'J for what is asked, the levels at the start found along with it."""
    asked = np.array([u.asked for u in task.unknowns])
    whole = information + np.diag(np.where(asked, 0.0, 1.0))
    cross, starts = whole[np.ix_(asked, ~asked)], whole[np.ix_(~asked, ~asked)]
    return condition(whole[np.ix_(asked, asked)] - cross @ np.linalg.inv(starts) @ cross.T)


def _fixed(unknowns, known: Iterable[str]) -> dict[str, float]:
    """Numbers that are taken as known."""
    by_name = {u.name: u.prior for u in unknowns if u.asked}
    for name in known:
        if name not in by_name:
            raise DesignError(
                f"{clipped(str(name))} is not a number that is tuned; choose from: {', '.join(by_name)}."
            )
    return {name: by_name[name] for name in known}


def _settled(task: Task) -> tuple[Fit, Task]:
    """The fit, and the task with the misfit that it shows."""
    found = fit(task.residuals, np.zeros(len(task.unknowns)), *task.ends)
    off = task.off(found.at)
    off = off[np.isfinite(off)]
    if off.size < 8:
        return found, task
    misfit = float(np.sqrt(np.mean(np.minimum(off**2, GROSS**2))))
    if misfit <= 1.0 + 2.0 / np.sqrt(2.0 * off.size):  # what chance alone does to such a mean
        return found, task
    task = replace(task, misfit=misfit)
    return fit(task.residuals, found.at, *task.ends), task


def _notes(task: Task) -> tuple[str, ...]:
    """What the answers rest on, a sentence each."""
    drive = task.model.drive
    notes = list(task.tests.left_out)
    guessed = int((~drive.known_feed).sum())
    if guessed:
        notes.append(f"Days whose feed the log does not tell: {guessed}; the feed between the days before and after"
                     " was taken.")  # fmt: skip
    if drive.added is None:
        notes.append(
            "The log does not tell the new water; what the design plans was taken, and the level kept."
        )
    elif not drive.weather:
        notes.append("The design tells no weather, so evaporation was hardly known before.")
    if task.misfit > 1.0:
        notes.append(f"The readings scatter {task.misfit:.1f} times as much as such tests do; the bands are as much"
                     " wider.")  # fmt: skip
    notes.append("The volume of water is that of the design, and its level is taken as kept.")
    return tuple(notes)
