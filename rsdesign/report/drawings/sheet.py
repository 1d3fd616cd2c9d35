"""The pen: a sheet of SVG with the few marks that the drawings share."""

import functools
from html import escape
from math import hypot

from .look import colour

SIZE = 18
"""Letters in units of the sheet; a sheet of 480 on a phone shows them at 13 pixels."""
EM = 0.55
"""Mean width of a letter over its height, for keeping labels on the sheet."""


def short(value: float) -> str:
    """A coordinate without needless digits."""
    return f"{value:.1f}".rstrip("0").rstrip(".")


def attributes(about: dict) -> str:
    """Attributes as text, those without a value left out.

    >>> attributes({"data_part": "solids", "href": None, "tabindex": 0})
    ' data-part="solids" tabindex="0"'
    """
    return "".join(
        f' {name.replace("_", "-")}="{escape(str(value))}"'
        for name, value in about.items()
        if value is not None
    )


def paint(fill: str | None) -> str:
    """A fill: a colour by its use, a pattern by its ``url(#name)``, or none."""
    if not fill:
        return "none"
    return fill if fill.startswith("url(") else colour(fill)


@functools.lru_cache(maxsize=1000)
def _style(fill, stroke, width, dash) -> str:
    parts = [f"fill:{paint(fill)}"]
    if stroke:
        parts.append(f"stroke:{colour(stroke)};stroke-width:{short(width)}")
    if dash:
        parts.append(f"stroke-dasharray:{dash}")
    return ";".join(parts)


class Sheet:
    """A drawing in the making; every mark goes on top of those before it."""

    def __init__(self, width: float, height: float, title: str):
        self.width, self.height, self.title = width, height, title
        self.marks: list[str] = []

    def rect(self, x, y, w, h, fill=None, stroke="ink", width=2, dash=""):
        """A box."""
        self.marks.append(
            f'<rect x="{short(x)}" y="{short(y)}" width="{short(max(w, 0))}"'
            f' height="{short(max(h, 0))}" style="{_style(fill, stroke, width, dash)}"/>'
        )

    def circle(self, x, y, r, fill=None, stroke="ink", width=2, dash=""):
        """A circle."""
        self.marks.append(
            f'<circle cx="{short(x)}" cy="{short(y)}" r="{short(r)}"'
            f' style="{_style(fill, stroke, width, dash)}"/>'
        )

    def path(self, d: str, fill=None, stroke="ink", width=2, dash=""):
        """Any line."""
        self.marks.append(f'<path d="{d}" style="{_style(fill, stroke, width, dash)}"/>')

    def dots(self, spots, r: float, use: str):
        """Many small dots as one mark, each (x, y)."""
        d = "".join(f"M{x:.1f} {y:.1f}h0" for x, y in spots)
        style = f"fill:none;stroke:{colour(use)};stroke-width:{short(2 * r)};stroke-linecap:round"
        self.marks.append(f'<path d="{d}" style="{style}"/>')

    def line(self, *points, stroke="ink", width=2, dash=""):
        """A line through points (x, y)."""
        d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
        self.path(d, None, stroke, width, dash)

    def poly(self, points, fill=None, stroke="ink", width=2):
        """A closed shape."""
        d = "M" + "L".join(f"{short(x)} {short(y)}" for x, y in points) + "Z"
        self.path(d, fill, stroke, width)

    def group(self, **about):
        """Opens a group, or a link where it has an ``href``; ``data_part`` is written ``data-part``."""
        self.marks.append(f"<{self._tag(about)}{attributes(about)}>")
        title = about.get("aria_label")
        if title:
            self.marks.append(f"<title>{escape(title)}</title>")

    def end(self, link: bool = False):
        """Closes the group, or the ``link``."""
        self.marks.append("</a>" if link else "</g>")

    def _tag(self, about: dict) -> str:
        return "a" if about.get("href") else "g"

    def text(self, x, y, words: str, anchor="start", size=SIZE, use="ink", bold=False):
        """A label, kept on the sheet."""
        wide = EM * size * len(words)
        before = {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        x = min(max(x, before + 2), self.width - (wide - before) - 2)
        self._words(x, min(max(y, size), self.height - 3), words, anchor, size, use, bold)

    def _words(self, x, y, words: str, anchor, size, use, bold):
        """A label just here, with a halo of the paper around it."""
        weight = ";font-weight:600" if bold else ""
        self.marks.append(
            f'<text x="{short(x)}" y="{short(y)}" text-anchor="{anchor}" font-size="{size}"'
            f' style="fill:{colour(use)};stroke:{colour("paper")};stroke-width:4;'
            f'paint-order:stroke;stroke-linejoin:round{weight}">{escape(words)}</text>'
        )

    def arrow(self, x1, y1, x2, y2, use="line-water", width=2, head=9.0):
        """A line with one head at its end."""
        long = hypot(x2 - x1, y2 - y1) or 1.0
        ux, uy = (x2 - x1) / long, (y2 - y1) / long
        bx, by = x2 - ux * head, y2 - uy * head
        wing = head * 0.6 + width / 2
        self.line((x1, y1), (bx, by), stroke=use, width=width)
        self.poly([(x2, y2), (bx - uy * wing, by + ux * wing), (bx + uy * wing, by - ux * wing)],
                  use, None)  # fmt: skip

    def across(self, x1, x2, y, words: str):
        """A dimension from side to side, with builder's ticks."""
        self.line((x1, y), (x2, y), width=1)
        for x in (x1, x2):
            self.line((x - 5, y + 5), (x + 5, y - 5), width=2)
        self.text((x1 + x2) / 2, y - 6, words, "middle")

    def upright(self, x, y1, y2, words: str, side="right"):
        """A dimension from top to bottom, with builder's ticks."""
        self.line((x, y1), (x, y2), width=1)
        for y in (y1, y2):
            self.line((x - 5, y + 5), (x + 5, y - 5), width=2)
        at = x + 8 if side == "right" else x - 8
        if words:
            self.text(at, (y1 + y2) / 2 + 6, words, "start" if side == "right" else "end")

    def water(self, x, y, w, h):
        """Water with its darker surface."""
        self.rect(x, y, w, h, "water", None)
        self.line((x, y), (x + w, y), stroke="line-water", width=3)

    def svg(self, sentence: str) -> str:
        """The whole drawing as SVG text."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {short(self.width)}'
            f' {short(self.height)}" role="img" aria-label="{escape(self.title)}. {escape(sentence)}"'
            f' font-family="Segoe UI, Noto Sans, Ubuntu, Arial, sans-serif">{"".join(self.marks)}</svg>'
        )
