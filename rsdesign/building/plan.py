"""Where each vessel stands in plan: tanks in rows, and the other vessels in a line beside them."""

from .graph import Vessel
from .plumbing import columns
from .rules import rule

Places = dict[str, tuple[tuple[float, float], ...]]


def places(
    found: dict[str, Vessel],
    wider: dict[str, float] | None = None,
    rise: float = 0.0,
    aisle: float = 0.0,
) -> Places:
    """Middles of every vessel [m]: x along the way of the water towards the tanks, y across it.

    The first tank stands at (0, 0), the others of its row at rising x, a second row at rising y.  The
    vessels behind the tanks stand in a line at falling x, the sump last: in the middle of two rows, in line
    with the drain of one row of several.  ``wider``: gaps in front of a vessel that have to be wider, by its
    name [m].  ``rise``: room for what rises beside the tank, clear of the wall of a pit; ``aisle``: of
    the way between two rows, where its pipes need more than a walkway [m].

    Between two vessels there is room for the walls of both their pits.
    """
    tank = found["tank"]
    wide, pitch = tank.length, tank.length + rule("walkway")
    beside = columns(tank.count)
    rows = -(-tank.count // beside)
    across = tank.across + max(rule("walkway"), aisle)
    at = tuple((k % beside * pitch, k // beside * across) for k in range(tank.count))
    found_at: Places = {"tank": at}
    middle = (rows - 1) * across / 2
    if tank.count > 1 and rows == 1:  # in line with the drain that runs along the tanks
        middle -= tank.across / 2 + max(rule("walkway"), aisle) / 2
    x, near = -wide / 2, rise
    for name, v in found.items():
        if name == "tank" or v.stands_in:
            continue
        x -= max(rule("gap"), (wider or {}).get(name, 0.0), near + v.side if v.side else 0.0, near)
        x, near = x - v.length / 2, v.side
        step = v.across + max(rule("gap"), 2.0 * v.side)
        found_at[name] = tuple((x, middle + (k - (v.count - 1) / 2) * step) for k in range(v.count))
        x -= v.length / 2
    for name, v in found.items():
        if v.stands_in:
            x_at, y_at = found_at[v.stands_in][0]
            found_at[name] = tuple(
                (x_at, y_at + (k - (v.count - 1) / 2) * v.across) for k in range(v.count)
            )
    return found_at


def way_to_tanks(found: dict[str, Vessel]) -> float:
    """From the middle of the sump to the near wall of the first tank, along the line [m]."""
    return -places(found)["sump"][0][0] - found["tank"].length / 2
