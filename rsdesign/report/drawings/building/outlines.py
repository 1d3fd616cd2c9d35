"""The view from above, and the inside of a vessel in it."""

from ....building.graph import Vessel


def outline(v: Vessel, x: float, y: float):
    """The inside of a vessel in plan; None for a round one."""
    a, b = v.length / 2, v.across / 2
    if v.shape == "box":
        return [(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)]
    if v.shape == "octagon":
        c = a * 0.41421356
        return [(x - c, y - a), (x + c, y - a), (x + a, y - c), (x + a, y + c),
                (x + c, y + a), (x - c, y + a), (x - a, y + c), (x - a, y - c)]  # fmt: skip
    if v.shape == "cut square":
        c = a * 0.6
        return [(x - c, y - a), (x + c, y - a), (x + a, y - c), (x + a, y + c),
                (x + c, y + a), (x - c, y + a), (x - a, y + c), (x - a, y - c)]  # fmt: skip
    return None


def above(x: float, y: float, z: float) -> tuple[float, float]:
    """The view from above."""
    return x, y
