"""Check what was typed: number and unit apart, own earlier results followed, words on what to fix."""

from dataclasses import dataclass, replace

from ..core.kinds import UnitError
from . import misconceptions
from .answers import (
    NoUnitError,
    Reading,
    UnknownUnitError,
    WrongUnitError,
    asked_units,
    read,
    read_letters,
    written,
)
from .cases import close
from .drawing_numbers import status
from .generic_slips import generic
from .model import Ask, ExerciseError
from .steps import finite, run
from .variants import Problem


@dataclass(frozen=True, slots=True)
class Checked:
    """What is said of one thing asked.

    ``number`` and ``unit`` are marked apart (``unit`` is None where none is wanted); ``read`` is
    how the answer was read; ``mistake`` the name of a known mistake; ``share`` what it is worth, 0 to 1;
    ``counted`` is False where nothing is an attempt: ``unread`` where something was typed that could
    not be read.
    """

    ask: str
    number: bool
    unit: bool | None
    read: str
    mistake: str
    words: str
    share: float
    counted: bool = True
    unread: bool = False

    @property
    def right(self) -> bool:
        """Right in number and in unit."""
        return self.number and self.unit is not False


@dataclass(frozen=True, slots=True)
class Feedback:
    """What is said of one attempt: first what to fix, thing by thing; then, when all is right,
    the way an expert would go."""

    checked: tuple[Checked, ...]
    expert: tuple[str, ...]

    @property
    def right(self) -> bool:
        """Whether everything asked is right."""
        return all(c.right for c in self.checked)

    @property
    def counted(self) -> bool:
        """Whether this was an attempt: something could be read."""
        return any(c.counted for c in self.checked)

    @property
    def words(self) -> str:
        """The first thing to fix, or that all is right."""
        return next((c.words for c in self.checked if not c.right), "Right.")


NO_ATTEMPT = " This costs no attempt."
WAITS = "We read {read}. It is checked when every box can be read."


def check(problem: Problem, typed: dict, solution: bool = True) -> Feedback:
    """Check one attempt.

    Where a box cannot be read, a word in a unit or a sum for instance, it is no attempt, and
    nothing is said of any number: else a mistake of the keyboard would be a free look at the answer.

    Parameters: ``typed`` holds the text for each thing asked by its name; a missing one counts as
    empty; ``solution``: False leaves the solution out, which marks do not need.  Never raises for
    what was typed.
    """
    from .hints import expert_path  # noqa: PLC0415

    done = as_it_stands(problem, typed)
    if any(c.unread for c in done.checked):
        return Feedback(tuple(map(_unjudged, done.checked)), ())
    if not done.right or not solution:
        return done
    return Feedback(done.checked, tuple(expert_path(problem)))


def as_it_stands(problem: Problem, typed: dict) -> Feedback:
    """The same for an answer on paper, which its learner cannot mend: what can be read is judged."""
    own: dict[str, float] = {}
    checked = []
    for ask in problem.exercise.asks:
        text = typed.get(ask.name, "") if isinstance(typed, dict) else ""
        text = text if isinstance(text, str) else str(text)
        if not text.strip():
            checked.append(_nothing(ask, "Nothing is answered here yet."))
        elif ask.form == "number":
            checked.append(_number(problem, ask, text, own))
        else:
            checked.append(_letters(problem, ask, text))
    return Feedback(tuple(checked), ())


def _unjudged(found: Checked) -> Checked:
    """What may be said of one box while another cannot be read."""
    words = found.words
    if found.unread:
        words += NO_ATTEMPT
    elif found.read:
        words = WAITS.format(read=found.read)
    unit = None if found.unit is None else False
    return replace(
        found, number=False, unit=unit, mistake="", words=words, share=0.0, counted=False
    )


def _unread(ask: Ask, words: str) -> Checked:
    return replace(_nothing(ask, words), unread=True)


def _nothing(ask: Ask, words: str, unit=None) -> Checked:
    if ask.form == "number" and ask.kind.plain.label:
        unit = False
    return Checked(ask.name, False, unit, "", "", words, 0.0, counted=False)


def expected(problem: Problem, ask: Ask, own: dict | None = None) -> float:
    """The number that is right, given the learner's own earlier results of a chain."""
    if not own:
        return problem.answer(ask)
    return run(problem.exercise, problem.case.drawn, fixed=own)[ask.name]


def _number(problem: Problem, ask: Ask, text: str, own: dict) -> Checked:
    """One number; its plain value is kept in ``own`` for the steps after it."""
    truth = expected(problem, ask)
    following = expected(problem, ask, own)
    following = following if finite(following) else truth
    wants_unit = bool(ask.kind.plain.label)
    try:
        reading = read(text, ask)
    except UnknownUnitError as without:
        number = misconceptions.close_number(ask, without.number, following, ask.unit)
        if number:
            own[ask.name] = following
        return Checked(ask.name, number, False, f"{without.number:.10g}", "unit not known",
                       str(without), 0.5 if number else 0.0, unread=True)  # fmt: skip
    except NoUnitError as without:
        number = misconceptions.close_number(ask, without.number, following, ask.unit)
        first = "The number is right. " if number else ""
        mistake = "wrong kind of unit" if isinstance(without, WrongUnitError) else "no unit"
        if number and isinstance(own, dict):
            own[ask.name] = following
        return Checked(ask.name, number, False, f"{without.number:.10g}", mistake,
                       f"{first}{without}", 0.5 if number else 0.0)  # fmt: skip
    except UnitError as wrong:
        return _unread(ask, str(wrong))
    value, note = _taken(ask, reading, (truth, following))
    own[ask.name] = value
    unit = True if wants_unit else None
    if ask.units and reading.unit.label not in [ask.kind.unit(u).label for u in ask.units]:
        return _unit_wanted(ask, reading, value, truth)
    if close(ask, value, truth) or close(ask, value, following):
        words = "Right." if close(ask, value, truth) else "Right, from your own earlier result."
        return Checked(ask.name, True, unit, reading.words, "", f"{words}{note}", 1.0)
    return _wrong(problem, ask, reading, value, following, own)


