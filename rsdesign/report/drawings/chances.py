"""Two charts on how sure a design is: the chance of each check as a bar, and each input alone at its ends."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

import numpy as np

from ...core.units import number
from ...sizing.judging import ENOUGH, SHORT, TIGHT
from .axes import Axis, nice
from .fitted import narrow
from .hatch import GRADES, OUTLINES, patterns, short_name
from .labels import LabelledSheet, wide
from .look import Drawing

SURE, EVEN = 0.9, 0.5
"""From the first on a check is called enough, below the second short; between them tight."""
HALF = 0.47
"""Most share of the sheet that the names take."""
KEY = "rsch"


@dataclass(frozen=True, slots=True)
class ChanceBar:
    """One check: its words, its chance from 0 to 1, and the chance in words."""

    label: str
    chance: float
    words: str

    @property
    def state(self) -> str:
        """How it stands, as a state of a part."""
        return SHORT if self.chance < EVEN else TIGHT if self.chance < SURE else ENOUGH


@dataclass(frozen=True, slots=True)
class Swing:
    """One input: its words, and the result at its low tenth and at its high tenth."""

    label: str
    low: float
    high: float


def size_of(width: float) -> float:
    """Height of the letters [px]."""
    return 12.0 if narrow(width) else 13.0


def broken(words: str, room: float, size: float) -> list[str]:
    """Words in lines that are no wider than a room [px].

    >>> broken("Oxygen in the busiest hour", 90.0, 13.0)
    ['Oxygen in the', 'busiest hour']
    """
    found: list[str] = []
    for word in words.split():
        if found and wide(f"{found[-1]} {word}", size) <= room:
            found[-1] += f" {word}"
        else:
            found.append(word)
    return found


class _Rows:
    """Rows of names at the left and a scale at the right, in the making."""

    def __init__(self, labels: Sequence[str], width: float, foot: float, title: str, right: float):
        size, room = size_of(width), HALF * width
        self.lines = [broken(label, room - 10, size) for label in labels]
        longest = max(wide(line, size) for lines in self.lines for line in lines)
        self.left, self.right = min(longest + 10, room), width - right
        self.deep = [size * 1.15 * len(lines) + 6 for lines in self.lines]
        self.start = size + 9
        self.sheet = LabelledSheet(width, self.start + sum(self.deep) + foot, title, size)
        self.sheet.marks.insert(0, patterns(KEY))
        self.sheet.write(1, size + 1, title, bold=True)
        self.tops = self.start + np.concatenate([[0.0], np.cumsum(self.deep)])

    def write(self, place: int) -> tuple[float, float]:
        """The name of a row; gives the top and the depth of its bar."""
        top, size = float(self.tops[place]), self.sheet.size
        for k, line in enumerate(self.lines[place]):
            self.sheet.write(self.left - 8, top + size * (1.15 * k + 1.05), line, "end")
        return top + self.deep[place] / 2 - 7, 11.0

    @property
    def end(self) -> float:
        """Where the rows end [px]."""
        return float(self.tops[-1])

    def grid(self, axis: Axis, at: float, width: float) -> None:
        """A thin line through all rows."""
        self.sheet.line(
            (axis.at(at), self.start), (axis.at(at), self.end), stroke="line", width=width
        )

    def done(self, title: str, sentence: str) -> str:
        """The sheet as SVG."""
        self.sheet.marks.insert(0, f"<title>{escape(title)}</title>")
        self.sheet.marks.extend(self.sheet.late)
        return self.sheet.svg(sentence)


def chances_chart(bars: Sequence[ChanceBar], width: float, sentence: str, table: tuple) -> Drawing:
    """The chance of each check as a bar from 0 to 100 %, in the order given.

    Parameters:
        bars: one ``ChanceBar`` or more.
        width: of the sheet [px].
        sentence: what the chart shows.
        table: its numbers, as headings and rows.
    Returns: ``Drawing``.
    """
    title = "Chance that each check stands"
    rows = _Rows([bar.label for bar in bars], width, 18.0, title, 62.0)
    sheet, axis = rows.sheet, Axis(0.0, 1.0, rows.left, rows.right)
    for at in (0.0, EVEN, 1.0):
        rows.grid(axis, at, 0.7)
    for place, bar in enumerate(bars):
        top, deep = rows.write(place)
        use, thick, dash = OUTLINES[bar.state]
        sheet.rect(axis.start, top, axis.end - axis.start, deep, "inset", None)
        if bar.chance > 0.0:
            sheet.rect(axis.start, top, axis.at(bar.chance) - axis.start, deep,
                       f"url(#{KEY}-{short_name(bar.state)})", use, min(thick, 1.8), dash)  # fmt: skip
        sheet.write(
            width - 2, top + deep - 1, bar.words, "end", GRADES[bar.state], bar.state == SHORT
        )
    _foot(rows, axis, ((0.0, "0"), (EVEN, "50"), (1.0, "100 % of draws")))
    return Drawing(rows.done(title, sentence), sentence, table)


def _foot(rows: _Rows, axis: Axis, ticks) -> None:
    """Numbers under the scale."""
    sheet = rows.sheet
    for at, words in ticks:
        x, half = axis.at(at), wide(words, sheet.size) / 2
        x = min(max(x, half + 2), sheet.width - half - 2)
        sheet.write(x, rows.end + sheet.size + 1, words, "middle", "soft")


def swings_chart(
    swings: Sequence[Swing], planned: float, unit: str, width: float, sentence: str, table: tuple
) -> Drawing:
    """A result with each input alone at its low and at its high tenth, the widest first.

    The bar of a low input is plain, that of a high one hatched, so that grey paper tells them apart.

    Parameters:
        swings: one ``Swing`` or more, in the unit shown.
        planned: the result as planned.
        unit: of the result.
        width: of the sheet [px].
        sentence: what the chart shows.
        table: its numbers, as headings and rows.
    Returns: ``Drawing``.
    """
    title = "What fish cost, one input at a time"
    size = size_of(width)
    rows = _Rows([swing.label for swing in swings], width, 2 * size + 14, title, 10.0)
    sheet, ends = rows.sheet, [x for swing in swings for x in (swing.low, swing.high)]
    low, high = min([*ends, planned]), max([*ends, planned])
    room = 0.04 * (high - low) or 0.05 * abs(planned) or 1.0
    axis = Axis(low - room, high + room, rows.left, rows.right)
    step = nice((axis.high - axis.low) / (3 if narrow(width) else 5))
    ticks = np.arange(np.ceil(axis.low / step), np.floor(axis.high / step) + 1) * step
    for at in ticks:
        rows.grid(axis, at, 0.5)
    for place, swing in enumerate(swings):
        top, deep = rows.write(place)
        for value, fill in ((swing.low, "water"), (swing.high, f"url(#{KEY}-tight)")):
            left, right = sorted((axis.at(value), axis.at(planned)))
            sheet.rect(left, top, right - left, deep, fill, "ink", 0.9)
    sheet.line(
        (axis.at(planned), rows.start - 3), (axis.at(planned), rows.end + 3), stroke="clay", width=2
    )
    _foot(rows, axis, [(at, number(float(at), 3)) for at in ticks])
    _legend(rows, f"{unit}, planned {number(planned, 3)}")
    return Drawing(rows.done(title, sentence), sentence, table)


def _legend(rows: _Rows, words: str) -> None:
    """Which bar is which, and the unit, on the last line."""
    sheet, size = rows.sheet, rows.sheet.size
    y, x = rows.end + 2 * size + 8, 2.0
    for fill, name in (("water", "input low"), (f"url(#{KEY}-tight)", "high")):
        sheet.rect(x, y - 9, 12, 9, fill, "ink", 0.9)
        sheet.write(x + 16, y, name)
        x += 16 + wide(name, size) + 10
    sheet.write(sheet.width - 2, y, words, "end", "clay")
