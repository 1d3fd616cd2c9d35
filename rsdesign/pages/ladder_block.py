"""How many fish each part can carry, as bars in one scale with the present number as one line."""

from ..sizing.judging import SHORT, percent
from ..studies.ladder import Ladder, Rung, ladder
from ..studies.stacked import TODAY
from .states import STATES

ROOM = 2.0
"""The scale goes to twice the present number of fish; bars beyond it end there and say so."""
OFF_FLOW = frozenset({"drain", "overflow", "settler"})
"""Parts that carry water, whatever eats in it."""
BY_FLOW = "Flow sets these, not the fish"
NOT_BY_FISH = "More fish do not change these"


def ladder_block(session) -> dict | None:
    """What each part carries at the size it has today, the weakest first; None without a sizing."""
    if session.sizing is None:
        return None
    found = ladder(session.sizing, TODAY)
    now = float(session.sizing.stock.fish)
    top = _top(found, now)
    forms = {part.name: part.form for part in session.parts}
    return {
        "sentence": sentence(found),
        "rungs": [_bar(rung, top) for rung in found.rungs],
        "now": {
            "fish": _count(now),
            "label": f"now {_count(now)} fish",
            "reach": round(now / top, 4),
        },
        "steady_title": BY_FLOW if {r.part for r in found.steady} <= OFF_FLOW else NOT_BY_FISH,
        "steady": [_steady(rung, forms[rung.part]) for rung in found.steady],
    }


def sentence(found: Ladder) -> str:
    """Which part gives out first, and which then."""
    if not found.rungs:
        return "More fish change no part here."
    first, *more = found.rungs
    words = f"{first.label} gives out first, at {_count(first.fish)} fish"
    if first.state == SHORT:
        words = f"{first.label} is short: it carries {_fish(first)}"
    if not more:
        return f"{words}."
    then = more[0]
    return f"{words}; then {_lower(then.label)}, at {_count(then.fish)}."


def _lower(label: str) -> str:
    """A label inside a sentence; one with capitals of its own, such as pH, stays.

    >>> _lower("Tank room"), _lower("pH")
    ('tank room', 'pH')
    """
    return label if label[1:2].isupper() else label[0].lower() + label[1:]


def _top(found: Ladder, now: float) -> float:
    """The number of fish at the end of the scale."""
    most = max((rung.fish for rung in found.rungs), default=now)
    return max(min(most, ROOM * now), 1.1 * now)


def _bar(rung: Rung, top: float) -> dict:
    beyond = rung.fish > top * (1 + 1e-9)
    return {
        "part": rung.part,
        "label": rung.label,
        "fish": _count(rung.fish),
        "state": STATES[rung.state],
        "word": rung.state,
        "words": f"carries {_fish(rung)}, {rung.state}",
        "reach": 1.0 if beyond else round(rung.fish / top, 4),
        "beyond": beyond,
        "told": rung.told,
    }


def _steady(rung: Rung, form: str) -> dict:
    return {
        "part": rung.part,
        "label": rung.label,
        "state": STATES[rung.state],
        "word": rung.state,
        "words": f"{percent(rung.margin, form)}, {rung.state}",
    }


def _fish(rung: Rung) -> str:
    return f"{_count(rung.fish)} fish" if rung.fish >= 1 else "no fish"


def _count(fish: float) -> str:
    return f"{fish:,.0f}"
