"""A sheet as SVG: width and height in millimeters, its units millimeters of paper."""

from collections.abc import Callable
from html import escape
from math import hypot

from ..look import PALETTE, Drawing, colour, plain
from ..sheet import paint
from .marks import LAYERS, TEXT, THIN, Circle, Dimension, Ground, Path, Words
from .paper import Page

TICK = 0.9
"""Half a builder's tick [mm]."""
CASED = 0.5
"""The two edges of a pipe together [mm]."""
LEAST = 0.7
"""The thinnest pipe that is drawn with two edges is wider than this [mm]."""


def number(value: float) -> str:
    """A coordinate to a ten-thousandth of a millimeter."""
    return f"{value:.4f}".rstrip("0").rstrip(".")


def drawing(page: Page) -> Drawing:
    """The sheet as a ``Drawing``."""
    return Drawing(svg(page), page.sentence, page.table)


def svg(page: Page) -> str:
    """The sheet as SVG text, a group for each layer."""
    groups = []
    for layer in LAYERS:
        here = [item for item in page.items if layer_of(item) == layer]
        marks = [made for rank in range(3) for item in here for made in shown(item, rank)]
        if marks:
            groups.append(f'<g data-layer="{layer}">{"".join(marks)}</g>')
    size = f'width="{number(page.width)}mm" height="{number(page.height)}mm"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {number(page.width)}'
        f' {number(page.height)}" role="img" aria-label="{escape(page.title)}. {escape(page.sentence)}"'
        f' data-scale="{page.scale:g}" data-origin="{number(page.origin[0])} {number(page.origin[1])}"'
        f' font-family="Segoe UI, Noto Sans, Ubuntu, Arial, sans-serif"'
        f' style="font-variant-numeric:tabular-nums">{"".join(groups)}</svg>'
    )


def fixed(text: str) -> str:
    """A sheet with fixed colours on white."""
    return plain(text).replace(PALETTE["paper"], "#FFFFFF")


def layer_of(item) -> str:
    """The layer that a mark lies on."""
    return "dimensions" if isinstance(item, Dimension) else item.layer


def shown(item, rank: int) -> list[str]:
    """A mark as SVG elements; each layer has its lines (0) under the grounds (1) of its words (2)."""
    if isinstance(item, Dimension) and rank == 2:
        return [_words(Words(*item.middle, item.words, "dimensions", TEXT, "middle"))]
    if rank != RANKS.get(type(item), 0):
        return []
    return MADE[type(item)](item)


def _circle(item: Circle) -> list[str]:
    style = _style(item.fill, item.stroke, item.width, item.dash)
    return [f'<circle cx="{number(item.x)}" cy="{number(item.y)}" r="{number(item.r)}"'
            f'{_about(item)} style="{style}"/>']  # fmt: skip


def _ground(item: Ground) -> str:
    left, top, right, low = item.box
    return (
        f'<rect x="{number(left)}" y="{number(top)}" width="{number(right - left)}"'
        f' height="{number(low - top)}" data-ground="label" style="{_style("paper", None, 0.0)}"/>'
    )


def _about(item) -> str:
    return "".join(f' {name}="{escape(value)}"' for name, value in item.about)


def _style(fill, stroke, width: float, dash: str = "") -> str:
    parts = [f"fill:{paint(fill)}"]
    if stroke:
        parts.append(f"stroke:{colour(stroke)};stroke-width:{number(width)}")
    if dash:
        parts.append(f"stroke-dasharray:{dash}")
    return ";".join(parts)


def _line(points, closed=False) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("Z" if closed else "")


def _path(item: Path) -> list[str]:
    d = _line(item.points, item.closed)
    if not item.casing:
        style = _style(item.fill, item.stroke, item.width, item.dash)
        return [f'<path d="{d}"{_about(item)} style="{style};stroke-linejoin:round"/>']
    if item.casing <= LEAST:
        style = _style(None, item.stroke, max(item.casing, MEDIUM_PIPE), item.dash)
        return [f'<path d="{d}"{_about(item)} style="{style}"/>']
    outer = _style(None, item.stroke, item.casing, item.dash)
    inner = _style(None, item.inner, max(item.casing - CASED, 0.1))
    return [f'<path d="{d}"{_about(item)} style="{outer};stroke-linejoin:round"/>',
            f'<path d="{d}" style="{inner};stroke-linejoin:round"/>']  # fmt: skip


MEDIUM_PIPE = 0.45
"""A pipe too thin for two edges is a line this wide [mm]."""


def _words(item: Words) -> str:
    weight = ";font-weight:600" if item.bold else ""
    return (
        f'<text x="{number(item.x)}" y="{number(item.y)}" text-anchor="{item.anchor}"'
        f' font-size="{number(item.size)}"{_about(item)} style="fill:{colour("ink")};stroke:{colour("paper")};'
        f'stroke-width:0.7;paint-order:stroke;stroke-linejoin:round{weight}">{escape(item.words)}</text>'
    )


def ends(item: Dimension):
    """The two ends of a dimension line on the paper."""
    if item.way == "x":
        return (item.start[0], item.at), (item.end[0], item.at)
    return (item.at, item.start[1]), (item.at, item.end[1])


def _dimension(item: Dimension) -> list[str]:
    thin = _style(None, "ink", THIN)
    tick = _style(None, "ink", 0.35)
    first, last = ends(item)
    made = [f'<path d="{_line((first, last))}"{_about(item)} style="{thin}"/>']
    for point, end in ((item.start, first), (item.end, last)):
        x, y = end
        made.append(
            f'<path d="{_line(((x - TICK, y + TICK), (x + TICK, y - TICK)))}" style="{tick}"/>'
        )
        away = hypot(end[0] - point[0], end[1] - point[1])
        if away > 2.5:
            ux, uy = (end[0] - point[0]) / away, (end[1] - point[1]) / away
            a = (point[0] + ux * 1.2, point[1] + uy * 1.2)
            b = (end[0] + ux * 1.2, end[1] + uy * 1.2)
            made.append(f'<path d="{_line((a, b))}" style="{_style(None, "soft", 0.13)}"/>')
    return made


RANKS = {Ground: 1, Words: 2}
MADE: dict[type, Callable[..., list[str]]] = {
    Path: _path, Circle: _circle, Dimension: _dimension,
    Ground: lambda item: [_ground(item)], Words: lambda item: [_words(item)],
}  # fmt: skip
