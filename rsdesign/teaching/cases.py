"""One way in which the numbers of an exercise may fall, with everything that follows from it.

A case is known by its place among all combinations of the short lists.  It is accepted only when
the answer is sound, inside its band, not given away by the text, and clear of every known misconception.
"""

import functools
from dataclasses import dataclass
from math import inf

from ..core.units import from_plain
from . import drawing_numbers as picking
from .bank_file import LETTERS
from .model import Ask, Exercise, Misconception, Planted
from .steps import finite, kinds_of, resolve, run
from .wording import fill, reveals

CLEAR = 1.5
"""A known misconception lies at least this many tolerances from the answer."""

BETWEEN = 0.005
"""Two misconceptions of one answer differ at least by this share, so that each gets its own words."""


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """The numbers of one combination: as typed, as drawn, and all that is computed from them."""

    exercise: Exercise
    index: int
    typed: dict
    drawn: dict
    planted: Planted | None
    truth: dict
    printed: dict
    options: tuple[dict, ...]

    def fill(self, text: str) -> str:
        """A text with the numbers of this case, those of the worked solution with its error."""
        return fill(text, self.printed, self.typed, kinds_of(self.exercise))

    def option(self, place: int) -> str:
        """The words of one option."""
        change = self.exercise.options[place].change
        typed = {k: v for k, v in self.typed.items() if k not in change}
        for name, value in change.items():  # an option may take one of the numbers drawn
            if isinstance(value, str):
                typed[name] = self.typed.get(value, value)
        kinds = kinds_of(self.exercise)
        text = self.exercise.options[place].text
        return fill(text, self.options[place], typed, kinds)

    def value(self, ask: Ask, by: str = "", rule: str = "", cost: str = ""):
        """The answer: a plain number, the place of an option, places in order, or a letter.

        ``by``, ``rule`` and ``cost`` put another number or rule in, as a misconception does.
        """
        if ask.form == "number":
            return self.truth[by or ask.name]
        if ask.form == "line":
            return self.planted.line
        values = [env[by or ask.by] for env in self.options]
        if not all(finite(v) for v in values):
            return None
        if ask.form == "order":
            return picking.order(rule or ask.rule, values, self.truth[by or ask.by])
        return picking.pick(rule or ask.rule, values, *self.money(ask, cost))

    def money(self, ask: Ask, cost: str = "") -> tuple[float, list[float], float]:
        """Limit, costs and budget of a pick."""
        cost = cost or ask.cost
        limit = resolve(ask.limit, self.truth) if ask.limit is not None else 0.0
        budget = resolve(ask.budget, self.truth) if ask.budget is not None else inf
        costs = [float(env[cost]) if cost else 0.0 for env in self.options]
        return limit, costs, budget


@functools.lru_cache(maxsize=20_000)
def case(exercise: Exercise, index: int) -> Case:
    """The case at one place among the combinations of an exercise."""
    typed, drawn, rest = {}, {}, index
    for draw in exercise.draws:
        rest, place = divmod(rest, len(draw.texts))
        typed[draw.name], drawn[draw.name] = draw.texts[place], draw.values[place]
    planted = exercise.planted[rest % len(exercise.planted)] if exercise.planted else None
    truth = run(exercise, drawn)
    printed = run(exercise, drawn, planted.change, planted.instead) if planted else truth
    options = tuple(run(exercise, drawn, o.change) for o in exercise.options)
    return Case(exercise, index, typed, drawn, planted, truth, printed, options)


def index_of(exercise: Exercise, texts: dict) -> int:
    """The place of the combination with these numbers as typed (planted error: the first)."""
    index, size = 0, 1
    for draw in exercise.draws:
        index += size * draw.texts.index(texts[draw.name])
        size *= len(draw.texts)
    return index


def misconception_value(found: Case, misconception: Misconception, fixed: dict | None = None):
    """What a learner who makes this misconception answers; ``fixed`` holds own earlier results."""
    ask = found.exercise.ask(misconception.ask)
    if ask.form != "number":
        return found.value(ask, misconception.by, misconception.rule, misconception.cost)
    env = run(found.exercise, found.drawn, misconception.change, misconception.instead, fixed)
    return env[misconception.by or ask.name] * misconception.times + misconception.plus


def planted_value(found: Case, ask: Ask) -> float | None:
    """The number that the worked solution with its error ends in."""
    return found.printed[ask.name] if found.planted is not None else None


def close(ask: Ask, value: float, truth: float, times: float = 1.0) -> bool:
    """Whether a number is as good as another, within so many tolerances of what is asked."""
    return abs(value - truth) <= times * max(ask.tolerance * abs(truth), ask.floor)


@functools.lru_cache(maxsize=100_000)
def fault(exercise: Exercise, index: int) -> str:
    """Why a case is not set, in a few words; empty where it is sound."""
    found = case(exercise, index)
    for ask in exercise.asks:
        why = _number_fault(found, ask) if ask.form == "number" else _letter_fault(found, ask)
        if why:
            return f"{ask.name}: {why}"
    if any(reveals(text, answers(found)) for text in shown_texts(found)):
        return "the text holds the answer"
    return ""


def _number_fault(found: Case, ask: Ask) -> str:
    truth = found.truth[ask.name]
    if not finite(truth):
        return "no finite answer"
    if not ask.low <= truth <= ask.high:
        return "outside its band"
    taken = [
        misconception_value(found, s) for s in found.exercise.misconceptions if s.ask == ask.name
    ]
    if found.planted is not None:
        taken.append(planted_value(found, ask))
    for place, value in enumerate(taken):
        if not finite(value) or close(ask, value, truth, CLEAR):
            return "a misconception lands on the answer"
        if any(abs(value - other) <= BETWEEN * abs(value) for other in taken[:place]):
            return "two misconceptions land on one number"
    return ""


def _letter_fault(found: Case, ask: Ask) -> str:
    truth = found.value(ask)
    if truth is None:
        return "too close to call"
    for misconception in found.exercise.misconceptions:
        if misconception.ask == ask.name and misconception_value(found, misconception) in (
            truth,
            None,
        ):
            return "a misconception lands on the answer"
    return ""


def answers(found: Case) -> list[float]:
    """The final numbers of a case in every unit in which it is likely to be seen."""
    numbers = []
    for ask in found.exercise.numbers:
        units = set(ask.units) or {ask.unit, ask.kind.us, ask.kind.metric}
        value = found.truth[ask.name]
        numbers += [from_plain(value, ask.kind.unit(label)) for label in sorted(units)]
    return numbers


def shown_texts(found: Case) -> list[str]:
    """Every text that a learner sees before answering, hints that are the same for all included."""
    e = found.exercise
    texts = [e.title, e.objective, e.question, e.principle, e.relation, e.caution]
    texts += [ask.text for ask in e.asks] + list(worked_lines(found))
    return [found.fill(t) for t in texts] + [found.option(i) for i in range(len(e.options))]


def worked_lines(found: Case) -> tuple[str, ...]:
    """The lines of a worked solution with its planted error, as texts still to be filled."""
    lines = list(found.exercise.lines)
    if found.planted is not None and found.planted.text:
        lines[LETTERS.index(found.planted.line)] = found.planted.text
    return tuple(lines)
