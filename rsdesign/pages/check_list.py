"""The checks and the margins of a page as data."""

import math

from ..core.units import show
from ..sizing.margins import Check, percent, worst_first
from .session import Session
from .states import STATES, state_of_check


def checks(session: Session) -> list[dict]:
    """The checks of the page's parts, worst first, in the units shown."""
    if session.sizing is None or session.page.owned:
        return []
    return [as_check(c) for c in session.page_checks()]


def as_check(check: Check) -> dict:
    """One check as data: badge, word, sentence."""
    return {
        "part": check.part,
        "word": check.word,
        "state": state_of_check(check),
        "words": check.words,
        "limit": check.limit,
        "source": check.source,
    }


MAX_SHOWN_MARGIN = 2.0
"""Bars are to scale up to twice the need, beyond it logarithmic."""


def margin_bars(session: Session) -> list[dict]:
    """Every part's margin as a bar beside a mark at the need, shortest first."""
    if session.sizing is None or session.page.owned:
        return []
    found, system = [], session.system
    for part in worst_first(session.parts):
        margin = float(part.margin)
        if not math.isfinite(margin):
            reach = MAX_SHOWN_MARGIN + 1 if margin > 0 else 0.0
        else:
            reach = (
                margin
                if margin <= MAX_SHOWN_MARGIN
                else MAX_SHOWN_MARGIN + math.log10(margin / MAX_SHOWN_MARGIN)
            )
        found.append({
            "name": part.name,
            "label": part.label,
            "word": part.word,
            "state": STATES[part.word],
            "share": percent(margin, part.form),
            "reach": round(min(max(reach, 0.0), MAX_SHOWN_MARGIN + 1) / (MAX_SHOWN_MARGIN + 1), 4),
            "need": round(1 / (MAX_SHOWN_MARGIN + 1), 4),
            "needed": show(part.required, part.kind, system),
            "given": show(part.provided, part.kind, system),
            "form": part.form,
            "owned": part.owned,
        })  # fmt: skip
    return found
