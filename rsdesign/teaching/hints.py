"""Three rungs of help, given after an attempt and costing nothing, and the way an expert goes."""

from ..kinds import UnitError
from ..units import show
from ..working import symbols
from .steps import kinds_of, recorded
from .variants import Problem, other_case, other_text
from .wording import both

RUNGS = 3


def hint(problem: Problem, rung: int) -> str:
    """One rung: 1 the principle, 2 which relation, 3 a worked step with other numbers.

    The numbers of the third are drawn from the same lists and computed by the same functions;
    they are never the learner's own, and its text never holds the learner's own answer.
    """
    if rung <= 1:
        return problem.case.fill(problem.exercise.principle)
    if rung == 2:  # noqa: PLR2004
        return problem.case.fill(problem.exercise.relation)
    return "With other numbers: " + other_text(other_case(problem))


def hints(problem: Problem) -> tuple[str, ...]:
    """All three rungs."""
    return tuple(hint(problem, rung) for rung in range(1, RUNGS + 1))


def expert_path(problem: Problem, system: str = "us") -> list[str]:
    """The whole way in a few lines, with the learner's own numbers; shown after success only."""
    e, found = problem.exercise, problem.case
    lines = []
    for step in recorded(e, found.drawn):
        about = step.equation
        given = ", ".join(
            f"{_words(name)} {_shown(value, about.kinds[name], system)}"
            for name, value in step.given.items()
            if value is not None and not callable(value)
        )
        summary = about.summary.rstrip(".")
        lines.append(f"{summary}: {given} → {_shown(step.result, about.result, system)}")
    for ask in e.asks:
        lines.append(f"Answer: {shown_answer(problem, ask)}.")
    if e.expert:
        lines.append(found.fill(e.expert))
    return lines


def shown_answer(problem: Problem, ask) -> str:
    """The right answer as text: in the unit asked for and in the other system, or as letters."""
    answer = problem.answer(ask)
    if ask.form != "number":
        return answer
    from ..units import from_plain, number  # noqa: PLC0415

    unit = ask.kind.unit(ask.unit)
    text = number(from_plain(answer, unit), 4)
    text = f"{text}%" if unit.label == "%" else f"{text} {unit.label}".strip()
    try:
        return both(text, kinds_of(problem.exercise).get(ask.name) or ask.kind)
    except UnitError:
        return text


def _words(name: str) -> str:
    known = symbols().get(name)
    return known.words if known else name.replace("_", " ")


def _shown(value, kind, system: str) -> str:
    from ..units import number  # noqa: PLC0415

    if isinstance(value, (str, bool)):
        return str(value)
    if kind is None or isinstance(kind, tuple):
        return number(float(value)) if isinstance(value, float) else str(value)
    return show(value, kind, system)
