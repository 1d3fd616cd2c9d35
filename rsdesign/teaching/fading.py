"""Fading inside a set: a worked example, its last step left out, its last two, then one's own problem.

Each stage has other numbers, drawn from the seed of the learner's problem; the steps are the lines of
the solution.  At each step the learner says which reason is behind it.  Source of both: Atkinson,
Renkl & Merrill (2003), J. Educ. Psychol. 95(4), 774-783.  Nothing here is marked or counted.
"""

import functools
from dataclasses import dataclass

from ..core.kinds import UnitError
from . import misconceptions, solutions
from .answers import read
from .bank import find
from .cases import Case, answers, case, close, fault
from .model import Ask, Exercise
from .sets import SetPlan
from .solutions import Line, told
from .steps import kinds_of
from .variants import Problem, alike, numbers
from .wording import numbers_in, reveals

STAGES = (
    "A worked example",
    "The last step is yours",
    "The last two steps are yours",
    "Your own problem",
)
ONLY_STEP = "The step is yours"
NEAR = 0.02
"""Relative tolerance of a step: rounding to three figures stays well within it."""
REASONS = 4
"""Reasons to choose from, at most."""
TRIES = 400


def stages(exercise: Exercise) -> tuple[str, ...]:
    """The stages of an exercise, the last of them the learner's own problem; none where it has no
    solution or its answer is found in lines or letters."""
    if not exercise.solution or len(exercise.numbers) < len(exercise.asks):
        return ()
    return STAGES if len(exercise.solution) > 1 else (STAGES[0], ONLY_STEP, STAGES[-1])


def faded(plan: SetPlan) -> tuple[str, ...]:
    """The exercises of a set that begin with a worked example: the first of each topic with a sum."""
    first: dict[str, str] = {}
    for exercise, turn in plan.turns:
        if not turn and stages(exercise):
            first.setdefault(exercise.topic, exercise.id)
    return tuple(first.values())


@functools.lru_cache(maxsize=4000)
def _stage_index(exercise: Exercise, own: int, seed: bytes, stage: int) -> int:
    """The place of a stage's numbers: unlike the learner's own and unlike the stages before."""
    mine = case(exercise, own)
    before = [case(exercise, _stage_index(exercise, own, seed, s)) for s in range(stage)]
    hidden, stream = answers(mine), numbers(seed, f"stage {stage}")
    spare = own
    for _ in range(TRIES):
        index = next(stream) % exercise.combinations
        if fault(exercise, index) or alike(case(exercise, index), mine):
            continue
        other = case(exercise, index)
        seen = f"{other.fill(exercise.question)} ; {solutions.own_numbers(other)}"
        if reveals(seen, hidden) or any(index == b.index for b in before):
            continue
        spare = index
        if not _shows_a_blank(other, stage):
            return index
    return spare


def _shows_a_blank(other: Case, stage: int) -> bool:
    """Whether a step that is shown holds the number of one that is left out."""
    whole = solutions.lines(other)
    given, left = _split(whole, stage)
    wanted = [_result(line) for line in left]
    return any(told(line.sum, other, wanted) for line in given)


def _split(whole: tuple[Line, ...], stage: int) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    count = len(whole) - min(stage, len(whole))
    return whole[:count], whole[count:]


def _result(line: Line) -> float:
    return numbers_in(line.result)[0]


def stage_case(found: Problem, stage: int) -> Case | None:
    """The numbers of a stage; None where no other numbers can be drawn that tell nothing."""
    index = _stage_index(found.exercise, found.case.index, found.seed, stage)
    return None if index == found.case.index else case(found.exercise, index)


def reasons(found: Problem, place: int) -> list[str]:
    """The reasons to choose from at a step: those of the exercise, and others of its topic.

    They stand in an order that is the learner's own, and the same at each visit.
    """
    e = found.exercise
    own = [line.why for line in e.solution]
    more = [line.why for other in find(topic=e.topic) for line in other.solution]
    stream = numbers(found.seed, f"reasons {place}")
    strangers = _mixed([why for why in dict.fromkeys(more) if why not in own], stream)
    others = _mixed([why for why in own if why != own[place]], stream)
    return _mixed([own[place], *[*others, *strangers][: REASONS - 1]], stream)


def _mixed(texts: list[str], stream) -> list[str]:
    mixed = list(texts)
    for last in range(len(mixed) - 1, 0, -1):
        other = next(stream) % (last + 1)
        mixed[last], mixed[other] = mixed[other], mixed[last]
    return mixed


@dataclass(frozen=True, slots=True)
class Judged:
    """What is said of a step that a learner filled in."""

    right: bool
    words: str


def judge(other: Case, place: int, text: str) -> Judged:
    """Whether a typed result of a step is right, and what to mend; never raises for what was typed."""
    line = other.exercise.solution[place]
    kind = kinds_of(other.exercise)[line.gives]
    unit = line.unit or (kind.plain.label if kind is not None else "")
    ask = Ask(line.gives, "number", "", kind, unit, (unit,) if unit else (), NEAR, 0.0, "",
              0.0, 0.0, "", "", None, "", None)  # fmt: skip
    truth = other.truth[line.gives]
    try:
        reading = read(text, ask)
    except UnitError as wrong:
        return Judged(False, str(wrong))
    wants = unit and kind.plain.label
    if wants and reading.unit is not None and reading.unit.label != kind.unit(unit).label:
        return Judged(False, f"This step ends in {unit}. We read {reading.words}.")
    if close(ask, reading.value, truth):
        return Judged(True, "Right.")
    slip = misconceptions.factor(ask, reading.value, truth)
    if slip is not None:
        return Judged(False, slip.words)
    return Judged(False, misconceptions.not_yet(reading.words, reading.value, truth, line.why))
