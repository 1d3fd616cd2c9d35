"""The booklets of a hand-out: which chapters each holds, for whom, and what it is called.

Each is printed on its own: the plan is read at the table, the buyer and the builder take theirs to the
shop and the yard, the cards hang at the tank, and the working is for who wants to check.
"""

from dataclasses import dataclass

from ...core.choices import DesignError
from ...core.units import clipped


@dataclass(frozen=True, slots=True)
class Booklet:
    """A booklet: the name it is asked for by, its title, what is in it, and its chapters in order."""

    name: str
    title: str
    words: str
    chapters: tuple[str, ...]


BOOKLETS = (
    Booklet(
        "plan", "Plan", "what it is, what it takes, what it costs and what to do each day",
        ("summary", "drawings", "parts", "start", "batches", "feed", "tasks", "cautions", "assumed", "plan words", "design"),
    ),
    Booklet("build", "Buy and build", "everything to buy, every cut and hole, drawings to scale, steps",
            ("to buy", "build words", "to build", "sheets")),
    Booklet("cards", "Cards for the wall", "emergency, water, log sheet, start of the filter, season",
            ("emergency", "water card", "log sheet", "filter", "season", "card words")),
    Booklet("working", "Working", "each formula with its numbers put in, and where it is from",
            ("working",)),
)  # fmt: skip
"""The booklets; every chapter stands in one of them."""

ORDER = (
    "summary", "drawings", "parts", "to buy", "build words", "to build", "sheets", "start", "batches", "season",
    "feed", "tasks", "cautions", "water card", "log sheet", "filter", "emergency", "working", "assumed", "plan words",
    "card words", "design",
)  # fmt: skip
"""Every chapter, in the order of a hand-out in one piece."""

WHOLE = Booklet("all", "Hand-out", "all booklets in one", ORDER)
"""The hand-out in one piece."""

NAMES = (*(booklet.name for booklet in BOOKLETS), WHOLE.name)


def booklet_named(name: str) -> Booklet:
    """The booklet of a name in ``NAMES``; ``DesignError`` with those there are for another."""
    for booklet in (*BOOKLETS, WHOLE):
        if booklet.name == name:
            return booklet
    raise DesignError(f"Booklet: {clipped(name)} is none; choose {', '.join(NAMES)}.")


def usual(form: str) -> str:
    """The booklet that a format makes unless another is asked for: a PDF is printed, so it is the plan."""
    return BOOKLETS[0].name if form == "pdf" else WHOLE.name
