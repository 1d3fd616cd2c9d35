"""Boxes and lines on paper: what meets, what covers, what crosses; for labels that keep apart."""

import math

import numpy as np

from ..labels import wide
from .marks import Point

Box = tuple[float, float, float, float]
CLEAR = 0.7
"""Free space around a label [mm]."""


def text_box(x: float, y: float, words: str, size: float, anchor: str = "start", bold=False) -> Box:
    """The box of a line of text."""
    long = wide(words, size, bold)
    left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
    return left, y - 0.85 * size, left + long, y + 0.3 * size


def meets(a: Box, b: Box, gap: float = CLEAR) -> bool:
    """Whether two boxes come nearer than a gap."""
    return (
        a[0] < b[2] + gap and b[0] < a[2] + gap and a[1] < b[3] + gap / 2 and b[1] < a[3] + gap / 2
    )


def boxes_of(boxes: list[Box]) -> np.ndarray:
    """Boxes as rows."""
    return np.array(boxes) if boxes else np.zeros((0, 4))


def overlapped(blocks: np.ndarray, boxes: np.ndarray) -> np.ndarray:
    """How much of each box is covered: 0 for none, up to about 3."""
    if not len(blocks):
        return np.zeros(len(boxes))
    a, b = boxes[:, None, :], blocks[None, :, :]
    wide_ = np.clip(np.minimum(a[..., 2], b[..., 2]) - np.maximum(a[..., 0], b[..., 0]), 0, None)
    tall = np.clip(np.minimum(a[..., 3], b[..., 3]) - np.maximum(a[..., 1], b[..., 1]), 0, None)
    covered = (wide_ * tall).sum(axis=1)
    area = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    return np.minimum(3.0, 4.0 * covered / area) + np.where(covered > 0, 0.15, 0.0)


TURN = 2 * np.pi * np.arange(16) / 16


def ring_of_spots(anchor: Point, away: float, long: float, tall: float) -> np.ndarray:
    """Boxes around a point, at a distance from it, and that distance: left, top, right, bottom, away."""
    c, s = np.cos(TURN), np.sin(TURN)
    x = anchor[0] + np.where(np.abs(c) > 0.3, c * (away + long / 2), c * away)
    y = anchor[1] + s * (away + tall / 2)
    return np.stack(
        [x - long / 2, y - tall / 2, x + long / 2, y + tall / 2, np.full(16, away)], axis=1
    )


def leader(anchor: Point, box: Box) -> tuple[Point, Point] | None:
    """From a point to the nearest edge of a box; None where they touch."""
    x = min(max(anchor[0], box[0]), box[2])
    y = min(max(anchor[1], box[1]), box[3])
    return (anchor, (x, y)) if math.hypot(x - anchor[0], y - anchor[1]) > 1.2 else None


def crosses(start: Point, end: Point, box: Box) -> bool:
    """Whether a line passes through a box (Liang and Barsky's clipping)."""
    (x1, y1), (x2, y2) = start, end
    if (x1 < box[0] and x2 < box[0]) or (x1 > box[2] and x2 > box[2]):
        return False
    if (y1 < box[1] and y2 < box[1]) or (y1 > box[3] and y2 > box[3]):
        return False
    dx, dy = x2 - x1, y2 - y1
    low, high = 0.0, 1.0
    for p, q in ((-dx, start[0] - box[0]), (dx, box[2] - start[0]),
                 (-dy, start[1] - box[1]), (dy, box[3] - start[1])):  # fmt: skip
        if p == 0:
            if q < 0:
                return False
            continue
        r = q / p
        if p < 0:
            low = max(low, r)
        else:
            high = min(high, r)
        if low > high:
            return False
    return high - low > 1e-6


def segments_cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two lines cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
