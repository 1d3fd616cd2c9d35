"""The description of a page, from which everything on it derives.

A page names choices, figures, pictures and checks by their paths in the design and the sizing;
their labels, units, ranges, help and sources are written where they are defined, never here.
"""

import re
from dataclasses import dataclass


def worded(text: str, system: str) -> str:
    """A page's text in one unit system: of ``{4 gallons|15 liters}`` the half for it.

    >>> worded("Raise it {2 ft|0.6 m}.", "metric")
    'Raise it 0.6 m.'
    """
    return re.sub(r"\{([^{}|]*)\|([^{}|]*)\}", r"\1" if system == "us" else r"\2", text)


@dataclass(frozen=True, slots=True)
class Control:
    """One choice on a page, and the span of its slider.

    ``low`` and ``high`` are written with their unit, such as ``"3 ft"``; left out, the span comes
    from the choice.  Typed values may go further, as far as the choice allows.
    """

    path: str
    low: str | None = None
    high: str | None = None
    measured: str = ""
    """How to measure the value: words beside the box, such as "with a tape"."""
    nothing: str = ""
    """The value of the answer "I have none", where that is one: a value, or "none"."""


@dataclass(frozen=True, slots=True)
class Guess:
    """A number to guess before the page shows it."""

    ask: str
    figure: str


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the series."""

    name: str
    file: str
    title: str
    question: str
    words: tuple[str, ...]
    lead: str = ""
    """One short sentence beside the question: what to do first."""
    headline: tuple[tuple[str, str, str], ...] = ()
    """Four or five figures of the first screen: path, a short label, a few words on what it means."""
    short: tuple[Control, ...] = ()
    """The choices that every reader sees; the first ``in_view`` stand in the first screen."""
    in_view: int = 4
    more: tuple[Control, ...] = ()
    """Further choices, visible when everything is shown."""
    guess: Guess | None = None
    system_first: bool = True
    """Whether the first screen shows the whole system, and the page's own picture stands below."""
    low_picture: bool = False
    """Whether the page's own picture is low enough to stay in view on a phone."""
    hold: str = "told"
    """What ribbons hold while a choice moves: the parts that are "told", or every part as "today"."""
    ladder: bool = False
    """Whether the page shows how many fish each part can carry."""
    picture: str = ""
    """A drawing, as ``module.function`` of ``rsdesign.report.drawings``."""
    course: str = ""
    """What changes with time on this page, by its name in ``courses.blocks.MODULES``; its charts are the picture."""
    spread: bool = False
    """Whether the page asks how sure the design is; its charts are the picture."""
    choosing: bool = False
    """Whether the page chooses what to buy; the front that it finds is the picture."""
    closer: str = ""
    """A second drawing, where the page's own one stands in the first screen."""
    charts: tuple[str, ...] = ()
    """Charts, visible when everything is shown, as ``module.function`` of ``rsdesign.report.drawings``."""
    figures: tuple[str, ...] = ()
    costs: tuple[str, ...] = ()
    """Figures of the budget, before the others."""
    parts: tuple[str, ...] = ()
    """The parts whose checks the page shows; none means all."""
    card: str = ""
    """The part whose by-hand card the page shows."""
    rule: str = ""
    """One sentence on the rule of thumb and where it fails; the numbers come from the part."""
    tradeoff: tuple[str, str, str] | None = None
    """The choice first swept on this page, and the two results shown."""
    try_this: str = ""
    blocks: tuple[str, ...] = ()
    """Further blocks of this page, by their names in ``own_blocks.MAKERS``."""
    year: bool = False
    """Whether its text begins with the assumptions behind the year's harvest and cost."""
    tables: bool = False
    """Whether the further blocks are long, so that a wide screen keeps the checks beside them."""
    owned: bool = False
    """Whether the page is about owned parts alone, so that it shows nothing of a plan."""
    answer: bool = False
    """Whether the further blocks are the answer, so that a phone shows them before figures and checks."""

    @property
    def controls(self) -> tuple[Control, ...]:
        """Every choice of the page."""
        return self.short + self.more

    def control(self, path: str) -> Control:
        """The control of a choice; one with the choice's own span where the page has none."""
        return next((c for c in self.controls if c.path == path), Control(path))
