"""Three levels of help, given after an attempt and costing nothing, and the way an expert goes."""

from ..core.formula import symbols
from ..core.kinds import Kind, Unit
from ..core.units import from_plain, number, show
from . import solutions
from .answers import written
from .bank_file import LETTERS
from .model import Ask, Step
from .steps import function_at, kinds_of, leading_to
from .variants import Problem, other_case, other_texts
from .wording import both

HINTS = 3
OTHER_NUMBERS = "With other numbers:"


def hint(problem: Problem, level: int) -> str:
    """One level of help: the principle, which relation, or a worked step with other numbers.

    The numbers of the third are drawn from the same lists and computed by the same functions;
    they are never the learner's own, and its text never holds the learner's own answer.  Its
    lines are the solution, sum by sum.

    Parameters:
        problem: what ``variants.problem`` gives.
        level: 1 the principle, 2 which relation, 3 a worked step [-]; 1 to 3.
    Returns: the text.

    Example: ``hint(problem, 1)``.
    """
    if level <= 1:
        return problem.case.fill(problem.exercise.principle)
    if level == 2:
        return problem.case.fill(problem.exercise.relation)
    return f"{OTHER_NUMBERS} " + "\n".join(other_texts(other_case(problem)))


def hints(problem: Problem) -> tuple[str, ...]:
    """All three levels."""
    return tuple(hint(problem, level) for level in range(1, HINTS + 1))


def way(problem: Problem) -> list[dict]:
    """The way to the numbers asked for, step by step: name, title, what goes in, what comes out.

    The examples on the design pages go this way.  For a learner who has solved it, or a problem that nobody has to solve.
    """
    lines = []
    for step in leading_to(problem.exercise):
        about = getattr(function_at(step.function), "equation", None) if step.function else None
        title = about.summary.rstrip(".") if about else step.name.replace("_", " ").capitalize()
        lines.append({"name": step.name, "title": title, "given": _given(problem, step),
                      "value": _shown(problem, step.name)})  # fmt: skip
    return lines


def expert_path(problem: Problem) -> list[str]:
    """The whole solution, sum by sum, with the learner's own numbers; shown after success only."""
    e, found = problem.exercise, problem.case
    lines = [f"{line.sum}. {line.worked.why}" for line in solutions.lines(found)]
    for ask in e.asks:
        lines += _compared(problem, ask)
    lines += [f"Answer: {shown_answer(problem, ask)}." for ask in e.asks]
    if e.expert:
        lines.append(found.fill(e.expert))
    return lines


def _given(problem: Problem, step: Step) -> str:
    """What goes into a step, in the names and numbers of the problem."""
    for parts, sign in ((step.sum, " + "), (step.difference, " - "), (step.product, " × "),
                        (step.quotient, " ÷ ")):  # fmt: skip
        if parts:
            return sign.join(_value(problem, part) for part in parts)
    if step.chain:
        return f"searched for until {step.chain[-1].name} is {_value(problem, step.equals)}"
    if step.design:
        return f"read off the sizing of the {step.design} design"
    return ", ".join(
        f"{_words(name)} {_value(problem, part)}" if not _named(problem, part)
        else f"{part.replace('_', ' ')} {_value(problem, part)}"
        for name, part in step.arguments.items()
    )  # fmt: skip


def _named(problem: Problem, part) -> bool:
    return isinstance(part, str) and part in problem.case.truth


def _value(problem: Problem, part) -> str:
    if _named(problem, part):
        return _shown(problem, part)
    if isinstance(part, (int, float)):
        return number(part, 4)
    if isinstance(part, list):
        return ", ".join(_value(problem, p) for p in part)
    return part if isinstance(part, str) else "from these"


def _shown(problem: Problem, name: str) -> str:
    """A number of the problem: as drawn, in the unit asked for, or in both systems."""
    e, found = problem.exercise, problem.case
    kind = kinds_of(e).get(name)
    if name in found.typed:
        return both(found.typed[name], kind)
    ask = next((a for a in e.numbers if a.name == name), None)
    if ask is not None:
        return shown_answer(problem, ask)
    if kind is None:
        return number(found.truth[name])
    return both(show(found.truth[name], kind, "us"), kind)


def _compared(problem: Problem, ask: Ask) -> list[str]:
    """For letters: the number behind each option."""
    if ask.form not in ("pick", "order"):
        return []
    kind = kinds_of(problem.exercise).get(ask.by)
    lines = []
    for letter, words in problem.options:
        place = problem.order[LETTERS.index(letter)]
        value = problem.case.options[place][ask.by]
        text = number(value) if kind is None else show(value, kind, "us")
        if ask.cost:
            text += f", {number(problem.case.options[place][ask.cost])} dollars"
        lines.append(f"{letter} ({words.replace(' | ', ', ')}): {text}.")
    return lines


def shown_answer(problem: Problem, ask: Ask) -> str:
    """The right answer as text: in the unit asked for and in the other system, or as letters."""
    answer = problem.answer(ask)
    if ask.form != "number":
        return answer
    unit = ask.kind.unit(ask.unit)
    text = number(from_plain(answer, unit), 4)
    if ask.kind.family == "temperature difference":
        return f"{text} {written(unit.label, ask.kind)} ({_in_the_other(answer, unit, ask.kind)})"
    text = f"{text}%" if unit.label == "%" else f"{text} {unit.label}".strip()
    return text if ask.units else both(text, ask.kind)


def _in_the_other(answer: float, unit: Unit, kind: Kind) -> str:
    """A difference of temperatures in the other of °C and °F."""
    other = next(kind.shown(s) for s in ("us", "metric") if kind.shown(s) != unit)
    return f"{number(from_plain(answer, other), 4)} {written(other.label, kind)}"


def _words(name: str) -> str:
    known = symbols().get(name)
    return known.words if known else name.replace("_", " ")
