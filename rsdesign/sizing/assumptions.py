"""What the sizing assumed where a design is silent, said in words."""

from ..core.kinds import Kind
from ..core.units import show
from ..design.model import FIELDS, value_of
from .taken import FIGURES, ROWS, shown_value


def assumptions(sizing, system: str = "us") -> tuple[str, ...]:
    """A sentence for every choice left out, and for every one marked as not known."""
    found = []
    for path in (*FIGURES, *ROWS):
        if value_of(sizing.design, path) is None:
            found.append(_sentence(sizing, path, system))
    for path in sizing.design.unknown:
        entry = FIELDS[path]
        if not entry.optional:
            default = entry.choice.default
            value = default if entry.kind is None else _in_words(default, entry.kind, system)
            found.append(f"{entry.choice.label}: not known, taken as {value}.")
    return tuple(found)


def _sentence(sizing, path: str, system: str) -> str:
    entry, value = FIELDS[path], shown_value(sizing, path)
    if getattr(value, "ndim", 0):
        return f"{entry.choice.label}: taken for each design."
    if isinstance(value, str) or entry.kind is None:
        return f"{entry.choice.label}: taken as {value}."
    return f"{entry.choice.label}: taken as {_in_words(value, entry.kind, system)}."


def _in_words(value, kind: Kind, system: str) -> str:
    """A value with its unit, days and years in the plural."""
    text = show(value, kind, system)
    return f"{text}s" if kind.shown(system).label in ("day", "year") and text[:2] != "1 " else text
