"""Numbers as people type them: fractions, feet and inches, thousands, decimal commas.

One reader for the pages, the files, the commands and the exercises.  It reads a text where it can
mean one number only; the pages themselves write ``1,570``, so three digits after a comma are
thousands.  Digits are ASCII digits, and no text is ever evaluated.
"""

import math
import re
import unicodedata
from dataclasses import dataclass

from .kinds import Kind, Unit, UnitError
from .unit_words import unit_named

LONGEST = 80
"""Characters of a typed number and its unit."""

_QUOTES = {
    "’": "'",
    "‘": "'",
    "′": "'",
    "´": "'",
    "`": "'",
    "”": '"',
    "“": '"',
    "″": '"',
    "''": '"',
}
_SPACES = re.compile("[\u00a0\u2000-\u200a\u202f\u205f\u3000\t ]+")
_POWER = re.compile(
    r"((?:\d+(?:\.\d*)?|\.\d+))(?:[eE]([+-]?\d{1,3})(?![\d.,])|\s*[x×*·]\s*10\^\(?([+-]?\d{1,3})\)?)",
    re.ASCII,
)
_FRACTION = re.compile(r"(?:(\d+)(?:\s|\s?-\s?))?(\d+)\s?/\s?(\d+)(?![\d/.,])", re.ASCII)
_DIGITS = re.compile(r"[\d.,]*\d[\d.,]*(?:[ '](?=\d{3}(?!\d))[\d.,]+)*", re.ASCII)
_GROUPS = re.compile(r"[1-9]\d{0,2}(?:(,\d{3})+|(\.\d{3})+|([ ']\d{3})+)", re.ASCII)
_SECOND = re.compile(r"([^\d\s]+?(?:\s[^\d\s]+?)?)\s*[,-]?\s*((?:\d|\.\d).*)", re.ASCII)

PAIRS = {("ft", "in"), ("lb", "oz"), ("kg", "g"), ("week", "day"), ("day", "h"), ("h", "min"),
         ("min", "s")}  # fmt: skip
"""Units that are written one after the other: ``6 ft 6 in``."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A number as it was read: its value, what else it may mean, and the text that follows it."""

    value: float
    other: float | None
    rest: str
    whole: bool = False
    """Whether it was written with digits alone."""


def clipped(value: object, most: int = 40) -> str:
    """A value as it is repeated in a message: quoted, printable, never long.

    Parameters:
        value: anything that was given.
        most: the longest text [characters], 1 or more.
    Returns: the text in quotes.

    >>> clipped("7 sausages")
    "'7 sausages'"
    """
    text = "".join(c if c.isprintable() else "�" for c in str(value)[: most + 1])
    return f"'{text[:most]}…'" if len(text) > most else f"'{text}'"


def tidied(text: str) -> str:
    """A typed text with one kind of space, quote, minus and fraction.

    >>> tidied("6½”"), tidied("−5 °C")
    ('6 1/2"', '-5 °C')
    """
    out = []
    for sign in text:
        parts = unicodedata.decomposition(sign).split()
        if parts[:1] == ["<fraction>"] and len(parts) > 3:
            made = "".join(chr(int(code, 16)) for code in parts[1:])
            out.append(" " + made.replace("\u2044", "/"))
        else:
            out.append(sign)
    found = "".join(out).replace("\u2044", "/").replace("−", "-").replace("–", "-")
    for odd, plain in _QUOTES.items():
        found = found.replace(odd, plain)
    return _SPACES.sub(" ", found).strip()


