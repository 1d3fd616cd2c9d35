"""The bank of exercises in ``data/exercises/``.

An exercise names functions of the package and their arguments; nothing in the file is evaluated
as text.  The reading of the files, with its sentences on what is wrong, is in ``bank_file``.
"""

import functools

from ..core import tables
from .bank_file import read_file
from .model import FORMS, TOPICS, Exercise, ExerciseError


@functools.cache
def bank() -> dict[str, Exercise]:
    """Every exercise by its name, topic after topic.

    Returns: the exercises of ``data/exercises`` by name.
    Raises: ``ExerciseError`` naming the file and what is wrong with it.

    >>> len(bank()) >= 40
    True
    """
    folder = tables.data_folder() / "exercises"
    found: dict[str, Exercise] = {}
    for topic in TOPICS:
        for exercise in read_file(folder / f"{topic}.toml", topic):
            if exercise.id in found:
                raise ExerciseError(f"{topic}.toml: the exercise {exercise.id!r} is there twice.")
            found[exercise.id] = exercise
    return found


def exercise(name: str) -> Exercise:
    """One exercise by its name.  Raises ``ExerciseError`` with the nearest names."""
    found = bank().get(name)
    if found is None:
        from difflib import get_close_matches  # noqa: PLC0415

        near = get_close_matches(str(name), list(bank()), n=3) or list(bank())[:3]
        raise ExerciseError(
            f"{str(name)[:40]!r} is not an exercise; did you mean {', '.join(near)}?"
            " 'rsdesign exercises list' shows all."
        )
    return found


def find(topic=None, minutes=None, level=None, paper=None, form=None) -> tuple[Exercise, ...]:
    """The exercises that fit what is asked for; what is left out fits all.

    Parameters:
        topic: such as ``"solids"``.
        minutes: the most time an exercise may take [min], above 0.
        level: the highest level, 1 to 3.
        paper: True for those that can be done on paper.
        form: such as ``"chain"``; an error lists the forms.
    Returns: the exercises, in the order of the bank.
    Raises: ``ExerciseError`` for a topic or a form that is not there.

    >>> {e.topic for e in find("solids", minutes=30)}
    {'solids'}
    """
    if topic is not None and topic not in TOPICS:
        raise ExerciseError(f"{topic!r} is not a topic; there are {', '.join(TOPICS)}.")
    if form is not None and form not in FORMS:
        raise ExerciseError(f"{form!r} is not a form; there are {', '.join(FORMS)}.")
    return tuple(
        e
        for e in bank().values()
        if (topic is None or e.topic == topic)
        and (minutes is None or e.minutes <= minutes)
        and (level is None or e.level <= level)
        and (paper is None or e.paper == paper)
        and (form is None or e.form == form)
    )
