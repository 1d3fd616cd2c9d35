"""What an exercise is made of: what is drawn, computed, asked, and the misconceptions that are known."""

from dataclasses import dataclass

from ..core.choices import DesignError
from ..core.kinds import Kind

FORMS = ("one step", "chain", "find the mistake", "rank", "choose", "reverse", "read a log")
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
    "startup": "starting the filter",
    "season": "a season",
    "day": "a day of feeding",
    "log": "a log of water tests",
    "tuning": "a log and its model",
    "odds": "how sure it is",
    "choice": "what to buy",
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
class Misconception:
    """A known misconception: how it changes the way to the answer, and the words a learner reads."""

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
class Worked:
    """A line of the solution: its sum with places for numbers, and the reason for the step.

    ``gives`` and ``unit`` are the number in which the sum ends; ``look`` marks a line that is read
    off a page, for which no pencil would do.
    """

    sum: str
    why: str
    gives: str
    unit: str
    look: bool


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
    misconceptions: tuple[Misconception, ...]
    lines: tuple[str, ...]
    planted: tuple[Planted, ...]
    options: tuple[Option, ...]
    columns: tuple[str, ...]
    shuffle: bool
    principle: str
    relation: str
    worked: str
    solution: tuple[Worked, ...]
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
