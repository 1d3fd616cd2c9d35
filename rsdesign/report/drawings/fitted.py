"""A sheet laid out in units of its own and shown as wide as a page asks, its letters at their natural size."""

from .labels import LabelledSheet, wide

WIDE = 500.0
"""From this width on there is room as on a desk; below it as on a phone [px]."""
TALLEST, TALLEST_PHONE = 410.0, 235.0
"""Most height of a picture in the first screen of a page, on a desk and on a phone [px]."""
LETTERS, LETTERS_PHONE = 14.0, 12.0


def narrow(width: float) -> bool:
    """Whether a picture is that of a phone."""
    return width < WIDE


class FittedSheet(LabelledSheet):
    """A sheet whose marks are placed on a layout of ``room`` units and drawn on ``width`` px.

    Places are stretched along and down, each by its own factor; lines, letters and arrow heads are not.
    """

    def __init__(self, width: float, room: tuple[float, float], title: str):
        tall = TALLEST_PHONE if narrow(width) else TALLEST
        height = min(tall, room[1] * width / room[0])
        self.letters = LETTERS_PHONE if narrow(width) else LETTERS
        super().__init__(width, height, title, self.letters)
        self.along, self.down = width / room[0], height / room[1]

    def _at(self, x, y) -> tuple[float, float]:
        return x * self.along, y * self.down

    def rect(self, x, y, w, h, fill=None, stroke="ink", width=2, dash=""):
        """A box."""
        super().rect(*self._at(x, y), *self._at(w, h), fill, stroke, width, dash)

    def circle(self, x, y, r, fill=None, stroke="ink", width=2, dash=""):
        """A circle."""
        super().circle(*self._at(x, y), r * min(self.along, self.down), fill, stroke, width, dash)

    def line(self, *points, stroke="ink", width=2, dash=""):
        """A line through points (x, y)."""
        super().line(*(self._at(*p) for p in points), stroke=stroke, width=width, dash=dash)

    def poly(self, points, fill=None, stroke="ink", width=2):
        """A closed shape."""
        super().poly([self._at(*p) for p in points], fill, stroke, width)

    def text(self, x, y, words: str, anchor="start", size=None, use="ink", bold=False):
        """A label, kept on the sheet."""
        size = size or self.letters
        x, y = self._at(x, y)
        long = wide(words, size, bold)
        before = {"start": 0.0, "middle": long / 2, "end": long}[anchor]
        x = min(max(x, before + 2), self.width - (long - before) - 2)
        y = min(max(y, size), self.height - 4)
        self.taken.append(self.box(x, y, words, anchor, bold, size))
        self._words(x, y, words, anchor, size, use, bold)

    def first_free(self, spots, words: str, use="ink") -> None:
        """A label at the first of the spots, each (x, y, anchor), that is on the sheet and on no other label."""
        for x, y, anchor in spots:
            if self.free(self.box(*self._at(x, y), words, anchor)):
                self.text(x, y, words, anchor, use=use)
                return

    def arrow(self, x1, y1, x2, y2, use="line-water", width=2, head=9.0):
        """A line with one head at its end."""
        self._plainly("arrow", *self._at(x1, y1), *self._at(x2, y2), use, width, head)

    def across(self, x1, x2, y, words: str):
        """A dimension from side to side, with builder's ticks."""
        self._plainly("across", x1 * self.along, x2 * self.along, y * self.down, words)

    def upright(self, x, y1, y2, words: str, side="right"):
        """A dimension from top to bottom, with builder's ticks."""
        self._plainly("upright", x * self.along, y1 * self.down, y2 * self.down, words, side)

    def water(self, x, y, w, h):
        """Water with its darker surface."""
        self._plainly("water", *self._at(x, y), *self._at(w, h))

    def _plainly(self, mark: str, *about) -> None:
        """A mark of several parts, whose ends are placed already."""
        along, down = self.along, self.down
        self.along = self.down = 1.0
        getattr(super(), mark)(*about)
        self.along, self.down = along, down
