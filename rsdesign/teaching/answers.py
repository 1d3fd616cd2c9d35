"""Read an answer as people type it: number and unit, decimal comma or point, plural and long words.

The rule for a comma: three digits after it are thousands, as this package itself writes them
("1,550 gal"); any other number of digits are decimals ("1,55 m³").  Because a reader used to
decimal commas may still mean 1.550, both readings are given where both are possible, and the
checker says which one it took.
"""

import re
from dataclasses import dataclass
from difflib import get_close_matches

from ..kinds import FAMILIES, KINDS, Kind, Unit, UnitError
from ..units import clipped, parse
from ..unitwords import unit_named
from .anatomy import Ask, ExerciseError
from .bank_file import LETTERS

LONGEST = 80

_LEAD = re.compile(
    r"^(?:about|around|approx\.?|roughly|ca\.?|it is|answer)?\s*[=≈~:]*\s*\$?\s*", re.I
)
_DIGITS = re.compile(r"[+-]?(?:\d[\d.,  ' ]*\d|\d)?(?:[.,]\d+)?[.,]?")
_POWER = re.compile(r"[+-]?\d+(?:[.,]\d*)?(?:[eE][+-]?\d{1,3}|\s*[x×*·]\s*10\^?\(?[+-]?\d{1,3}\)?)")
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
    """A number with something that is not a unit of the right kind."""


def read_number(text: str) -> tuple[float, float | None, str]:
    """The number at the start of a text, its other possible reading, and the rest.

    Raises ``UnitError`` with a sentence.

    >>> read_number("1,55 m³"), read_number("2,260 gal")
    ((1.55, None, 'm³'), (2260.0, 2.26, 'gal'))
    """
    text = str(text).strip().replace("−", "-").replace("–", "-")
    if len(text) > LONGEST:
        raise UnitError(f"{clipped(text)} is too long for a number and its unit.")
    text = re.sub(r"\s*\([^()]*\)$", "", text)  # another system beside it, in brackets
    text = text[_LEAD.match(text).end() :]
    power = _POWER.match(text)
    if power:
        bare = re.sub(r"\s*[x×*·]\s*10\^?\(?([+-]?\d{1,3})\)?", r"e\1", power.group())
        return float(bare.replace(",", ".")), None, text[power.end() :].strip()
    match = _DIGITS.match(text)
    digits = match.group() if match else ""
    if not re.search(r"\d", digits):
        raise UnitError(f"{clipped(text)} does not start with a number. Write it as 12.5 or 12,5.")
    rest = text[match.end() :].strip()
    bare = re.sub(r"[\s  ']", "", digits).rstrip(".,")
    value, other = _read_marks(bare, text)
    return value, other, rest


def _read_marks(bare: str, text: str) -> tuple[float, float | None]:
    """Points and commas of one number."""
    marks = [c for c in bare if c in ".,"]
    if not marks:
        return float(bare), None
    if len(set(marks)) == 2:
        decimal = marks[-1]
        if marks.count(decimal) > 1:
            raise UnitError(f"{clipped(text)} has too many points and commas; write it as 1550.5.")
        whole = bare.replace("," if decimal == "." else ".", "")
        return float(whole.replace(",", ".")), None
    if marks[0] == ",":
        groups = re.fullmatch(r"[+-]?[1-9]\d{0,2}(,\d{3})+", bare)
        thousands = float(bare.replace(",", "")) if groups else None
        if len(marks) > 1:
            if thousands is None:
                raise UnitError(f"{clipped(text)} has too many commas; write it as 1550.5.")
            return thousands, None
        decimals = float(bare.replace(",", "."))
        return (decimals, None) if thousands is None else (thousands, decimals)
    if len(marks) > 1:
        if re.fullmatch(r"[+-]?[1-9]\d{0,2}(\.\d{3})+", bare):
            return float(bare.replace(".", "")), None
        raise UnitError(f"{clipped(text)} has too many points; write it as 1550.5.")
    return float(bare), None


def read(text: str, ask: Ask) -> Reading:
    """A typed answer to one ask that wants a number.

    Raises ``UnitError`` where there is no number, ``NoUnitError`` where the unit is missing and
    ``WrongUnitError`` where it is no unit of the right kind; both keep the number.
    """
    kind = ask.kind
    feet = _FEET.fullmatch(str(text).strip()) if kind.family == "length" else None
    if feet:
        value = float(feet[1]) + float(feet[2]) / 12
        unit = kind.unit("ft")
        return Reading(parse(f"{value!r} ft", kind), value, unit, f"{value:.4g} ft")
    number, other, rest = read_number(text)
    if not rest and kind.plain.label:
        would_do = ask.units or (ask.unit,)
        raise NoUnitError(f"Say the unit too, for example {' or '.join(would_do)}.", number)
    if not rest and ask.unit == "%" and abs(number) > 1.0:
        rest = "%"  # a bare 35 where percent is asked for
    unit = unit_named(rest, kind)
    if unit is None and (not rest or kind.family in ("money", "count")):
        unit = kind.plain  # "9,600 dollars a year", "4 tanks": words, not units
    if unit is None:
        raise WrongUnitError(_no_such(rest, kind, ask), number)

    def plain(x: float) -> float:
        return parse(f"{x!r} {unit.label}".strip(), kind)

    return Reading(plain(number), number, unit, f"{number:.10g} {unit.label}".strip(),
                   None if other is None else plain(other))  # fmt: skip


def _no_such(label: str, kind: Kind, ask: Ask) -> str:
    """A sentence on a unit that will not do: a typing slip, another kind of thing, or unknown."""
    families = {other.family: other for other in reversed(KINDS.values())}
    for other in reversed(families.values()):
        if other.family != kind.family and unit_named(label, other) is not None:
            return (
                f"{clipped(label, 20)} measures {_thing(other)}; a {kind.name} is asked for, in"
                f" {ask.unit or 'a bare number'} for example."
            )
    known = {u.label: u.label for u in FAMILIES[kind.family] if u.label}
    known |= {a: u.label for u in FAMILIES[kind.family] for a in u.aliases}
    near = get_close_matches(label, known, n=1, cutoff=0.5) or get_close_matches(
        label.lower(), known, n=1, cutoff=0.5
    )
    hint = f" Did you mean {known[near[0]]}?" if near else ""
    return f"{clipped(label, 20)} is not a unit known here.{hint} Write {ask.unit} for example."


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
