"""What a document is made of: plain data that every renderer shows in its own way.

All words are plain text; markup appears only in drawings (SVG) and formulas (LaTeX), which the
package itself makes.
"""

import datetime
from dataclasses import dataclass, field

import numpy as np

from ...building.graph import Layout
from ...core.units import show
from ...sizing.system import Sizing, figure_at, value_at
from ...studies.enterprise import Enterprise
from ...studies.heat.yearly import full_year
from .. import ranges as bands


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; ``fresh`` begins a page on paper."""

    words: str
    level: int = 1
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; ``soft`` for notes and sources."""

    words: str
    soft: bool = False


@dataclass(frozen=True, slots=True)
class Steps:
    """A list; each item a pair: when or what (may be empty), and what to do."""

    items: tuple[tuple[str, str], ...]
    numbered: bool = False
    beside: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with the sentence that says what it shows; ``width`` is its share of the page."""

    svg: str
    sentence: str
    width: float = 0.6
    title: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of words.  ``widths`` are shares of the page; ``beside`` sets halves side by side.

    Rows named in ``strong`` are sums; ``dense`` sets long lists in smaller type, ``large`` those that
    are read on a wall.
    """

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()
    beside: bool = False
    strong: tuple[int, ...] = ()
    dense: bool = False
    large: bool = False


@dataclass(frozen=True, slots=True)
class Worked:
    """One equation: formula, the same with its numbers put in, result, words of symbols, source."""

    title: str
    latex: str
    filled: str
    plain: str
    result: str
    inputs: tuple[tuple[str, str, str], ...]
    source: str


SHORT = 60
"""Letters of a formula up to which its numbers stand on the same line."""


def meanings(block: Worked) -> list[str]:
    """What each symbol stands for, with its value where the formula does not hold it."""
    texts = [words if block.filled else f"{words} {value}" for _, words, value in block.inputs]
    return [words + (";" if i < len(texts) - 1 else ".") for i, words in enumerate(texts)]


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt, what to know, and whom to ask."""

    hazard: str
    fact: str
    ask: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """Cautions side by side."""

    items: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Boxes:
    """Boxes of a card for the wall: title, one line that stands out, steps."""

    boxes: tuple[tuple[str, str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to fill in by hand."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DayBox:
    """One day of a calendar and what is given on it; box and blanks come with it."""

    day: int
    give: str = ""


@dataclass(frozen=True, slots=True)
class Week:
    """One row of a calendar: which days, what to expect, and the days."""

    days: str
    expect: tuple[str, ...]
    boxes: tuple[DayBox, ...]


@dataclass(frozen=True, slots=True)
class Calendar:
    """Weeks with a square for each day, to tick and to fill in by hand; ``blanks``: short labels."""

    caption: str
    head: str
    blanks: tuple[str, ...]
    weeks: tuple[Week, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """Text that is typed as it stands."""

    words: str
    label: str


@dataclass(frozen=True, slots=True)
class Square:
    """A QR code (SVG) and the words it holds."""

    svg: str
    holds: str
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class Sheets:
    """Drawings to build by, each on a page that lies on its side; made when they are shown."""

    layout: Layout
    system: str


TICK = "☐"
"""A box to tick."""

Block = (
    Heading | Text | Steps | Figure | Table | Worked | Cautions | Boxes | Blanks | Calendar | Code
    | Square | Sheets
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Document:
    """A hand-out or one of its booklets: title, blocks, every figure shown in it by path, and its name."""

    title: str
    system: str
    sizing: Sizing
    money: Enterprise
    blocks: tuple
    shown: dict[str, str]
    booklet: str


@dataclass(slots=True, eq=False)
class Writer:
    """Gathers blocks, and remembers every figure that the words show."""

    sizing: Sizing
    system: str
    told: datetime.date | None = None
    """The day of stocking as it was told, before it was moved into the season."""
    blocks: list = field(default_factory=list)
    shown: dict[str, str] = field(default_factory=dict)
    money: Enterprise = field(init=False)

    def __post_init__(self):
        self.money = full_year(self.sizing)

    def add(self, *blocks) -> None:
        """Put blocks at the end."""
        self.blocks += blocks

    def said(self, path: str) -> str:
        """A figure of the sizing as words, kept in ``shown``."""
        value, kind = value_at(self.sizing, path), figure_at(path).kind
        if kind is None or isinstance(value, str) or value is None:
            words = str(value if value is not None else "none")
        else:
            words = self.plain(value, kind)
        self.shown[path] = words
        return words

    def minutes_to_act(self) -> str:
        """The minutes to act with their range, each kept in ``shown``."""
        for path in bands.MINUTES:
            self.said(path)
        return bands.minutes_to_act(self.sizing, self.system)

    def baking_soda(self) -> str:
        """Baking soda a day with its band, both ends kept in ``shown``."""
        for path in ("water.bicarbonate_net", "water.bicarbonate_book"):
            self.said(path)
        return bands.baking_soda(self.sizing, self.system)

    def about(self) -> str:
        """The name of the design, without odd signs."""
        name = "".join(c if c.isprintable() else " " for c in self.sizing.design.name).strip()
        return name or "Your design"

    def plain(self, value, kind) -> str:
        """Any plain number as words."""
        if value is None:
            return ""
        return show(value, kind, self.system) if np.isfinite(value) else "no answer"
