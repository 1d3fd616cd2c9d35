"""Ends of buried pipe that are plugged while it is tested, before vessels stand on it."""

from collections import Counter
from itertools import pairwise

from .graph import Layout
from .parts_flow import BURIED
from .space import on_piece


def open_ends(layout: Layout) -> dict[str, int]:
    """How many ends of buried pipe join no other buried pipe, by the size of the pipe."""
    ways = [w for w in layout.ways if w.run.name in BURIED]
    found: Counter[str] = Counter()
    for way in ways:
        for end in (way.points[0], way.points[-1]):
            if not any(
                on_piece(end, a, b)
                for other in ways
                if other is not way
                for a, b in pairwise(other.points)
            ):
                found[way.run.pipe] += 1
    return dict(found)
