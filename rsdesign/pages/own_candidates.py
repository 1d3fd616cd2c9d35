"""A grower's own candidates for a part, typed on the cost page beside the invented ones.

They are kept in the session and in the browser, never in a design's link or file: a quoted price is
the reader's own to pass on.
"""

from ..core.choices import DesignError
from ..core.kinds import KINDS, UnitError
from ..core.units import clipped, parse, show
from ..studies.compare import RANGES, Candidate
from ..studies.compare import candidates as listed

PARTS = ("tank", "filter", "settler", "air", "pump", "backup")
"""The parts that have candidates, in the order of their list."""
MAX_OWN = 3
"""Own candidates for one part."""
MAX_NAME = 40
ASKED = (
    ("cost", "Price", "money", "", True),
    ("life", "Life, years", "years", "year", True),
    ("power", "Watts", "power", "W", False),
    ("daily_time", "Own minutes a day", "minutes", "min", False),
)
"""The form: field, label, kind, unit of a bare number, and whether it is required."""


def read_candidate(texts: dict) -> Candidate:
    """A candidate from what was typed.  Raises ``DesignError`` with one sentence.

    >>> read_candidate({"name": "Used vat", "cost": "$150", "life": "4"})
    Candidate(name='Used vat', cost=150.0, life=4.0, salvage=0.0, daily_time=0.0, power=0.0, consumables=0.0)
    """
    name = " ".join(str(texts.get("name") or "").split())
    if not name:
        raise DesignError("Name: give your candidate a name, such as the shop's words for it.")
    if len(name) > MAX_NAME:
        raise DesignError(f"Name: {clipped(name)} is too long; use {MAX_NAME} letters at most.")
    values = {}
    for field, words, kind, unit, must in ASKED:
        text = str(texts.get(field) or "").strip()
        if text:
            values[field] = _value(field, words, KINDS[kind], unit, text)
        elif must:
            raise DesignError(f"{words}: not given yet. {_range(field, KINDS[kind])}")
    return Candidate(name, **values)


def _value(field: str, words: str, kind, unit: str, text: str) -> float:
    try:
        value = parse(text.lstrip("$€£ "), kind, kind.unit(unit))
    except UnitError as wrong:
        raise DesignError(f"{words}: {wrong}") from None
    low, high = RANGES[field]
    if not low <= value <= high:
        raise DesignError(f"{words}: {clipped(text)} will not do. {_range(field, kind)}")
    return value


def _range(field: str, kind) -> str:
    low, high = (show(end, kind, "us") for end in RANGES[field])
    return f"Write a number from {low} to {high}."


def add(own: dict[str, list[dict]], part: str, texts: dict) -> dict[str, list[dict]]:
    """The own candidates with one more.  Raises ``DesignError`` with one sentence."""
    _check_part(part)
    made, rows = read_candidate(texts), own.get(part, [])
    names = [c.name for c in listed(part)] + [row["name"] for row in rows]
    if made.name.lower() in (name.lower() for name in names):
        raise DesignError(f"Name: there is a {clipped(made.name)} already; use another name.")
    if len(rows) >= MAX_OWN:
        raise DesignError(f"{MAX_OWN} of your own are kept for each part; take one away first.")
    row = {"name": made.name} | {
        field: str(texts.get(field) or "").strip()[:40] for field, *_ in ASKED
    }
    return {**own, part: [*rows, row]}


def drop(own: dict[str, list[dict]], part, name) -> dict[str, list[dict]]:
    """The own candidates without one.  Raises ``DesignError`` for a part that has none."""
    _check_part(part)
    return {**own, part: [row for row in own.get(part, []) if row["name"] != name]}


def _check_part(part) -> None:
    if part not in PARTS:
        raise DesignError(f"{clipped(part)} has no candidates; there are {', '.join(PARTS)}.")


def kept(message) -> dict[str, list[dict]]:
    """The candidates that a browser remembers, checked as if just typed; invalid ones are dropped."""
    own: dict[str, list[dict]] = {}
    for part in PARTS if isinstance(message, dict) else ():
        rows = message.get(part)
        for row in rows[:MAX_OWN] if isinstance(rows, list) else ():
            try:
                own = add(own, part, row if isinstance(row, dict) else {})
            except DesignError:
                continue
    rows = message.get("quotes") if isinstance(message, dict) else None
    if rows:
        from .buying import quotes_kept  # noqa: PLC0415  (the list of parts is read for whoever kept a quote)

        own["quotes"] = quotes_kept(rows)
    return own


def of_part(own: dict[str, list[dict]], part: str) -> tuple[Candidate, ...]:
    """The own candidates of a part."""
    return tuple(read_candidate(row) for row in own.get(part, ()))
