"""Words with numbers in them: ``{name}`` as it was drawn, ``{name:gal}`` in a unit."""

import re

from ..core.kinds import Kind, UnitError
from ..core.units import from_plain, number, parse, show
from .model import ExerciseError

_PLACE = re.compile(r"\{(\w+)(?::([^}]*))?\}")
_NUMBER = re.compile(r"\d[\d,]*\.?\d*(?:e[+-]?\d+)?")
_US = ("ft", "in", "gal", "lb", "oz", "gpm", "cfm", "psi", "°F", "hp", "Btu", "mph", "acre")


def fill(text: str, env: dict, typed: dict, kinds: dict[str, Kind | None], figures: int = 3) -> str:
    """A text with its numbers put in.

    ``env``: plain numbers by name; ``typed``: the same as they were drawn; ``kinds``: their kinds.
    A number without a unit is shown as drawn, with the other system beside it; ``{name:=}`` is as
    drawn and nothing beside it.  ``figures`` of what is computed are written.
    """

    def put(match) -> str:
        name, label = match[1], match[2]
        kind = kinds.get(name)
        if label is None and name in typed:
            return both(typed[name], kind)
        if label == "=":
            return typed[name]
        if name not in env:
            raise ExerciseError(f"a text holds {{{name}}}, which is no number of the exercise.")
        if label is None or kind is None or label.isdigit():
            wanted = int(label) if label and label.isdigit() else figures
            return number(env[name], wanted)
        value = number(from_plain(env[name], kind.unit(label)), figures)
        return f"{value}%" if label == "%" else f"{value} {label}"

    return _PLACE.sub(put, text)


def both(text: str, kind: Kind | None) -> str:
    """A number as drawn, with the other display system beside it where that differs.

    >>> from rsdesign.core.kinds import KINDS
    >>> both("10 ft", KINDS["length"])
    '10 ft (3.05 m)'
    """
    if kind is None or not kind.plain.label:
        return text
    try:
        value = parse(text.replace(",", ""), kind)
    except UnitError:
        return text
    us, metric = kind.shown("us"), kind.shown("metric")
    typed_us = any(re.search(rf"(?<![A-Za-z]){re.escape(u)}(?![A-Za-z])", text) for u in _US)
    if us is metric:
        return text
    other = show(value, kind, "metric" if typed_us else "us")
    return text if other.replace(",", "") == text.replace(",", "") else f"{text} ({other})"


def numbers_in(text: str) -> list[float]:
    """Every number written in a text, thousands commas read."""
    found = []
    for token in _NUMBER.findall(text):
        bare = token.replace(",", "") if re.fullmatch(r"[\d,]*(,\d{3})+(\.\d*)?", token) else token
        try:
            found.append(float(bare.rstrip(",").replace(",", ".")))
        except ValueError:
            continue
    return found


def reveals(text: str, answers: list[float], near: float = 0.004) -> bool:
    """Whether a text holds one of these numbers to three figures, and so would give it away."""
    return any(
        abs(found - answer) <= near * abs(answer)
        for found in numbers_in(text)
        for answer in answers
    )
