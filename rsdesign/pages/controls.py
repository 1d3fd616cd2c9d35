"""A choice as a page shows it: slider, number box, unit, help, rule and range; and parsing of input.

Everything comes from the field's ``choice(...)`` and kind.  The stored value is always the plain
number; display units are only how it is written and read, so switching them changes nothing.
"""

import functools
import math

from ..core.choices import DesignError, Field, problem
from ..core.kinds import Kind, UnitError
from ..core.units import (
    clipped,
    digits,
    feet_and_inches,
    from_plain,
    in_system,
    number,
    parse,
    show,
    to_plain,
)
from ..design.model import FIELDS, Design, value_of, with_values
from ..design.possible import INSTEAD, NO_PUMP
from ..design.prices import prices_of
from ..sizing.taken import shown_value
from .spec import Control, worded

STEPS = 200
"""Steps of a slider; an arrow key moves it by one."""
LOG_FROM = 100.0
"""A range of at least this ratio gets a logarithmic slider."""
MAX_REPEATED = 1e12
"""Above this a refused number is not repeated: its zeros cannot be counted."""
MAX_INPUT = 60
"""Characters of typed text that are read."""

NOT_TOLD = ("", "?", "i do not know", "unknown", "not known", "do not know")


def read(text: str, entry: Field, system: str):
    """The value typed for a choice, as the plain number of its kind.

    A bare number is in the unit shown.  ``None`` for "I do not know".  Raises ``DesignError``
    with one sentence.

    >>> read("4,5", FIELDS["tank.depth"], "us") == read("4.5 ft", FIELDS["tank.depth"], "metric")
    True
    """
    text = text[: MAX_INPUT * 4].strip() if isinstance(text, str) else ""
    label = entry.choice.label
    if text.lower() in NOT_TOLD:
        if entry.optional and entry.path not in INSTEAD:
            return None
        raise DesignError(f"{label} needs a number; allowed is {allowed(entry, system)}.")
    try:
        if len(text) > MAX_INPUT:
            raise UnitError(f"{clipped(text)} is too long for a number and its unit")
        value = parse(text, entry.kind, entry.kind.shown(system))
    except UnitError as wrong:
        message = str(wrong).rstrip(".")
        raise DesignError(f"{label}: {message}; allowed is {allowed(entry, system)}.") from None
    wrong = problem(entry, value)
    if wrong:
        raise DesignError(_not_allowed(entry, value, system))
    return value


def allowed(entry: Field, system: str) -> str:
    """The allowed range of a choice in the units shown."""
    low, high = entry.choice.low, entry.choice.high
    return f"{show(low, entry.kind, system)} to {show(high, entry.kind, system)}"


def _not_allowed(entry: Field, value: float, system: str) -> str:
    if math.isfinite(value) and entry.choice.low <= value <= entry.choice.high:
        return f"{entry.choice.label} is {number(value, 12)}; write a whole number."
    said = show(value, entry.kind, system, 6) if abs(value) < MAX_REPEATED else "far too large"
    return (
        f"{entry.choice.label} is {said}, outside what can be"
        f" computed; choose from {allowed(entry, system)}."
    )


def with_value(design: Design, path: str, value) -> Design:
    """A changed copy; a choice that is given is no longer marked as not known."""
    changed = with_values(design, {path: value, **dict.fromkeys(INSTEAD.get(path, ()))})
    if path in NO_PUMP:
        changed = with_values(changed, {"pump.none": False})
    if path in changed.unknown:
        kept = tuple(p for p in changed.unknown if p != path)
        changed = with_values(Design(unknown=kept), {p: value_of(changed, p) for p in FIELDS})
    return changed


# --- sliders -------------------------------------------------------------------------------


@functools.cache
def span_of(control: Control) -> tuple[float, float]:
    """The ends of a slider in plain units."""
    about = FIELDS[control.path].choice
    kind = FIELDS[control.path].kind
    ends = []
    for text, end in ((control.low, about.low), (control.high, about.high)):
        ends.append(end if text is None else _plain(text, kind))
    return ends[0], ends[1]


def _plain(text: str, kind: Kind) -> float:
    return parse(text, kind) if isinstance(text, str) else float(text)


def is_log(low: float, high: float) -> bool:
    """Whether a slider is logarithmic."""
    return low > 0 and high / low >= LOG_FROM


def value_at_position(control: Control, at: float, system: str) -> float:
    """The value at a slider position from 0 to 1, rounded in the unit shown; the ends stay exact."""
    entry = FIELDS[control.path]
    low, high = span_of(control)
    at = min(max(float(at), 0.0), 1.0)
    if at in (0.0, 1.0):
        return low if at == 0.0 else high
    unit = entry.kind.shown(system)
    a, b = from_plain(low, unit), from_plain(high, unit)
    if is_log(low, high):
        raw = a * (b / a) ** at
        step = _nice(raw * math.log(b / a) / STEPS)
    else:
        raw = a + (b - a) * at
        step = _nice((b - a) / STEPS)
    if entry.kind.family == "count":
        step = max(1.0, step)
    rounded = float(f"{round(raw / step) * step:.12g}")
    rounded = min(max(rounded, min(a, b)), max(a, b))
    return to_plain(rounded, unit)


def _nice(step: float) -> float:
    """The nearest of 1, 2, 5 and their tens at or under a step."""
    tens = 10.0 ** math.floor(math.log10(step))
    return max(n for n in (1.0, 2.0, 5.0) if n * tens <= step * (1 + 1e-9)) * tens


