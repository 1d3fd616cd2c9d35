"""What an exercise is, and the bank of them in ``data/exercises/``.

An exercise names functions of the package and their arguments; nothing in the file is evaluated
as text.  The reading of the files, with its sentences on what is wrong, is in ``bank_file``.
"""

import functools
from dataclasses import dataclass

from .. import tables
from ..choices import DesignError
from ..kinds import Kind

FORMS = (
    "one step",
    "chain",
    "find the mistake",
    "rank",
    "choose",
    "reverse",
    "read a log",
)
"""The seven forms an exercise may have."""

TOPICS = {
    "units": "units and rules of thumb",
    "feed": "feed and biomass",
    "tank": "tank",
    "flow": "flow",
    "solids": "solids",
    "biofilter": "biofilter",
    "air": "oxygen and air",
    "pump": "pump and pipe",
    "heat": "heat and water",
    "power": "power failure",
    "costs": "costs",
    "whole": "whole design",
}
"""Every topic by the name of its file, with its words."""

PICKS = (
    "largest",
    "smallest",
    "first above",
    "first below",
    "last above",
    "last below",
    "cheapest at least",
    "cheapest at most",
    "largest within",
    "smallest within",
)
"""Rules by which one letter is right."""

ORDERS = ("largest first", "smallest first", "by effect")
"""Rules by which the letters are put in order."""


class ExerciseError(DesignError):
    """What is wrong with an exercise, a set, a class or a submission, in one sentence."""


@dataclass(frozen=True, slots=True, eq=False)
class Draw:
    """A number of the problem and the short list it is drawn from, as typed and as plain numbers."""

    name: str
    kind: Kind | None
    texts: tuple[str, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One call of the package: an equation, a figure of a sizing, or a value searched for.

    ``sum``, ``difference``, ``product`` and ``quotient`` join numbers where no relation of its
    own is meant.
    """

    name: str
    function: str = ""
    arguments: dict | None = None
    design: str = ""
    choices: dict | None = None
    figure: str = ""
    chain: tuple["Step", ...] = ()
    equals: object = None
    low: float = 0.0
    high: float = 0.0
    kind: Kind | None = None
    sum: tuple = ()
    difference: tuple = ()
    product: tuple = ()
    quotient: tuple = ()


@dataclass(frozen=True, slots=True, eq=False)
class Ask:
    """One thing asked: a number with its unit, a letter, letters in order, or the wrong line."""

    name: str
    form: str
    text: str
    kind: Kind | None
    unit: str
    units: tuple[str, ...]
    tolerance: float
    floor: float
    why: str
    low: float
    high: float
    by: str
    rule: str
    limit: object
    cost: str
    budget: object


@dataclass(frozen=True, slots=True, eq=False)
class Slip:
    """A known slip: how it changes the way to the answer, and the words a learner is told."""

    name: str
    words: str
    ask: str
    change: dict
    instead: dict
    times: float
    plus: float
    by: str
    rule: str
    cost: str


@dataclass(frozen=True, slots=True, eq=False)
class Planted:
    """An error that a worked solution may hold: its line, how it is written, what it does."""

    line: str
    text: str
    words: str
    change: dict
    instead: dict


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One thing to pick or to put in order; ``change`` holds its own numbers, as typed."""

    text: str
    change: dict


@dataclass(frozen=True, slots=True, eq=False)
class Published:
    """The printed problem an exercise is taken from: its numbers and its printed answer."""

    draw: dict
    printed: str
    ask: str
    value: float
    tolerance: float
    source: str
    place: str
    note: str


@dataclass(frozen=True, slots=True, eq=False)
class Exercise:
    """One exercise of the bank."""

    id: str
    version: int
    topic: str
    form: str
    title: str
    level: int
    minutes: float
    paper: bool
    objective: str
    question: str
    draws: tuple[Draw, ...]
    steps: tuple[Step, ...]
    asks: tuple[Ask, ...]
    slips: tuple[Slip, ...]
    lines: tuple[str, ...]
    planted: tuple[Planted, ...]
    options: tuple[Option, ...]
    columns: tuple[str, ...]
    shuffle: bool
    principle: str
    relation: str
    worked: str
    caution: str
    expert: str
    published: Published | None

    def ask(self, name: str) -> Ask:
        """The thing asked by its name."""
        return next(ask for ask in self.asks if ask.name == name)

    @property
    def numbers(self) -> tuple[Ask, ...]:
        """The asks that want a number."""
        return tuple(ask for ask in self.asks if ask.form == "number")

    @property
    def combinations(self) -> int:
        """How many ways the numbers can be drawn, planted errors counted."""
        count = max(len(self.planted), 1)
        for draw in self.draws:
            count *= len(draw.texts)
        return count


@functools.cache
def bank() -> dict[str, Exercise]:
    """Every exercise by its name, topic after topic.

    >>> len(bank()) >= 40
    True
    """
    from .bank_file import read_file  # noqa: PLC0415  (the two know each other)

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
    """The exercises of a topic, of at most so many minutes and so high a level, and so on."""
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
