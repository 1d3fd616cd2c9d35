"""Where on its way the label of a pipe stands."""

import itertools

from ....building.space import Way


def along(way: Way, see, share: float = 0.5) -> tuple[float, float]:
    """A point of a way for its label: on the leg that looks longest in a view, in its middle or elsewhere."""
    seen = [see(*p) for p in way.points]
    legs = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in itertools.pairwise(seen)]
    leg = max(range(len(legs)), key=legs.__getitem__)
    (x1, y1), (x2, y2) = seen[leg], seen[leg + 1]
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)
