"""Mark again after a key was corrected: what an instructor writes into a small TOML file.

Each correction names an exercise and says why; it holds for the whole class, never for one learner.
``accept`` takes the answer of a known slip as right (the question could be read in two ways),
``tolerance`` widens what is near enough, ``leave_out`` takes the exercise out of everybody's marks, and
``drawn_as`` marks work that was done under an earlier version of the exercise with today's key.
"""

import functools
import tomllib
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path

from .bank import exercise
from .checking import Checked, Feedback
from .exercises import ExerciseSet
from .model import Exercise, ExerciseError
from .sets import SetPlan
from .variants import Problem, learner_key, problem

WIDEST = 0.5
"""The widest tolerance that a correction may give: half of the answer."""
_MAY = ("exercise", "why", "ask", "accept", "tolerance", "leave_out", "drawn_as")


@dataclass(frozen=True, slots=True)
class Fix:
    """One correction of one exercise."""

    exercise: str
    why: str
    ask: str = ""
    accept: tuple[str, ...] = ()
    tolerance: float | None = None
    leave_out: bool = False
    drawn_as: int | None = None


class Fixes:
    """The corrections of a class, ready to be used in marking."""

    def __init__(self, fixes: tuple[Fix, ...] = ()):
        self.fixes = fixes

    def __bool__(self) -> bool:
        return bool(self.fixes)

    def void(self, name: str) -> bool:
        """Whether an exercise is left out of everybody's marks."""
        return any(f.leave_out for f in self.fixes if f.exercise == name)

    def edition(self, plan: SetPlan) -> str:
        """The edition of work that was done under the earlier versions named."""
        return plan.edition_with({f.exercise: f.drawn_as for f in self.fixes if f.drawn_as})

    def corrected(self, own: ExerciseSet, class_key) -> ExerciseSet:
        """A learner's problems with the corrections in them."""
        if not any(f.tolerance or f.drawn_as for f in self.fixes):
            return own
        key = learner_key(class_key, own.learner)
        return replace(own, problems=tuple(self._problem(p, key) for p in own.problems))

    def _problem(self, found: Problem, key: bytes) -> Problem:
        mine = tuple(f for f in self.fixes if f.exercise == found.exercise.id)
        if not any(f.tolerance or f.drawn_as for f in mine):
            return found
        return problem(_corrected(found.exercise, mine), found.learner, key, found.turn)

    def applied(self, found: Problem, feedback: Feedback) -> Feedback:
        """What is said of an attempt, with the answers of accepted slips taken as right."""
        taken = {(f.ask, slip) for f in self.fixes if f.exercise == found.exercise.id
                 for slip in f.accept}  # fmt: skip
        if not taken:
            return feedback
        return replace(feedback, checked=tuple(_accepted(c, taken) for c in feedback.checked))


def _accepted(one: Checked, taken: set) -> Checked:
    if one.right or not {(one.ask, one.mistake), ("", one.mistake)} & taken:
        return one
    return replace(
        one, number=True, mistake="", share=1.0, words="Accepted: the key was corrected."
    )


@functools.cache
def _corrected(old: Exercise, fixes: tuple[Fix, ...]) -> Exercise:
    """An exercise with other tolerances and the version under which its numbers were drawn."""
    asks, version = list(old.asks), old.version
    for fix in fixes:
        version = fix.drawn_as or version
        if fix.tolerance:
            asks = [replace(a, tolerance=fix.tolerance) if a.form == "number" and fix.ask in ("", a.name)
                    else a for a in asks]  # fmt: skip
    return replace(old, asks=tuple(asks), version=version)


NONE = Fixes()


def read_fixes(source) -> Fixes:
    """Corrections from a ``Path`` or a text.  Raises ``ExerciseError`` with one sentence.

    >>> read_fixes("").fixes
    ()
    """
    name = source.name if isinstance(source, Path) else "The file"
    try:
        text = source.read_text(encoding="utf-8-sig") if isinstance(source, Path) else source
        table = tomllib.loads(text)
    except (OSError, UnicodeDecodeError) as wrong:
        raise ExerciseError(f"{name} cannot be read: {wrong}.") from None
    except tomllib.TOMLDecodeError as wrong:
        raise ExerciseError(f"{name} is not TOML: {wrong}.") from None
    raw = table.get("fix", [])
    if set(table) - {"fix"} or not isinstance(raw, list):
        raise ExerciseError(f"{name} holds tables [[fix]] and nothing else.")
    return Fixes(tuple(_fix(one, f"{name}, correction {n}") for n, one in enumerate(raw, 1)))


def _fix(raw: dict, where: str) -> Fix:
    spare = [key for key in raw if key not in _MAY] if isinstance(raw, dict) else ["?"]
    if spare:
        near = get_close_matches(spare[0], _MAY, n=1)
        hint = f"; did you mean {near[0]!r}" if near else f"; there are {', '.join(_MAY)}"
        raise ExerciseError(f"{where} has no {spare[0]!r}{hint}.")
    if not isinstance(raw.get("why"), str) or not raw["why"].strip():
        raise ExerciseError(f"{where} needs why: a sentence on what was wrong with the key.")
    about = exercise(raw.get("exercise", ""))
    fix = Fix(about.id, raw["why"], raw.get("ask", ""), _texts(raw.get("accept", ())),
              raw.get("tolerance"), raw.get("leave_out", False), raw.get("drawn_as"))  # fmt: skip
    _sound(fix, about, where)
    return fix


def _texts(value) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(map(str, value))


def _sound(fix: Fix, about: Exercise, where: str) -> None:
    """Raise ``ExerciseError`` where a correction does nothing or names what is not there."""
    if fix.ask and fix.ask not in {a.name for a in about.asks}:
        raise ExerciseError(f"{where}: {fix.ask!r} is not asked in {about.id}.")
    known = [s.name for s in about.misconceptions]
    for slip in fix.accept:
        if slip not in known:
            listed = ", ".join(known) or "none"
            raise ExerciseError(f"{where}: {slip!r} is no slip of {about.id}; there are {listed}.")
    width = fix.tolerance
    if width is not None and not (isinstance(width, (int, float)) and 0 < width <= WIDEST):
        raise ExerciseError(f"{where}: tolerance is {width!r}; write a share up to {WIDEST:g}.")
    if fix.drawn_as is not None and fix.drawn_as not in range(1, about.version + 1):
        raise ExerciseError(f"{where}: drawn_as is a version from 1 to {about.version}.")
    if not isinstance(fix.leave_out, bool):
        raise ExerciseError(f"{where}: leave_out is true or false.")
    if not (fix.accept or width or fix.leave_out or fix.drawn_as):
        raise ExerciseError(f"{where} corrects nothing; give one of {', '.join(_MAY[3:])}.")


def changes(before, after) -> list[str]:
    """A line for each learner whose points the corrections changed."""
    old = {(m.learner, m.set): m for m in before}
    return [
        f"{m.learner}: {_points(old[m.learner, m.set])}, now {_points(m)}"
        for m in after
        if (m.learner, m.set) in old and _points(old[m.learner, m.set]) != _points(m)
    ]


def _points(found) -> str:
    return f"{found.points:g} of {found.out_of:g}"