def _taken(ask: Ask, reading: Reading, rights: tuple[float, ...]) -> tuple[float, str]:
    """Of two ways to read a comma the one that is right, else thousands; and a note on it."""
    if reading.other is None or any(close(ask, reading.value, right) for right in rights):
        return reading.value, ""
    if any(close(ask, reading.other, right) for right in rights):
        return reading.other, " Your comma was read as a decimal comma."
    return reading.value, ""


def _unit_wanted(ask: Ask, reading: Reading, value: float, truth: float) -> Checked:
    """A number in a unit that is not one of those the question wants."""
    good = close(ask, value, truth)
    first = "The size is right, but " if good else ""
    words = f"{first}the question wants it in {' or '.join(asked_units(ask))}."
    return Checked(ask.name, False, False, reading.words, "other unit wanted",
                   words[0].upper() + words[1:], 0.0)  # fmt: skip


def _wrong(problem: Problem, ask: Ask, reading: Reading, value, truth, own) -> Checked:
    """A wrong number: a listed mistake, another unit, a factor, a slip of any sum, or the idea."""
    fixed = {k: v for k, v in own.items() if k != ask.name}
    unit = True if ask.kind.plain.label else None
    mistake = misconceptions.listed(problem.case, ask, value, truth, fixed)
    if mistake is None:
        label = misconceptions.another_unit(ask, reading, truth)
        if label:
            there = written(reading.unit.label, ask.kind)
            words = f"The number is right in {written(label, ask.kind)}, but you wrote {there}."
            return Checked(ask.name, True, False, reading.words, "wrong unit written", words, 0.5)
        mistake = _of_any_sum(problem, ask, value, truth, fixed)
    if mistake is None:
        idea = problem.case.fill(problem.exercise.principle)
        words = misconceptions.not_yet(reading.words, value, truth, idea)
        return Checked(ask.name, False, unit, reading.words, "", words, 0.0)
    return Checked(ask.name, False, unit, reading.words, mistake.name, mistake.words, 0.0)


SURER = 0.001
"""A factor between units is told unless another slip fits better by more than this share."""


def _of_any_sum(problem: Problem, ask: Ask, value, truth, fixed):
    """A factor between units, or a slip that any sum can hold: what fits the number better."""
    factor = misconceptions.factor(ask, value, truth)
    slip = generic(problem.case, ask, value, truth, fixed)
    if slip is None or (factor is not None and factor.off <= slip.off + SURER):
        return factor
    return slip


def _letters(problem: Problem, ask: Ask, text: str) -> Checked:
    """A letter, an order of letters, or the wrong line."""
    count = len(problem.exercise.lines if ask.form == "line" else problem.exercise.options)
    try:
        answer = read_letters(text, ask, count)
    except ExerciseError as wrong:
        return _unread(ask, str(wrong))
    right = problem.answer(ask)
    if answer == right:
        why = f" {problem.case.planted.words}" if ask.form == "line" else ""
        return Checked(ask.name, True, None, answer, "", f"Right.{why}", 1.0)
    mistake = misconceptions.letter_misconception(problem, ask, answer)
    if mistake is not None:
        return Checked(ask.name, False, None, answer, mistake.name, mistake.words, 0.0)
    if ask.form == "order":
        off = sum(a != b for a, b in zip(answer, right, strict=True))
        share = 0.5 if off == 2 else 0.0
        first = next(i for i, (a, b) in enumerate(zip(answer, right, strict=True)) if a != b)
        words = (
            f"{off} of {count} letters stand in the wrong place. Look first at place {first + 1} of your"
            f" order: {answer[first]} does not belong there. Work out the number behind each letter."
            f" {problem.case.fill(problem.exercise.principle)}"
        )
        return Checked(ask.name, False, None, answer, WRONG_ORDER, words, share)
    words, name = _pick_words(problem, ask, answer)
    return Checked(ask.name, False, None, answer, name, words, 0.0)


WRONG_ORDER = "letters in another order"
"""Said where no known mistake explains an order."""


def _pick_words(problem: Problem, ask: Ask, answer: str) -> tuple[str, str]:
    place = problem.order["ABCDEFGH".index(answer)]
    limit, costs, budget = problem.case.money(ask)
    value = problem.case.options[place][ask.by]
    why = status(ask, value, limit, costs[place], budget)
    return f"{answer} {why}. {problem.case.fill(problem.exercise.principle)}", why
