"""Read a number as people type it, or a small sum such as ``3.1/7.43`` in its place.

The rule for a comma: three digits after it are thousands, as this package itself writes them
("1,550 gal"); any other number of digits are decimals ("1,55 m³").  Because a reader used to
decimal commas may still mean 1.550, both readings are given where both are possible, and the
checker says which one it took.  A sum is read by Python's own parser of expressions and worked out
over four operations alone; nothing is evaluated as a program.
"""

import ast
import operator
import re
from math import isfinite

from ..core.kinds import UnitError
from ..core.units import clipped

LONGEST = 80
MOST_TERMS = 20
"""Numbers of one sum."""

_LEAD = re.compile(
    r"^(?:about|around|approx\.?|roughly|ca\.?|it is|answer)?\s*[=≈~:]*\s*\$?\s*", re.I
)
_DIGITS = re.compile(r"[+-]?(?:\d[\d.,  ' ]*\d|\d)?(?:[.,]\d+)?[.,]?")
_POWER = re.compile(
    r"[+-]?\d+(?:[.,]\d*)?(?:[eE][+-]?\d{1,3}|\s*[x×*·]\s*10\s*(?:\^|\*\*)\s*\(?[+-]?\d{1,3}\)?)"
    r"(?!\d|\s*[-+*/×÷·(]\s*[\d.(])"
)
_TOKEN = re.compile(
    r"\s*(?:(?P<number>(?:\d{1,3}(?:[  ']\d{3})+(?!\d)|\d+)(?:[.,]\d+)*|[.,]\d+)(?P<power>[eE][+-]?\d{1,3})?"
    r"|(?P<mark>\*\*|[-+*/()×÷·⋅^]|[xX](?=\s*[\d.,(])))"
)
_MEANT = {"×": "*", "·": "*", "⋅": "*", "x": "*", "X": "*", "÷": "/"}
_DOES = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul,
         ast.Div: operator.truediv, ast.USub: operator.neg, ast.UAdd: operator.pos}  # fmt: skip


def read_number(text: str) -> tuple[float, float | None, str]:
    """The number, or the result of the sum, at the start of a text, its other possible reading, and
    the rest.  Where the learner wrote sum and result, the result is taken.

    Raises ``UnitError`` with a sentence.

    >>> read_number("1,55 m³"), read_number("2,260 gal"), read_number("2*3.5 gal")
    ((1.55, None, 'm³'), (2260.0, 2.26, 'gal'), (7.0, None, 'gal'))
    """
    text = str(text).strip().replace("−", "-").replace("–", "-")
    if len(text) > LONGEST:
        raise UnitError(f"{clipped(text)} is too long for a number and its unit.")
    # another system beside it, in brackets
    text = re.sub(r"(?<=[^-+*/×÷·⋅xX(\s])\s*\([^()]*[^\W\d_][^()]*\)$", "", text)
    text = text.rstrip("=≈ ")
    head, _, result = text.replace("≈", "=").rpartition("=")
    if re.search(r"\d", head) and re.search(r"\d", result):
        text = result
    text = text[_LEAD.match(text).end() :]
    power = _POWER.match(text)
    if power:
        bare = re.sub(r"\s*[x×*·]\s*10\s*(?:\^|\*\*)\s*\(?([+-]?\d{1,3})\)?", r"e\1", power.group())
        value = float(bare.replace(",", "."))
        if not isfinite(value):
            raise UnitError(f"{clipped(text)} is too large a number.")
        return value, None, text[power.end() :].strip()
    tokens, end = _sum(text)
    if tokens:
        value, other = _worked_out(tokens, text)
        return value, other, text[end:].strip()
    match = _DIGITS.match(text)
    digits = match.group() if match else ""
    if not re.search(r"\d", digits):
        raise UnitError(f"{clipped(text)} does not start with a number. Write it as 12.5 or 12,5.")
    rest = text[match.end() :].strip()
    bare = re.sub(r"[\s  ']", "", digits).rstrip(".,")
    value, other = _read_marks(bare, text)
    return value, other, rest


def sum_end(text: str) -> int:
    """Where a sum at the start of a text ends; 0 where there is none.

    >>> sum_end("2*3.5 gal"), sum_end("410 gal/day"), sum_end("=1+1")
    (5, 0, 4)
    """
    lead = _LEAD.match(text).end()
    tokens, end = _sum(text[lead:].replace("−", "-").replace("–", "-"))
    return lead + end if tokens else 0


def _sum(text: str) -> tuple[list, int]:
    """The tokens of a sum at the start of a text and its end; no tokens where it is one number."""
    tokens, at = [], 0
    while match := _TOKEN.match(text, at):
        if match["mark"] == "(" and tokens and (tokens[-1][1] or tokens[-1][0] == ")"):
            break  # "410 (1.55 m³)": the same in brackets
        at = match.end()
        tokens.append((match["mark"] or "", match["number"] or "", match["power"] or "", at))
    while tokens and tokens[-1][0] and tokens[-1][0] != ")":
        tokens.pop()  # the "/" of "gal/day", the "-" of a dash
    numbers = [place for place, token in enumerate(tokens) if token[1]]
    if len(numbers) < 2 or not any(token[0] for token in tokens[numbers[0] : numbers[-1]]):
        return [], 0
    return tokens, tokens[-1][3]


def _worked_out(tokens: list, text: str) -> tuple[float, float | None]:
    """The result of a sum, and what it would be with decimal commas."""
    said = f"{clipped(text)} cannot be worked out here; write the result only."
    if sum(bool(token[1]) for token in tokens) > MOST_TERMS:
        raise UnitError(said)
    first, second, unsure = [], [], False
    for place, (mark, number, power, _) in enumerate(tokens):
        if mark:
            first.append(_MEANT.get(mark, mark))
            second.append(first[-1])
            continue
        value, other = _read_marks(re.sub(r"[\s  ']", "", number), text)
        unsure = unsure or other is not None
        if place and tokens[place - 1][1]:
            if not _mixed(tokens, place):
                raise UnitError(said)
            first.append("+")  # 6 1/2
            second.append("+")
        first.append(f"{value!r}{power}")
        second.append(f"{value if other is None else other!r}{power}")
    result = _value(" ".join(first), said)
    if [bool(t[1]) for t in tokens] == [True, False, True] and tokens[1][0] == "-" and result < 0:
        raise UnitError(f"{clipped(text)} looks like a range; write one number.")
    return result, _value(" ".join(second), said) if unsure else None


def _mixed(tokens: list, place: int) -> bool:
    """Whether a whole number and a fraction stand side by side at the start, as in 6 1/2."""
    whole, over = tokens[place - 1][1], [token[0] or token[1] for token in tokens[place:]]
    return place == 1 and len(over) == 3 and over[1] == "/" and whole.isdigit() and (
        over[0].isdigit() and over[2].isdigit())  # fmt: skip


def _value(expression: str, said: str) -> float:
    try:
        result = _reckoned(ast.parse(expression, mode="eval").body)
    except (SyntaxError, ValueError, KeyError, ZeroDivisionError, OverflowError, RecursionError):
        raise UnitError(said) from None
    if not isfinite(result):
        raise UnitError(said)
    return result


def _reckoned(node) -> float:
    """A node of a sum; anything but numbers and the four operations is a ``ValueError``."""
    if isinstance(node, ast.Constant) and type(node.value) is float:
        return node.value
    if isinstance(node, ast.BinOp):
        return _DOES[type(node.op)](_reckoned(node.left), _reckoned(node.right))
    if isinstance(node, ast.UnaryOp):
        return _DOES[type(node.op)](_reckoned(node.operand))
    raise ValueError(node)


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
