"""An exercise in the cells of a notebook: the learner's own numbers, and an answer that is judged.

The judging is that of the exercises; nothing is marked or kept.
"""

import html

from ..core.notebook import table
from ..core.units import from_plain, from_quantity, is_quantity
from . import checking
from .bank import exercise as exercise_named
from .hints import hint
from .model import Ask, ExerciseError
from .variants import Problem, learner_key, problem

PRACTICE = "practice without a class"
"""The public key for work that nobody marks."""


class Task:
    """One learner's exercise: shown as its text; ``hint`` gives three rungs of help."""

    def __init__(self, found: Problem):
        self.problem = found

    def hint(self, rung: int = 1) -> str:
        """The principle (1), which relation (2), or a worked step with other numbers (3)."""
        return hint(self.problem, rung)

    @property
    def lines(self) -> list[str]:
        """The text, the caution, what can be chosen, and what is asked."""
        found, about = self.problem, self.problem.exercise
        asks = [f"{ask.name}: {found.ask_text(ask)}".rstrip(": ") for ask in about.asks]
        chosen = [f"{letter}: {words}" for letter, words in found.options]
        caution = [about.caution] if about.caution else []
        return [found.text, *found.lines, *chosen, *caution, f"Asked: {'; '.join(asks)}"]

    def __repr__(self) -> str:
        return "\n".join([self.problem.exercise.title, *self.lines])

    def _repr_html_(self) -> str:
        body = "".join(f"<p>{html.escape(line)}</p>" for line in self.lines)
        return f"<b>{html.escape(self.problem.exercise.title)}</b>{body}"


class Answer:
    """What is said of an answer, thing by thing."""

    def __init__(self, feedback: checking.Feedback):
        self.feedback = feedback

    @property
    def right(self) -> bool:
        """Whether everything asked is right."""
        return self.feedback.right

    def __repr__(self) -> str:
        said = [f"{c.ask}: {c.words}" for c in self.feedback.checked]
        return "\n".join([*said, *self.feedback.expert])

    def _repr_html_(self) -> str:
        rows = [(c.ask, c.read, c.words) for c in self.feedback.checked]
        expert = "".join(f"<p>{html.escape(line)}</p>" for line in self.feedback.expert)
        return table(("asked", "we read", "what we say"), rows) + expert


def exercise(name: str, code: str = "PRACTICE") -> Task:
    """An exercise of the bank with the numbers of one learner.

    Parameters:
        name: such as ``"solids-area"``.
        code: the learner's code; the same code gives the same numbers on every machine.
    Returns: the ``Task``, which a notebook shows as its text.
    Raises: ``ExerciseError`` for a name or a code that cannot be.

    >>> exercise("solids-area").problem.name
    'solids-area'
    """
    return Task(problem(exercise_named(name), code, learner_key(PRACTICE, code)))


def check(task: Task, *answers, **named) -> Answer:
    """What is said of an answer: right, or what to fix.

    Parameters:
        task: what ``exercise`` gives.
        answers: in the order in which they are asked: texts as one types them, such as ``"13 ft²"``,
            pint quantities, or letters.
        named: the same by the names of what is asked.
    Returns: the ``Answer``, thing by thing.
    Raises: ``ExerciseError`` for more answers than are asked, or a name that is not asked.

    >>> check(exercise("solids-area"), "1 ft²").right
    False
    """
    asks = task.problem.exercise.asks
    if len(answers) > len(asks):
        raise ExerciseError(
            f"{len(asks)} answers are asked for here, and {len(answers)} were given."
        )
    strangers = set(named) - {ask.name for ask in asks}
    if strangers:
        raise ExerciseError(f"{min(strangers)!r} is not asked here; give"
                            f" {', '.join(ask.name for ask in asks)}.")  # fmt: skip
    given = {ask.name: answer for ask, answer in zip(asks, answers, strict=False)} | named
    typed = {ask.name: _text(given.get(ask.name, ""), ask) for ask in asks}
    return Answer(checking.check(task.problem, typed))


def _text(answer, ask: Ask) -> str:
    """An answer as one would type it; a quantity in the unit of the question."""
    if not is_quantity(answer) or ask.kind is None:
        return str(answer)
    unit = ask.kind.unit(ask.unit)
    return f"{from_plain(from_quantity(answer, ask.kind, ask.name), unit):.10g} {unit.label}"
