"""A plain ground under each label that lies on a line, so that it can be read."""

import itertools
import math
from collections.abc import Iterator

import numpy as np

from .boxes import Box, crosses, text_box
from .marks import TEXT, Circle, Dimension, Ground, Path, Point, Words
from .paper import Page
from .svg import TICK, ends

INSIDE = 0.15
"""A line has to come so far into the box of a label to lie under it [mm]."""


def lay_grounds(page: Page) -> None:
    """Puts a ground under every label of a sheet that a line passes through."""
    known = np.array([(*a, *b) for a, b in lines(page)]).reshape(-1, 4)
    found = []
    for layer, box in labels(page):
        inner = (box[0] + INSIDE, box[1] + INSIDE, box[2] - INSIDE, box[3] - INSIDE)
        if any(crosses((x1, y1), (x2, y2), inner) for x1, y1, x2, y2 in _near(known, inner)):
            found.append(Ground(box, layer))
    page.items += found


def _near(known: np.ndarray, box: Box) -> np.ndarray:
    """Lines whose own box meets a box."""
    x1, y1, x2, y2 = known.T
    near = (np.maximum(x1, x2) >= box[0]) & (np.minimum(x1, x2) <= box[2])
    return known[near & (np.maximum(y1, y2) >= box[1]) & (np.minimum(y1, y2) <= box[3])]


def labels(page: Page) -> Iterator[tuple[str, Box]]:
    """The layer and the box of every label but those of the title block."""
    for item in page.items:
        if isinstance(item, Dimension):
            yield "dimensions", text_box(*item.middle, item.words, TEXT, "middle")
        elif isinstance(item, Words) and item.layer != "sheet":
            yield (
                item.layer,
                text_box(item.x, item.y, item.words, item.size, item.anchor, item.bold),
            )


def lines(page: Page) -> Iterator[tuple[Point, Point]]:
    """Every line that is drawn on a sheet; a wide pipe as its two edges."""
    for item in page.items:
        if isinstance(item, Path) and item.stroke:
            yield from _path(item)
        elif isinstance(item, Circle) and item.stroke:
            turn = [2.0 * math.pi * k / 16 for k in range(17)]
            rim = [(item.x + item.r * math.cos(a), item.y + item.r * math.sin(a)) for a in turn]
            yield from itertools.pairwise(rim)
        elif isinstance(item, Dimension):
            yield from _dimension(item)


def _dimension(item: Dimension) -> Iterator[tuple[Point, Point]]:
    """The line of a dimension, its ticks, and the lines that lead to it."""
    first, last = ends(item)
    yield first, last
    for point, (x, y) in ((item.start, first), (item.end, last)):
        yield point, (x, y)
        yield (x - TICK, y + TICK), (x + TICK, y - TICK)


def _path(item: Path) -> Iterator[tuple[Point, Point]]:
    points = [*item.points, item.points[0]] if item.closed else list(item.points)
    half = item.casing / 2
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        long = math.hypot(x2 - x1, y2 - y1)
        if long == 0.0:
            continue
        dx, dy = -(y2 - y1) / long * half, (x2 - x1) / long * half
        yield (x1 + dx, y1 + dy), (x2 + dx, y2 + dy)
        if half:
            yield (x1 - dx, y1 - dy), (x2 - dx, y2 - dy)
