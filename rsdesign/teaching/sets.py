"""Sets of exercises and the rules by which they count, from ``data/exercises/sets.toml``."""

import functools
import hashlib
import re
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches

from ..core import tables
from .bank import exercise, find
from .model import TOPICS, Exercise, ExerciseError

_MUST = ("name", "title", "version", "minutes", "attempts", "counts", "points", "late", "before",
         "after", "session")  # fmt: skip


RULE = (
    "All that comes in under your code is put together, from whatever device: the first {limit}"
    " attempts at an exercise are the ones that count."
)
"""How several versions of one learner's work count (``versions``); pages, papers and marks keep to it."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What counts: attempts (0: as many as one likes), best or last, points, and the late rule."""

    attempts: int
    counts: str
    number: float
    unit: float
    reason: float
    late: float
    late_words: str

    @property
    def words(self) -> tuple[str, ...]:
        """The rules as a learner reads them."""
        tries = (
            "Try as often as you like."
            if not self.attempts
            else f"You have {self.attempts} attempts at each exercise; the {self.counts} one counts."
        )
        points = f"The number brings {self.number:g} points, its unit {self.unit:g}"
        points += f", your reason up to {self.reason:g}." if self.reason else "."
        one = (RULE.format(limit=self.attempts),) if self.attempts else ()
        return (tries, *one, points, "Hints cost nothing.", self.late_words)


@dataclass(frozen=True, slots=True)
class Session:
    """One sitting of a set."""

    title: str
    minutes: float
    exercises: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetPlan:
    """A set as it is written down, before anybody's numbers are drawn."""

    name: str
    title: str
    version: int
    minutes: float
    rules: Rules
    before: tuple[str, ...]
    after: tuple[str, ...]
    sessions: tuple[Session, ...]

    @property
    def turns(self) -> tuple[tuple[Exercise, str], ...]:
        """Every exercise with its turn, in the order of the day."""
        middle = [name for session in self.sessions for name in session.exercises]
        return (
            *((exercise(name), "before") for name in self.before),
            *((exercise(name), "") for name in middle),
            *((exercise(name), "after") for name in self.after),
        )

    @property
    def edition(self) -> str:
        """Eight letters that change with any exercise, its version, or the rules."""
        return self.edition_with({})

    def edition_with(self, versions: dict[str, int]) -> str:
        """The edition that had these versions of some exercises, and the present ones of the others."""
        parts = [self.name, str(self.version), repr(self.rules)]
        parts += [f"{e.id} {versions.get(e.id, e.version)} {turn}" for e, turn in self.turns]
        return hashlib.sha256("\n".join(parts).encode("utf-8")).hexdigest()[:8]


def plain_name(text) -> str:
    """A name of a set as it is compared.

    >>> plain_name(" Ninety Minutes ")
    'ninety-minutes'
    """
    return re.sub(r"[\s_]+", "-", str(text).strip().lower())


@functools.cache
def set_plans() -> dict[str, SetPlan]:
    """Every set by its name.  Raises ``ExerciseError`` naming the set and what is wrong."""
    path = tables.data_folder() / "exercises" / "sets.toml"
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))["set"]
    except (OSError, tomllib.TOMLDecodeError, KeyError) as wrong:
        raise ExerciseError(f"sets.toml cannot be read: {wrong}.") from None
    return {plan.name: plan for plan in map(_plan, raw)}


def _plan(raw: dict) -> SetPlan:
    name = raw.get("name", "?")
    missing = [key for key in _MUST if key not in raw]
    spare = [key for key in raw if key not in _MUST]
    if missing or spare:
        raise ExerciseError(f"sets.toml, set {name}: missing {missing}, not known {spare}.")
    if raw["counts"] not in ("best", "last"):
        raise ExerciseError(
            f"sets.toml, set {name}: counts is best or last, not {raw['counts']!r}."
        )
    points = raw["points"]
    rules = Rules(raw["attempts"], raw["counts"], points["number"], points["unit"],
                  points["reason"], raw["late"]["share"], raw["late"]["words"])  # fmt: skip
    sessions = tuple(
        Session(s["title"], s["minutes"], tuple(s["exercises"])) for s in raw["session"]
    )
    plan = SetPlan(name, raw["title"], raw["version"], raw["minutes"], rules,
                   tuple(raw["before"]), tuple(raw["after"]), sessions)  # fmt: skip
    seen = [(e.id, turn) for e, turn in plan.turns]
    if len(set(seen)) != len(seen):
        raise ExerciseError(f"sets.toml, set {name}: an exercise is there twice.")
    return plan


PRACTICE = Rules(0, "best", 2, 1, 0, 1.0, "This is practice; nothing is late.")


def set_plan(name) -> SetPlan:
    """A set by its name; the name of a topic is a set of its exercises for practice.

    Parameters:
        name: such as ``"ninety minutes"`` or ``"solids"``.
    Returns: the ``SetPlan``, before anybody's numbers are drawn.
    Raises: ``ExerciseError`` with the names there are.

    >>> set_plan("solids").name
    'solids'
    """
    wanted = plain_name(name)
    if wanted in set_plans():
        return set_plans()[wanted]
    if wanted in TOPICS:
        found = tuple(e.id for e in find(topic=wanted))
        minutes = sum(exercise(e).minutes for e in found)
        title = f"Practice: {TOPICS[wanted]}"
        return SetPlan(wanted, title, 1, minutes, PRACTICE, (), (),
                       (Session(title, minutes, found),))  # fmt: skip
    near = get_close_matches(wanted, [*set_plans(), *TOPICS], n=1)
    hint = f" Did you mean {near[0]}?" if near else ""
    raise ExerciseError(
        f"{str(name)[:40]!r} is not a set.{hint} There are {', '.join(set_plans())},"
        f" and for practice the topics {', '.join(TOPICS)}."
    )
