"""The kinds of air machine side by side: the power each would draw, and a change that saves power."""

from ..core.choices import DesignError
from ..core.units import show
from ..design.model import FIELDS, value_of, with_values
from ..sizing.margins import SHORT, word
from ..sizing.system import Sizing, figure_at, size, value_at
from .session import Session

OWNED = ("air.device", "air.flow", "air.plate_watts")
"""Choices that describe an owned machine; with one of them no other kind is offered."""
SHOWN = ("air.device", "air.count", "air.wire_power", "standby.daily_energy")
SAVES = 0.95
"""A kind is offered where it draws less than this share of the present machine's power."""


def kinds(session: Session) -> dict[str, Sizing]:
    """The design sized with each kind of machine that can deliver the air."""
    found = {}
    for kind in FIELDS["air.machine"].choice.options():
        try:
            found[kind] = size(with_values(session.design, {"air.machine": kind}))
        except DesignError:
            continue
    return found


def air_kinds(session: Session) -> dict:
    """A table of the kinds, and a button where another one saves power."""
    found = {
        "form": "offer",
        "title": "Kinds of air machine",
        "words": [],
        "headings": ["Kind", *(figure_at(path).label for path in SHOWN)],
        "rows": [],
        "acts": [],
    }
    if any(value_of(session.design, path) is not None for path in OWNED):
        found["words"] = ["You told us of a machine of your own, so no other kind is offered."]
        return found
    there = {kind: s for kind, s in kinds(session).items() if not _short(s)}
    found["rows"] = [[kind, *(_cell(s, path, session.system) for path in SHOWN)]
                     for kind, s in sorted(there.items(), key=lambda item: _watts(item[1]))]  # fmt: skip
    now = session.sizing
    least = min(there, key=lambda kind: _watts(there[kind]), default=None)
    if least is None:
        found["words"] = ["No kind of machine on the list gives this air at this depth."]
        return found
    draws = _cell(there[least], "air.wire_power", session.system)
    if _short(now) or _watts(there[least]) < SAVES * _watts(now):
        found["words"] = [
            f"A {least} machine would do this work with {draws}; the one in the design draws"
            f" {_cell(now, 'air.wire_power', session.system)}."
        ]
        found["acts"] = [{"path": "air.machine", "text": least, "title": f"Take the {least} kind"}]
    else:
        found["words"] = ["No other kind of machine would draw clearly less power here."]
    return found


def _watts(sizing: Sizing) -> float:
    return float(sizing.air.wire_power)


def _short(sizing: Sizing) -> bool:
    return any(part.name == "air" and word(part.margin) == SHORT for part in sizing.parts)


def _cell(sizing: Sizing, path: str, system: str) -> str:
    about, value = figure_at(path), value_at(sizing, path)
    if about.kind is None or isinstance(value, str):
        return str(value)
    return show(value, about.kind, system)
