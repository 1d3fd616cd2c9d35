"""Read an answer as people type it: number or small sum, unit, plural and long words, two languages."""

import re
from dataclasses import dataclass

from ..core.kinds import KINDS, Kind, Unit, UnitError
from ..core.unit_words import degrees_alone, unit_named
from ..core.units import clipped, parse
from .bank_file import LETTERS
from .model import Ask, ExerciseError
from .typed_sums import LONGEST, read_number

_FEET = re.compile(
    r"(\d+)\s*(?:ft|feet|foot|')\.?\s*,?\s*(\d+(?:\.\d+)?)\s*(?:in|inch|inches|\")\.?$"
)


@dataclass(frozen=True, slots=True)
class Reading:
    """A typed answer: the plain number, the number as typed, its unit, and how it was read."""

    value: float
    number: float
    unit: Unit | None
    words: str
    other: float | None = None


class NoUnitError(UnitError):
    """A number without the unit it needs; the number is kept."""

    def __init__(self, message: str, number: float):
        super().__init__(message)
        self.number = number


class WrongUnitError(NoUnitError):
    """A number with a unit that measures something else."""


class UnknownUnitError(NoUnitError):
    """A number with a word that is no unit known here: a typing mistake, which is no attempt."""


def written(label: str, kind: Kind) -> str:
    """A label as a learner writes it: a difference of temperatures is in °C or °F to most people."""
    if kind.family != "temperature difference":
        return label
    return {"K": "°C", "°F apart": "°F"}.get(label, label)


def asked_units(ask: Ask) -> tuple[str, ...]:
    """The units in which a question wants its answer, as a learner writes them."""
    return tuple(written(label, ask.kind) for label in ask.units)


def read(text: str, ask: Ask) -> Reading:
    """A typed answer to one ask that wants a number.

    Raises ``UnitError`` where there is no number, ``NoUnitError`` where the unit is missing and
    ``WrongUnitError`` or ``UnknownUnitError`` where it is no unit of the right kind; all keep the number.
    """
    kind = ask.kind
    feet = _FEET.fullmatch(str(text).strip()) if kind.family == "length" else None
    if feet:
        value = float(feet[1]) + float(feet[2]) / 12
        unit = kind.unit("ft")
        return Reading(parse(f"{value!r} ft", kind), value, unit, f"{value:.4g} ft")
    number, other, rest = read_number(text)
    if not rest and kind.plain.label:
        would_do = asked_units(ask) or (written(ask.unit, kind),)
        raise NoUnitError(f"Say the unit too, for example {' or '.join(would_do)}.", number)
    if not rest and ask.unit == "%" and abs(number) > 1.0:
        rest = "%"  # a bare 35 where percent is asked for
    unit = unit_named(rest, kind)
    if unit is None and (not rest or kind.family in ("money", "count")):
        unit = kind.plain  # "9,600 dollars a year", "4 tanks": words, not units
    if unit is None:
        raise _no_such(rest, kind, ask, number)

    def plain(x: float) -> float:
        return parse(f"{x!r} {unit.label}".strip(), kind)

    return Reading(plain(number), number, unit, f"{number:.10g} {written(unit.label, kind)}".strip(),
                   None if other is None else plain(other))  # fmt: skip


def _no_such(label: str, kind: Kind, ask: Ask, number: float) -> NoUnitError:
    """What is said of a unit that will not do: it measures something else, or is not known.

    Of an unknown word nothing follows, not even whether the number would be right: it costs no
    attempt, and must not be a way to try numbers for nothing.  The units that are named are those
    asked for, never one that merely looks like what was typed.
    """
    if degrees_alone(label):
        return UnknownUnitError("Degrees of which scale? Write °F or °C.", number)
    families = {other.family: other for other in reversed(KINDS.values())}
    for other in reversed(families.values()):
        if other.family != kind.family and unit_named(label, other) is not None:
            return WrongUnitError(
                f"{clipped(label, 20)} measures {_thing(other)}; a {kind.name} is asked for, in"
                f" {written(ask.unit, kind) or 'a bare number'} for example.",
                number,
            )
    would_do = " or ".join(
        dict.fromkeys(written(u, kind) for u in ask.units or (ask.unit, kind.us, kind.metric))
    )
    return UnknownUnitError(
        f"{clipped(label, 20)} is not a unit known here. Write {would_do}.", number
    )


def _thing(kind: Kind) -> str:
    return f"a {kind.family}" if kind.family[0] not in "aeiou" else f"an {kind.family}"


def read_letters(text: str, ask: Ask, count: int) -> str:
    """A typed letter, or letters in order, as capital letters.

    Raises ``ExerciseError`` with a sentence on what to write.
    """
    letters = re.sub(r"[^A-Za-z]", "", str(text)[:LONGEST]).upper()
    there = LETTERS[:count]
    if ask.form != "order":
        if len(letters) == 1 and letters in there:
            return letters
        raise ExerciseError(f"Write one letter from {there[0]} to {there[-1]}.")
    if sorted(letters) == sorted(there):
        return letters
    raise ExerciseError(f"Write each letter from {there[0]} to {there[-1]} once, in order.")
