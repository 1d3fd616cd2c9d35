"""What a page on time asks beside the choices of the design: how one starts, when one feeds.

The answers stand in ``Session.answers`` under the page's name and the option's own; they are no part of
a design, so a link does not carry them.
"""

from dataclasses import dataclass

from ...core.choices import DesignError
from ...core.units import clipped
from ..session import Session

LONGEST = 200
"""Characters of an answer that are read."""


@dataclass(frozen=True, slots=True)
class Option:
    """One question, with the answers to pick from, or a box for text where there are none."""

    name: str
    label: str
    usual: str
    picks: tuple[tuple[str, str], ...] = ()
    """Each answer with its words."""
    hint: str = ""
    """How to write it, for a box."""


def key(page: str, name: str) -> str:
    """Where a session keeps an answer."""
    return f"{page}.{name}"


def answers(session: Session, options: tuple[Option, ...]) -> dict[str, str]:
    """The answer to each option; the usual one where none was given.

    Raises ``DesignError`` for an answer that is not among those to pick from.
    """
    found = {}
    for option in options:
        text = str(session.answers.get(key(session.page.name, option.name), ""))[:LONGEST].strip()
        text = text or option.usual
        names = [name for name, _ in option.picks]
        if names and text not in names:
            raise DesignError(f"{option.label}: {clipped(text)} is none of {', '.join(names)}.")
        found[option.name] = text
    return found


def shown(session: Session, options: tuple[Option, ...]) -> list[dict]:
    """The options as data for the page."""
    page = session.page.name
    return [
        {
            "name": key(page, option.name),
            "label": option.label,
            "value": str(session.answers.get(key(page, option.name), "")) or option.usual,
            "picks": [{"value": value, "label": label} for value, label in option.picks],
            "hint": option.hint,
        }
        for option in options
    ]
