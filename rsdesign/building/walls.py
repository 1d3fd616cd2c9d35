"""Where the bulkhead fittings of a pipe part it: a pipe ends at the stop of each, and the next one begins there."""

import math
from dataclasses import replace
from itertools import pairwise

from .graph import Hole, Vessel
from .space import Site, Spot, Way

NEAR = 1e-6


def with_walls(site: Site, way: Way) -> Way:
    """A way with the places at which it passes walls and floors in bulkhead fittings.

    Parameters:
        site: of the layout, its holes drilled.
        way: one of its pipes.
    Returns: the same way; a fitting at one of its ends needs no place, since the pipe ends there.
    """
    if not way.run.counted("bulkhead"):
        return way
    found = [
        spot
        for v in site.layout.vessels
        for hole in v.holes
        if hole.fitting == "bulkhead fitting" and hole.size == way.run.pipe
        for place in site.places[v.name]
        for a, b in pairwise(way.points)
        for spot in _through(v, place, hole, (a, b))
    ]
    return replace(way, walls=tuple(dict.fromkeys(found)))


def _through(
    v: Vessel, place: tuple[float, float], hole: Hole, piece: tuple[Spot, Spot]
) -> list[Spot]:
    """Where one straight piece passes the wall or the floor that a hole is in."""
    (ax, ay, az), (bx, by, bz) = piece
    if hole.side.startswith("wall"):
        if abs(az - hole.height) > NEAR or abs(bz - hole.height) > NEAR:
            return []
        shares = _shares(v, (ax - place[0], ay - place[1]), (bx - place[0], by - place[1]))
    else:
        upright = math.hypot(bx - ax, by - ay) < NEAR < abs(bz - az)
        inside = math.hypot(ax - place[0], ay - place[1]) < max(v.across, v.length) / 2
        shares = [(hole.height - az) / (bz - az)] if upright and inside else []
    near = NEAR / max(math.dist(*piece), NEAR)
    return [
        (ax + t * (bx - ax), ay + t * (by - ay), az + t * (bz - az))
        for t in shares
        if near < t < 1.0 - near
    ]


def _shares(v: Vessel, a: tuple[float, float], b: tuple[float, float]) -> list[float]:
    """Where a straight line from one point to another in plan passes the wall of a vessel, as shares of it."""
    (ax, ay), (dx, dy) = a, (b[0] - a[0], b[1] - a[1])
    if v.shape == "box":
        half_x, half_y, found = v.length / 2, v.across / 2, []
        for start, step, half, other, move, limit in (
            (ax, dx, half_x, ay, dy, half_y), (ay, dy, half_y, ax, dx, half_x)
        ):  # fmt: skip
            for edge in (-half, half):
                if abs(step) > NEAR and abs(other + (edge - start) / step * move) < limit:
                    found.append((edge - start) / step)
        return found
    p, q, r = dx * dx + dy * dy, ax * dx + ay * dy, ax * ax + ay * ay - (v.across / 2) ** 2
    root = q * q - p * r
    if p < NEAR**2 or root <= 0.0:
        return []
    return [(-q - math.sqrt(root)) / p, (-q + math.sqrt(root)) / p]
