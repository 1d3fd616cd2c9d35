"""Labels that keep out of each other's way: each takes the first free spot of those offered."""

import functools
from itertools import pairwise

from .sheet import Sheet

LETTERS = {
    " ": 0.26, ".": 0.27, ",": 0.27, ":": 0.27, "(": 0.31, ")": 0.31, "-": 0.33, "/": 0.38,
    "i": 0.26, "l": 0.26, "j": 0.26, "f": 0.35, "t": 0.37, "r": 0.42, "s": 0.48, "c": 0.48,
    "m": 0.94, "w": 0.79, "%": 0.84, "M": 0.91, "W": 0.93, "I": 0.34, "²": 0.37, "³": 0.37,
    "x": 0.53, "y": 0.51, "v": 0.51, "k": 0.54, "z": 0.47, "J": 0.3, "×": 0.58,
}  # fmt: skip
"""Widths of letters over their height, in the widest of the fonts that a page asks for; from memory."""
SMALL, CAPITAL, BOLD = 0.62, 0.74, 1.08
"""Widths of all other letters and digits, of capitals, and of bold ones over plain ones."""
ROUND = 3.0
"""Free space around a label [px]."""


@functools.lru_cache(maxsize=4000)
def wide(words: str, size: float, bold: bool = False) -> float:
    """Width of a line of text [px]; rather too much than too little."""
    long = sum(LETTERS.get(c) or (CAPITAL if c.isupper() else SMALL) for c in words)
    return long * size * (BOLD if bold else 1.0)


def spread(centers, widths, low: float, high: float, gap: float) -> list[float]:
    """Centers moved apart as little as their widths ask for, within low and high.

    >>> spread([10, 12], [20, 20], 0, 100, 4)
    [10.0, 34.0]
    """
    found, end = [], low
    for center, width in zip(centers, widths, strict=True):
        start = max(end, center - width / 2)
        found.append(start + width / 2)
        end = start + width + gap
    last = high
    for k in range(len(found) - 1, -1, -1):
        found[k] = min(found[k], last - widths[k] / 2)
        last = found[k] - widths[k] / 2 - gap
    return found


def _meets(others, left, top, right, bottom) -> bool:
    """Whether a box comes too near to one of the others; most lie above or below."""
    left, right = left - ROUND, right + ROUND
    # A plain loop is faster, and a thousand pairs are met in a drawing.
    for x1, y1, x2, y2 in others:  # noqa: SIM110
        if bottom > y1 and y2 > top and right > x1 and x2 > left:
            return True
    return False


class LabelledSheet(Sheet):
    """A sheet that knows where its labels lie."""

    def __init__(self, width: float, height: float, title: str, size: float):
        super().__init__(width, height, title)
        self.size = size
        self.taken: list[tuple[float, float, float, float]] = []
        self.blocks: list[tuple[float, float, float, float]] = []
        """What labels had better not lie on: vessels, pipes."""
        self.late: list[str] = []
        """Marks that go on top of all others."""

    def free(self, box, clear: bool = False) -> bool:
        """Whether a box lies on the sheet and on no label; if ``clear``, on nothing else either."""
        left, top, right, bottom = box
        if left < 1 or top < 1 or right > self.width - 1 or bottom > self.height - 1:
            return False
        found = _meets(self.taken, left, top, right, bottom)
        return not (found or (clear and _meets(self.blocks, left, top, right, bottom)))

    def box(self, x, y, words: str, anchor="start", bold=False, size: float | None = None):
        """The box of a line of text whose baseline begins, centers or ends at a point."""
        size = size or self.size
        long = wide(words, size, bold)
        left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
        return left, y - 0.95 * size, left + long, y + 0.3 * size

    def keep(self, left, top, right, bottom) -> None:
        """Keeps labels out of a box."""
        self.taken.append((left, top, right, bottom))

    def block(self, left, top, right, bottom) -> None:
        """Keeps labels out of a box as long as they find room elsewhere."""
        self.blocks.append((left, top, right, bottom))

    def keep_clear(self, points) -> None:
        """Keeps labels off a line as long as they find room elsewhere, in boxes a few pixels long."""
        for (x1, y1), (x2, y2) in pairwise(points):
            many = max(int(abs(x2 - x1) / 4), 1)
            along, down = (x2 - x1) / many, (y2 - y1) / many
            rise, fall = (0.0, down) if down > 0.0 else (down, 0.0)
            for k in range(many):
                left, start = x1 + k * along, y1 + k * down
                self.blocks.append((left, start + rise - 2, left + along, start + fall + 2))

    def write(self, x, y, words: str, anchor="start", use="ink", bold=False) -> None:
        """A label just here."""
        self.taken.append(self.box(x, y, words, anchor, bold))
        before = len(self.marks)
        self._words(x, y, words, anchor, self.size, use, bold)
        self.late.extend(self.marks[before:])
        del self.marks[before:]

    def put(self, spots, words: str, use="ink", bold=False, clear=False) -> bool:
        """A label at the first free spot of those offered, each (x, y, anchor); none, if none is free.

        A spot that is clear of vessels and pipes is taken before one that is not; with ``clear``
        only such a one.  A line break in the words makes two lines.
        """
        lines = words.split("\n")
        down = self.size + 2
        for strict in (True,) if clear else (True, False):
            for x, y, anchor in spots:
                if all(self.free(self.box(x, y + k * down, line, anchor, bold), strict)
                       for k, line in enumerate(lines)):  # fmt: skip
                    for k, line in enumerate(lines):
                        self.write(x, y + k * down, line, anchor, use, bold)
                    return True
        return False
