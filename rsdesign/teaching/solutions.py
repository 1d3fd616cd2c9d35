"""The solution of an exercise, line by line: the sum with its numbers and units, and the reason.

The lines stand in the bank beside the exercise.  Their numbers come from the same functions as the
answer; a test works every line out with a pencil's arithmetic and compares.
"""

import re
from dataclasses import dataclass

from .cases import Case
from .model import Exercise, Worked
from .steps import kinds_of
from .wording import fill, reveals

FIGURES = 4
"""Figures of a number in a sum: one more than an answer needs, so that rounding does no harm."""


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One line with the numbers of a case: the whole sum, what stands before its result, the result."""

    worked: Worked
    sum: str
    before: str
    result: str


def lines(found: Case) -> tuple[Line, ...]:
    """The solution of a case, free of any planted error; empty where only letters are asked for."""
    return tuple(_line(found, worked) for worked in found.exercise.solution)


def _line(found: Case, worked: Worked) -> Line:
    kinds = kinds_of(found.exercise)
    whole = fill(worked.sum, found.truth, _bare(found), kinds, FIGURES)
    whole = _SPAN.sub(_many, _DEGREES.sub(" °C", whole))
    before, _, result = whole.rpartition(" = ")
    return Line(worked, whole, before, result)


def _bare(found: Case) -> dict:
    """Numbers as drawn that a sum may take as they stand: those whose kind has no unit, and words."""
    kinds = kinds_of(found.exercise)
    return {
        name: text
        for name, text in found.typed.items()
        if kinds[name] is None or not kinds[name].plain.label or text.endswith(_SPANS)
    }


_DEGREES = re.compile(r"(?<=\d) K(?![\w·/])")
_SPAN = re.compile(r"(?<![\d.])([\d.,]+) (day|week|year)(?![\w/])")


def _many(span: re.Match) -> str:
    """A span of time with its plural: people write 28.9 days."""
    return span[0] if span[1] == "1" else f"{span[1]} {span[2]}s"


_SPANS = ("weeks", "years")
"""Endings of drawn numbers that are written out, as ``{life:=}``."""


def texts(found: Case) -> list[str]:
    """Every sum as one text."""
    return [line.sum for line in lines(found)]


def own_numbers(found: Case) -> str:
    """The numbers of a case that stand in its sums, without what is the same for everybody.

    A factor such as 7.48 gal/ft³ tells nothing about anybody's answer, even where it looks like it.
    """
    places = [place[0] for line in found.exercise.solution for place in _PLACE.finditer(line.sum)]
    return fill(" ; ".join(places), found.truth, _bare(found), kinds_of(found.exercise), FIGURES)


def units_of(exercise: Exercise, name: str) -> tuple[str, ...]:
    """The units in which a number stands in the sums of an exercise."""
    texts = " ".join(line.sum for line in exercise.solution)
    found = re.findall(rf"\{{{name}:([^}}=]+)\}}", texts)
    return tuple(u for u in dict.fromkeys(found) if not u.isdigit())


def told(text: str, found: Case, numbers: list[float]) -> bool:
    """Whether a text holds one of these numbers other than as a factor that the sums always have."""
    factors = " ; ".join(_PLACE.sub(" ", line.sum) for line in found.exercise.solution)
    return reveals(text, [n for n in numbers if not reveals(factors, [n])])


_PLACE = re.compile(r"\{[^}]*\}")