def position_of(control: Control, value: float) -> float:
    """The slider position of a value, from 0 to 1; the nearer end for a value beyond the ends."""
    low, high = span_of(control)
    if is_log(low, high):
        at = math.log(max(value, low * 1e-9) / low) / math.log(high / low)
    else:
        at = (value - low) / (high - low)
    return min(max(at, 0.0), 1.0)


def described(control: Control, design, sizing, start, system: str) -> dict:
    """A choice as plain data for the page.

    ``design`` holds the value, ``start`` the value it had at the start, ``sizing`` what the
    sizing took where the design is silent.
    """
    entry, mark = FIELDS[control.path], design.prices.currency
    about, value = entry.choice, value_of(design, control.path)
    first = value_of(start, control.path)
    found = {
        "path": control.path,
        "label": about.label,
        "help": _help(control.path, value),
        "measured": worded(control.measured, system),
        "source": about.source,
        "unsure": entry.optional or control.path in design.unknown,
        "may_not_know": entry.optional and control.path not in INSTEAD,
        "chosen": value is None,
        "none": (none := control.path in NO_PUMP and design.pump.none),
        "changed": value != first or (none and not start.pump.none),
        "start": _words(first, entry, system, mark),
    }
    if about.options is not None or about.low is None:
        return found | _a_word(entry, value, sizing)
    found |= _a_number(control, entry, value, first, sizing, system, mark)
    return found | {"taken": "", "spoken": "none"} if none else found


def taken_or_given(sizing, path: str) -> float | None:
    """The number of a choice in a sizing: given by the design, else taken."""
    value = value_of(sizing.design, path)
    value = _taken(path, sizing) if value is None else value
    finite = isinstance(value, (int, float)) and math.isfinite(value)
    return float(value) if finite else None


def _help(path: str, value) -> str:
    """The help text of a choice; where it follows from another choice that was given, that one's name."""
    others = [FIELDS[other].choice.label for other in INSTEAD.get(path, ())]
    if value is not None or not others:
        return FIELDS[path].choice.help
    said = ", ".join(f"{other[0].lower()}{other[1:]}" for other in others)
    return f"It follows from: {said}. Say a number here, and that one is cleared."


def _words(value, entry: Field, system: str, mark: str) -> str:
    if value is None:
        return "our choice"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return (
        _shown(value, entry.kind, system, mark, 4) if entry.kind else str(value).replace("_", " ")
    )


def _shown(value: float, kind: Kind, system: str, mark: str, figures: int = 3) -> str:
    """A value with its unit; money with the currency's symbol."""
    text = show(value, kind, system, figures)
    return f"{mark}{text}" if kind.family.startswith("money") else text


def _a_word(entry: Field, value, sizing) -> dict:
    taken = _taken(entry.path, sizing)
    if isinstance(entry.choice.default, bool):
        names = ["yes", "no"]
        value = "yes" if value else "no"
    elif entry.choice.options is None:
        return {"form": "text", "text": str(value or "")}
    else:
        names = list(entry.choice.options())
    return {
        "form": "word",
        "options": [{"value": n, "label": n.replace("_", " ")} for n in names],
        "value": value,
        "taken": str(taken) if value is None and isinstance(taken, str) else "",
    }


def _taken(path: str, sizing):
    if path.startswith("prices.") and sizing is not None:
        return prices_of(sizing.design)[path.partition(".")[2]].value
    return None if sizing is None else shown_value(sizing, path)


def _a_number(control, entry: Field, value, first, sizing, system: str, mark: str) -> dict:
    taken = _taken(control.path, sizing) if value is None else None
    at = value if value is not None else taken
    at = float(at) if isinstance(at, (int, float)) and math.isfinite(at) else None
    low, high = span_of(control)
    unit = entry.kind.shown(system)
    rule = entry.choice.rule
    return {
        "form": "number",
        "text": "" if value is None else exact(value, entry.kind, system),
        "taken": "" if at is None else digits(at, entry.kind, system),
        "also": _on_a_tape(at, unit),
        "unit": f"{mark} {unit.label}".strip()
        if entry.kind.family.startswith("money")
        else unit.label,
        "system": system,
        "spoken": "" if at is None else _shown(at, entry.kind, system, mark, 4),
        "position": None if at is None else position_of(control, at),
        "beyond": at is not None and not low <= at <= high,
        "low": _shown(low, entry.kind, system, mark),
        "high": _shown(high, entry.kind, system, mark),
        "allowed": allowed(entry, system),
        "start_at": None if first is None else position_of(control, first),
        "rule_at": None if rule is None else position_of(control, rule),
        "rule": "" if rule is None else _shown(rule, entry.kind, system, mark),
        "rule_words": entry.choice.rule_words,
    }


def _on_a_tape(value: float | None, unit) -> str:
    """A length in feet and inches, unless it is a whole number of feet."""
    if value is None or unit.label != "ft" or not 0.3 <= value < 30.5:
        return ""
    words = feet_and_inches(value)
    return words if words.endswith("in") else ""


def exact(value: float, kind: Kind, system: str) -> str:
    """The text of a number box: all digits where they are few, else rounded to four.

    The stored value stays unrounded.

    >>> exact(3.14159 * 0.3048, FIELDS["tank.width"].kind, "us")
    '3.14159'
    """
    shown, _ = in_system(value, kind, system)
    whole = f"{shown:.10g}"
    return (
        whole if len(whole.strip("-0.").replace(".", "")) <= 7 else f"{float(f'{shown:.4g}'):.10g}"
    )