def number_at(text: str, kind: Kind | None = None) -> Typed:
    """The number at the start of a text.  Raises ``UnitError`` with a sentence.

    ``other`` is its second reading where a reader of another country might mean one.

    >>> number_at("6 1/2 in").value, number_at("1.440,5 L").value, number_at("2,260 gal").other
    (6.5, 1440.5, 2.26)
    """
    shown, text = clipped(text), tidied(str(text))
    if len(text) > LONGEST:
        raise UnitError(f"{shown} is too long for a number and its unit.")
    family = kind.family if kind else ""
    if family.startswith("money"):
        text = re.sub(r"^([+-]?)\s*[$€£]\s*", r"\1", text)
    sign, text = (
        (-1.0 if text[:1] == "-" else 1.0),
        text.removeprefix("-").removeprefix("+").strip(),
    )
    power = _POWER.match(text)
    if power:
        value = _float(f"{power[1]}e{power[2] or power[3]}", shown)
        return Typed(sign * value, None, text[power.end() :].strip())
    fraction = _FRACTION.match(text)
    if fraction and not (family == "money per volume" and not fraction[1]):  # "5/1000 gal": a price
        whole, top, bottom = (int(x or 0) for x in fraction.groups())
        if bottom == 0 or (fraction[1] and top >= bottom):
            raise UnitError(f"{shown} holds a fraction that is none; write it like 6 1/2 or 6.5.")
        return Typed(sign * (whole + top / bottom), None, text[fraction.end() :].strip())
    match = _DIGITS.match(text)
    if not match:
        raise UnitError(f"{shown} does not start with a number.")
    digits = match.group()
    if family == "length" and "'" in digits:  # feet, not thousands
        digits = digits[: digits.index("'")]
    value, other = _marks(digits, shown)
    rest = text[len(digits) :].strip()
    return Typed(sign * value, None if other is None else sign * other, rest, digits.isdigit())


def _marks(digits: str, shown: str) -> tuple[float, float | None]:
    """A run of digits with points, commas and gaps, and its second reading."""
    if digits.isdigit():
        return _float(digits, shown), None
    decimal = ""
    whole, tail = digits, ""
    last = max(digits.rfind("."), digits.rfind(","))
    others = [c for c in digits[:last] if not c.isdigit()]
    groups = _GROUPS.fullmatch(digits)
    if groups:
        bare = re.sub(r"\D", "", digits)
        single = len(digits) - len(bare) == 1
        if digits[-4] == "." and single:  # 1.440: the point marks decimals on every page here
            return _float(digits, shown), _float(bare, shown)
        other = _float(digits.replace(",", "."), shown) if single and "," in digits else None
        return _float(bare, shown), other
    if last >= 0 and digits[last] not in others:
        decimal, whole, tail = digits[last], digits[:last], digits[last + 1 :]
    grouped = not whole or whole.isdigit() or _GROUPS.fullmatch(whole)
    if decimal and grouped and tail.isdigit() | (decimal == "." and not tail):
        return _float(f"{re.sub(r'[^0-9]', '', whole)}.{tail}", shown), None
    raise UnitError(f"{shown} has points, commas or gaps in odd places; write it like 1550.5.")


def _float(text: str, shown: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise UnitError(f"{shown} is not a finite number.")
    return value


def second_part(rest: str, kind: Kind) -> tuple[float, Unit, Unit] | None:
    """What follows a number where two units stand one after the other: inches after feet.

    The second number and both units; None where one unit follows.  Raises ``UnitError``.

    >>> from rsdesign.core.kinds import KINDS
    >>> [getattr(x, "label", x) for x in second_part("' 6 1/2\\"", KINDS["length"])]
    [6.5, 'ft', 'in']
    """
    match = _SECOND.fullmatch(re.sub(r"(?<=\w) and (?=\d)", " ", rest))
    if match is None:
        return None
    first = unit_named(match[1], kind)
    if not first or not any(a == first.label for a, _ in PAIRS):
        return None
    second = number_at(match[2], kind)
    label = second.rest
    if not label and match[1] == "'":
        label = "in"  # 6'6
    unit = unit_named(label, kind) if label else None
    if unit is None or (first.label, unit.label) not in PAIRS:
        small = next(b for a, b in PAIRS if a == first.label)
        raise UnitError(
            f"{clipped(rest)} stands after a number: after {first.label} write {small}, as in"
            f" '6 {first.label} 6 {small}'."
        )
    if second.value * unit.factor >= first.factor:
        most = first.factor / unit.factor
        raise UnitError(
            f"{clipped(match[2])} is too much after {first.label}: write less than {most:.4g}"
            f" {unit.label} there."
        )
    return second.value, first, unit


def check_count(typed: Typed, text) -> None:
    """Refuse a count whose comma or point may part thousands or decimals."""
    digits = re.match(r"[\s+-]*(\d+[.,]\d+)(?![\d.,])", str(text))
    if digits is None:
        return
    odd = "," in digits[1] or re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", digits[1])
    if odd and not (typed.value.is_integer() and "," in digits[1]):
        decimal, whole = digits[1].replace(",", "."), re.sub("[.,]", "", digits[1])
        raise UnitError(f"{clipped(text)} could mean two numbers: write {decimal} or {whole}.")
