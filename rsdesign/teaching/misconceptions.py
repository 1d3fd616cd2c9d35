"""Which misconception was made: the listed ones of an exercise first, then misconceptions of units and factors."""

from dataclasses import dataclass

from ..core.units import from_plain
from .answers import Reading
from .cases import Case, close, misconception_value, planted_value
from .model import Ask
from .steps import finite
from .variants import Problem

FACTORS = (
    (3.785411784, "gallons and litres", "There are 3.785 litres in a gallon."),
    (2.20462262, "pounds and kilograms", "There are 2.205 pounds in a kilogram."),
    (24.0, "days and hours", "There are 24 hours in a day."),
    (60.0, "minutes and hours", "There are 60 minutes in an hour, and 60 seconds in a minute."),
    (1440.0, "days and minutes", "There are 1,440 minutes in a day."),
    (3600.0, "hours and seconds", "There are 3,600 seconds in an hour."),
    (1000.0, "a thousand", "Look at milli, kilo, litres and cubic metres, or a point or comma."),
    (100.0, "a hundred", "35 percent is 0.35: look at a percent sign or a point."),
    (10.0, "a decimal place", "A point has moved by one place."),
    (12.0, "feet and inches", "There are 12 inches in a foot, and 12 months in a year."),
    (3.2808399, "feet and metres", "There are 3.281 feet in a metre."),
    (7.48051948, "cubic feet and gallons", "There are 7.48 gallons in a cubic foot."),
    (10.7639104, "square feet and square metres", "There are 10.76 square feet in a square metre."),
    (2.54, "inches and centimetres", "There are 2.54 cm in an inch."),
    (1.8, "steps of °F and of °C", "A step of 1 °C is a step of 1.8 °F."),
    (4.0, "radius and diameter", "Across and radius differ by two, their squares by four."),
    (2.0, "a half or a double", "Look for a radius, a diameter, or something counted twice."),
)
"""Factors that people miss, the name of the misconception, and what to remember."""


TAKEN_OVER = (
    "That is the printed result, mistake and all. Mend the wrong line and go on from there."
)
"""Said of the number in which a faulty solution ends; it does not name the line."""


@dataclass(frozen=True, slots=True)
class Found:
    """What was seen: its name, the words for the learner, and by what share it misses the number."""

    name: str
    words: str
    off: float = 0.0


def listed(found: Case, ask: Ask, value: float, truth: float, fixed=None) -> Found | None:
    """The misconception of the exercise whose answer lies nearest to a wrong number, if one is near."""
    best, miss = None, None
    for name, words, wrong in _wrong_answers(found, ask, fixed):
        if not finite(wrong) or close(ask, wrong, truth) or not close(ask, value, wrong):
            continue
        off = abs(value - wrong) / max(abs(wrong), 1e-300)
        if miss is None or off < miss:
            best, miss = Found(name, words), off
    return best


def _wrong_answers(found: Case, ask: Ask, fixed):
    for misconception in found.exercise.misconceptions:
        if misconception.ask == ask.name:
            yield (
                misconception.name,
                misconception.words,
                misconception_value(found, misconception, fixed),
            )
    if found.planted is not None:
        yield "mistake taken over", TAKEN_OVER, planted_value(found, ask)


def another_unit(ask: Ask, reading: Reading, truth: float) -> str:
    """The label of the unit in which the typed number would be right, or an empty string."""
    if reading.unit is None:
        return ""
    kind = ask.kind
    labels = [ask.unit, *ask.units, kind.us, kind.metric]
    for label in dict.fromkeys(labels):
        unit = kind.unit(label)
        if unit.label != reading.unit.label and close_number(ask, reading.number, truth, label):
            return unit.label
    return ""


def close_number(ask: Ask, number: float, truth: float, label: str) -> bool:
    """Whether a bare number would be right in a unit."""
    unit = ask.kind.unit(label)
    right = from_plain(truth, unit)
    floor = ask.floor / unit.factor
    return abs(number - right) <= max(ask.tolerance * abs(right), floor)


def factor(ask: Ask, value: float, truth: float) -> Found | None:
    """A factor that was missed or taken twice, where the ratio of the numbers names one."""
    if not truth or not value or ask.kind.family in ("temperature", "ph"):
        return None
    if close(ask, -value, truth):
        return Found("sign", "The size is right and the sign is wrong: which way does it go?")
    ratio = value / truth
    best = None
    for size, name, what in FACTORS:
        for times, word in ((size, "large"), (1.0 / size, "small")):
            off = abs(ratio / times - 1.0)
            if off <= max(ask.tolerance, 0.004) and (best is None or off < best[0]):
                words = f"Your number is about {size:.4g} times too {word}. {what}"
                best = (off, Found(name, words, off))
    return best[1] if best else None


FAR = 8.0
"""So many times too large or too small is a matter of units and points before anything else."""


def not_yet(read: str, value: float, truth: float, idea: str) -> str:
    """What is said of a number that is wrong in an unknown way: how it was read, then the idea.

    The size alone is never said: it invites trying and teaches nothing (Shute 2008, Review of
    Educational Research 78(1), 153-189).
    """
    if value * truth < 0:
        size = "Its sign is wrong."
    elif abs(value) > FAR * abs(truth) or abs(truth) > FAR * abs(value):
        way = "large" if abs(value) > abs(truth) else "small"
        size = f"It is many times too {way}: look at the units and the point first."
    else:
        size = f"It is too {'large' if abs(value) > abs(truth) else 'small'}."
    return f"We read {read}. {size} Think again: {idea}"


def letter_misconception(problem: Problem, ask: Ask, answer: str) -> Found | None:
    """The misconception behind a wrong letter or a wrong order, if it is a known one."""
    found = problem.case
    for misconception in found.exercise.misconceptions:
        if misconception.ask != ask.name:
            continue
        value = misconception_value(found, misconception)
        if value is not None and problem.lettered(ask, value) == answer:
            return Found(misconception.name, misconception.words)
    right = problem.answer(ask)
    if ask.form == "order" and answer == right[::-1]:
        return Found(
            "order turned round", "The order is right but turned round: read which end comes first."
        )
    if ask.form == "line" and answer > right:
        return Found(
            "line after the mistake",
            "That line is wrong only because it takes over a wrong number from further up.",
        )
    if ask.form == "line":
        return Found(
            "sound line", "That line is right as it stands. Try the next ones with a pencil."
        )
    return None
