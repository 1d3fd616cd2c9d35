"""Dimension chains, level marks and the symbols of a builder's drawing."""

import itertools

from ..labels import wide
from .boxes import CLEAR, text_box
from .marks import MEDIUM, TEXT, THIN, Circle, Dimension, Path, about
from .paper import Page
from .words import level_words, size_words

APART = 5.0
"""From one dimension line to the next [mm]."""


def across(page: Page, xs, y: float, at: float, system: str, **marks) -> None:
    """A chain of dimensions from side to side at ``at`` on the paper [mm]; ``xs`` and ``y`` in meters."""
    xs = sorted(xs)
    for x1, x2 in itertools.pairwise(xs):
        if x2 - x1 > 1e-9:
            one_across(page, x1, x2, y, at, system, **marks)


def one_across(page: Page, x1: float, x2: float, y: float, at: float, system: str, **marks) -> None:
    """One dimension from side to side, its words where they are free."""
    words = size_words(x2 - x1, system)
    start, end = page.at(x1, y), page.at(x2, y)
    middle = (start[0] + end[0]) / 2
    long = wide(words, TEXT)
    inside = long + 1.0 < end[0] - start[0]
    spots = [(middle, at - 0.8)] if inside else []
    for down in (TEXT + 1.1, -3.6, 2 * TEXT + 2.2, -6.8, 3 * TEXT + 3.2, -10.0):
        spots += [(middle + shift, at + down) for shift in (0.0, 4.0, -4.0, 9.0, -9.0, 15.0, -15.0)]
    spot = _free(page, spots, words)
    far = abs(spot[1] - at) > 2 * TEXT or abs(spot[0] - middle) > long / 2 + 1
    if far:
        _thin_leader(page, (middle, at), spot, words)
    page.items.append(
        Dimension(start, end, at, "x", words, spot, about(meters=f"{x2 - x1:.9f}", **marks))
    )
    page.blocks.append((start[0], at - 0.4, end[0], at + 0.4))
    page.taken.append(text_box(spot[0], spot[1], words, TEXT, "middle"))


def upright(page: Page, ys, x: float, at: float, system: str, side: str = "left", **marks) -> None:
    """A chain of dimensions from low to high at ``at`` on the paper [mm]; ``ys`` and ``x`` in meters."""
    ys = sorted(ys)
    for y1, y2 in itertools.pairwise(ys):
        if y2 - y1 > 1e-9:
            one_upright(page, y1, y2, x, at, system, side, **marks)


def one_upright(page: Page, y1: float, y2: float, x: float, at: float, system: str,
                side: str = "left", before: str = "", **marks) -> None:  # fmt: skip
    """One dimension from low to high, its words beside it, a word ``before`` its size."""
    y1, y2 = sorted((y1, y2))  # a hole may lie lower than the edge of a floor with a cone
    words = before + size_words(y2 - y1, system)
    start, end = page.at(x, y1), page.at(x, y2)
    middle, half = (start[1] + end[1]) / 2 + 0.9, wide(words, TEXT) / 2 + 1.0
    first = (1,) if side == "right" else (-1,)
    spots = []
    for away in (0.0, 3.0, 6.0, 10.0, 15.0, 20.0):
        for turn in (*first, -first[0]):
            spots += [
                (at + turn * (half + away), middle + down) for down in (0, 3.2, -3.2, 6.4, -6.4)
            ]
    spot = _free(page, spots, words)
    if abs(abs(spot[0] - at) - half) > 0.1 or abs(spot[1] - middle) > 2:
        _thin_leader(page, (at, middle - 0.9), spot, words)
    page.items.append(
        Dimension(start, end, at, "y", words, spot, about(meters=f"{y2 - y1:.9f}", **marks))
    )
    page.blocks.append((at - 0.4, end[1], at + 0.4, start[1]))
    page.taken.append(text_box(spot[0], spot[1], words, TEXT, "middle"))


def _free(page: Page, spots, words: str):
    """The first free spot, one off the lines of the drawing before one on them."""
    found = [s for s in spots if page.free(text_box(s[0], s[1], words, TEXT, "middle"))]
    for spot in found:
        box = text_box(spot[0], spot[1], words, TEXT, "middle")
        if not any(
            box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in page.blocks
        ):
            return spot
    if found:
        return found[0]
    x, y = spots[0]
    for k in range(1, 80):  # further and further away, to the side and down
        for dx, dy in ((0, 3.4 * k), (0, -3.4 * k), (6.0 * k, 0), (-6.0 * k, 0)):
            if page.free(text_box(x + dx, y + dy, words, TEXT, "middle")):
                return x + dx, y + dy
    return spots[0]


def _thin_leader(page: Page, point, spot, words: str) -> None:
    left, top, right, low = text_box(spot[0], spot[1], words, TEXT, "middle")
    x = min(max(point[0], left), right)
    y = min(max(point[1], top), low)
    if abs(x - point[0]) + abs(y - point[1]) > CLEAR:
        page.items.append(Path((point, (x, y)), "dimensions", 0.13))
        page.leaders.append((point, (x, y)))


def level_mark(page: Page, x: float, level: float, system: str, what: str, **marks) -> None:
    """An inverted triangle on a level, with its words and its height over the datum."""
    px, py = page.at(x, level)
    tri = ((px - 1.2, py - 2.0), (px + 1.2, py - 2.0), (px, py))
    page.items.append(Path(tri, "levels", THIN, closed=True, fill="paper"))
    page.taken.append((px - 1.1, py - 1.7, px + 1.1, py))
    words = (what, level_words(level, system)) if what else (level_words(level, system),)
    page.tag((px, py - 2.2), (" ".join(words),), "levels", level=f"{level:.9f}", **marks)


def symbol(page: Page, kind: str, point, way: str, s: float = 1.5, **marks) -> None:
    """The symbol of a fitting on the paper, half ``s`` [mm]; ``way``: its pipe runs along "x" or "y"."""
    x, y = point
    told = about(fitting=kind, **marks)
    if kind in ("ball valve", "check valve", "air valve"):
        turns = ((-s, -0.7 * s), (s, 0.7 * s), (s, -0.7 * s), (-s, 0.7 * s))
        ends = tuple((x + p, y + q) if way == "x" else (x + q, y + p) for p, q in turns)
        fill = "ink" if kind == "check valve" else "paper"
        page.items.append(Path(ends, "pipes", THIN, closed=True, fill=fill, about=told))
        if kind == "check valve":
            page.items.append(Circle(x, y, 0.7, "pipes", THIN, fill="paper"))
    elif kind in ("union", "flexible coupling"):
        for d in (-0.45, 0.45):
            line = (
                ((x + d, y - s), (x + d, y + s)) if way == "x" else ((x - s, y + d), (x + s, y + d))
            )
            page.items.append(Path(line, "pipes", MEDIUM, about=told))
    elif kind == "clean-out":
        page.items.append(Circle(x, y, 1.3, "pipes", THIN, fill="paper", about=told))
        page.items.append(Path(((x - 0.9, y), (x + 0.9, y)), "pipes", MEDIUM))
    else:
        page.items.append(Circle(x, y, 0.6, "pipes", THIN, fill="paper", about=told))
    page.blocks.append((x - s, y - s, x + s, y + s))
