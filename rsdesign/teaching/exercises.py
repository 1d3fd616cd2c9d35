"""One learner's set of exercises: the same code gets the same problems, on any machine.

``exercise_set`` is the way in for pages and the command line.  A learner's own copy holds no class
key: it gets a *ticket*, which opens this learner's problems and nobody else's.
"""

import base64
import hashlib
from dataclasses import dataclass, field

from .answers import asked_units
from .model import ExerciseError
from .sets import Rules, Session, SetPlan, set_plan
from .variants import Problem, learner_code, learner_key, problem

COPY, CLASS = "copy", "class"
"""Who sealed a submission: a learner's own copy, or the instructor's machine."""


@dataclass(frozen=True, slots=True, eq=False)
class ExerciseSet:
    """The problems of one learner with the rules of the set; ``key`` seals what is handed in."""

    plan: SetPlan
    learner: str
    class_mark: str
    sealed: str
    key: bytes = field(repr=False)
    problems: tuple[Problem, ...] = ()

    @property
    def name(self) -> str:
        """The name of the set."""
        return self.plan.name

    @property
    def title(self) -> str:
        """The title of the set."""
        return self.plan.title

    @property
    def rules(self) -> Rules:
        """What counts."""
        return self.plan.rules

    @property
    def sessions(self) -> tuple[Session, ...]:
        """The sittings of the set."""
        return self.plan.sessions

    def problem(self, name: str) -> Problem:
        """A problem by its name, such as ``tank-round`` or ``tank-round/before``."""
        for found in self.problems:
            if found.name == name:
                return found
        raise ExerciseError(f"{str(name)[:40]!r} is not an exercise of the set {self.name}.")


def exercise_set(
    name: str, learner: str, class_key=None, *, ticket: str | None = None
) -> ExerciseSet:
    """The problems of one learner.

    Parameters: ``name`` of a set in ``data/exercises/sets.toml``, or of a topic for practice;
    ``learner``: a code of letters and digits; ``class_key``: text or bytes that only the instructor
    holds.  A learner's own copy gives a ``ticket`` instead.  Raises ``ExerciseError``.

    >>> found = exercise_set("ninety-minutes", "K7QP-4", "an invented class key")
    >>> found.problem("feed-ration").exercise.title
    'Feed for today'
    """
    plan, code = set_plan(name), learner_code(learner)
    if ticket is not None:
        mark, own, sealed = *read_ticket(ticket), COPY
        key = own
    else:
        own, mark, sealed = learner_key(class_key, code), class_mark(class_key), CLASS
        key = class_key.encode("utf-8") if isinstance(class_key, str) else class_key
    problems = tuple(problem(exercise, code, own, turn) for exercise, turn in plan.turns)
    return ExerciseSet(plan, code, mark, sealed, key, problems)


def class_mark(class_key) -> str:
    """Eight letters by which classes are known apart; nothing of the key follows from them."""
    key = class_key.encode("utf-8") if isinstance(class_key, str) else class_key
    return hashlib.sha256(b"rsdesign class:" + key).hexdigest()[:8]


def ticket(class_key, learner: str) -> str:
    """What a learner's own copy needs: it opens this learner's problems, nobody else's."""
    own = base64.b32encode(learner_key(class_key, learner)).decode().rstrip("=")
    return f"{class_mark(class_key)}-{own}"


def read_ticket(text: str) -> tuple[str, bytes]:
    """Class mark and learner key of a ticket.  Raises ``ExerciseError``."""
    mark, _, own = str(text).strip().partition("-")
    try:
        key = base64.b32decode(own.upper() + "=" * (-len(own) % 8))
    except ValueError:
        key = b""
    if len(key) != hashlib.sha256().digest_size or len(mark) != 8:
        raise ExerciseError("This ticket is damaged; ask your instructor for it again.")
    return mark, key


def page(found: Problem) -> dict:
    """A problem as plain data for a page: its words and nothing that gives the answer away."""
    e = found.exercise
    return {
        "name": found.name,
        "title": e.title,
        "topic": e.topic,
        "form": e.form,
        "level": e.level,
        "minutes": e.minutes,
        "paper": e.paper,
        "objective": e.objective,
        "text": found.text,
        "caution": e.caution,
        "lines": list(found.lines),
        "options": [list(pair) for pair in found.options],
        "columns": list(e.columns),
        "asks": [
            {
                "name": ask.name,
                "form": ask.form,
                "text": found.ask_text(ask),
                "units": list(asked_units(ask)),
                "wants_unit": ask.form == "number" and bool(ask.kind.plain.label),
            }
            for ask in e.asks
        ],
        "source": e.published.source if e.published else "",
        "mark": found.mark,
    }
