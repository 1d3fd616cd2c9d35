"""The text of a design file to start from, and the numbers in it as a person would type them."""

import json
import re

from ..core.choices import Field
from ..core.kinds import Kind
from ..core.units import from_plain, parse, show
from .file import write_cell
from .model import FIELDS


def starter(system: str = "us", given: dict | None = None) -> str:
    """A commented file to start from: every choice with its words, its range and its default.

    What must be told stands ready to be changed, and so does what is ``given`` (values by path);
    the rest stands behind ``#``.
    """
    told = {"goal.harvest": _WANTED[system], **(given or {})}
    lines = [
        "# A design for a small recirculating fish system.",
        "# Change what you know. A line that starts with # is left to the sizing:",
        "# take the # away to choose for yourself. Write 'not known' where you do not know.",
        "",
        'name = "My system"',
    ]
    part = ""
    for path, entry in FIELDS.items():
        if not entry.section:
            continue
        if entry.section != part:
            part = entry.section
            lines += ["", f"[{part}]"]
        about = entry.choice
        words = f"# {about.label}. {about.help}".rstrip()
        allowed = "" if about.low is None or entry.kind is None else f" ({_span(entry, system)})"
        if about.options:
            allowed = f" (one of: {', '.join(about.options())})"
        lines.append(f"{words}{allowed}")
        if path in told:
            lines.append(f"{entry.name} = {_cell(entry, told[path], system)}")
        else:
            lines.append(f"# {entry.name} = {_cell(entry, about.default, system)}")
    return "\n".join(lines) + "\n"


TYPED = 4
"""Digits that people type: a starting value stands with no more, where it cannot be exact."""


def typed_value(entry: Field, value: float, system: str) -> str:
    """A starting value as a person would type it: in the author's words, or in few digits.

    It reads back as the very value where that takes six digits or fewer, else as what the pages
    show, to four.

    >>> typed_value(FIELDS["site.water_temperature"], 28.0, "us")
    '82.4 °F'
    >>> typed_value(FIELDS["tank.depth"], FIELDS["tank.depth"].choice.default, "us")
    '32 in'
    """
    kind, about = entry.measure, entry.choice
    unit, label = kind.shown(system), about.written.partition(" ")[2]
    if about.written and value == about.default and _of_system(label, kind, system):
        return about.written
    shown = from_plain(value, unit)
    for digits in range(1, 7):
        text = f"{float(f'{shown:.{digits}g}'):.10g} {unit.label}".strip()
        if abs(parse(text, kind) - value) <= 1e-12 * max(abs(value), 1e-30):
            return text
    return f"{float(f'{shown:.{TYPED}g}'):.10g} {unit.label}".strip()


def _of_system(label: str, kind: Kind, system: str) -> bool:
    """Whether a unit is one that readers of a display system write."""
    if kind.us == kind.metric or label == kind.shown(system).label:
        return True
    words = set(re.findall(r"[A-Za-z]+", label))
    american = words & {"ft", "in", "gal", "lb", "oz", "gpm", "cfm", "F", "psi", "mph", "acre"}
    metric = words & {"m", "cm", "mm", "L", "kg", "g", "C", "kPa", "Pa", "ha"}
    return not metric if system == "us" else not american


_WANTED = {"us": 480 * 0.45359237 / 31557600.0, "metric": 220 / 31557600.0}
"""The harvest that a starter file stands at: 480 lb or 220 kg a year."""


def _span(entry: Field, system: str) -> str:
    low, high = entry.choice.low, entry.choice.high
    return f"{show(low, entry.measure, system)} to {show(high, entry.measure, system)}"


def _cell(entry: Field, value, system: str) -> str:
    if value is None:
        return '"not known"'
    number = entry.choice.low is not None and (
        entry.measure.shown(system).label or entry.choice.written
    )
    cell = typed_value(entry, value, system) if number else write_cell(entry, value, system)
    if isinstance(cell, bool):
        return "true" if cell else "false"
    return json.dumps(cell, ensure_ascii=False)
