"""What the section shows: the first tank and what serves all, cut into strips where it is long."""

import itertools
from dataclasses import dataclass

from ....building.guards import railed
from ....building.rules import rule
from ....building.space import Way
from .frame import Job
from .pens import drawn_ways
from .vessel_views import pit_of


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """A part of the section from ``span[0]`` to ``span[1]`` along x [m]."""

    span: tuple[float, float]
    low: tuple[float, float]
    high: tuple[float, float]
    vessels: tuple[tuple[str, float], ...]
    ways: tuple[Way, ...]
    tagged: tuple[Way, ...]
    """Ways whose longest piece lies in this strip."""
    breaks: tuple[tuple[float, str], ...]


def break_at(job: Job) -> float:
    """Where the section breaks off behind the first tank [m]."""
    tank = job.site.tank
    return tank.length / 2 + (rule("walkway") / 2 if job.site.columns() > 1 else 1e3)


def seen(job: Job) -> tuple[Way, ...]:
    """The ways of the first tank and those that serve all, those that look alike once."""
    found, known = [], set()
    for way in drawn_ways(job.ways):
        if way.tank not in (None, 0) or way.run.kind == "hose":
            continue
        look = (way.run.name, tuple((round(p[0], 3), round(p[2], 3)) for p in way.points))
        if look not in known:
            known.add(look)
            found.append(way)
    return tuple(found)


def clipped(points, low: float, high: float):
    """The part of a way between two limits along x."""
    found: list = []
    for a, b in itertools.pairwise(points):
        piece = _piece(a, b, low, high)
        if piece is None:
            continue
        if not found or found[-1] != piece[0]:
            found.append(piece[0])
        found.append(piece[1])
    return tuple(dict.fromkeys(found))


def _piece(a, b, low: float, high: float):
    if max(a[0], b[0]) < low - 1e-9 or min(a[0], b[0]) > high + 1e-9:
        return None
    if abs(a[0] - b[0]) < 1e-12:
        return a, b
    ends = sorted(((low - a[0]) / (b[0] - a[0]), (high - a[0]) / (b[0] - a[0])))
    t1, t2 = max(0.0, ends[0]), min(1.0, ends[1])
    if t2 <= t1:
        return None
    start, stop = ((p if t in (0.0, 1.0) else tuple(m + t * (n - m) for m, n in zip(a, b, strict=True)))
                   for t, p in ((t1, a), (t2, b)))  # fmt: skip
    return start, stop


def strips(job: Job, count: int) -> tuple[Strip, ...]:
    """The section in up to so many strips, cut in gaps between vessels, the tanks' strip first."""
    ways = seen(job)
    standing = [(n, at[0][0]) for n, at in job.site.places.items()]
    standing.sort(key=lambda s: bool(job.site.vessel(s[0]).stands_in))
    left = min(
        [x - job.site.vessel(n).length / 2 for n, x in standing]
        + [p[0] for w in ways for p in w.points]
    )
    right = min(break_at(job), max([x + job.site.vessel(n).length / 2 for n, x in standing]
                                   + [p[0] for w in ways for p in w.points]))  # fmt: skip
    cuts = _cuts(job, standing, left, right, count)
    edges = [left - 0.2, *cuts, right]
    found = []
    for low, high in itertools.pairwise(edges):
        breaks = []
        if high in cuts:
            breaks.append((high, "goes on below" if count else ""))
        if low in cuts:
            breaks.append((low, "goes on above"))
        if high == right and job.site.columns() > 1:
            rest = job.site.tank.count
            breaks.append((right, "tank 2 alike" if rest == 2 else f"tanks 2 to {rest} alike"))
        found.append(_strip(job, ways, standing, (low, high), tuple(breaks)))
    return _named(tuple(reversed(found)))


def _named(parts: tuple[Strip, ...]) -> tuple[Strip, ...]:
    """Break words by where the other strip lies: the tanks' strip stands on top."""
    swap = {"goes on below": "goes on above", "goes on above": "goes on below"}
    return tuple(
        Strip(p.span, p.low, p.high, p.vessels, p.ways, p.tagged,
              tuple((x, swap.get(words, words)) for x, words in p.breaks))
        for p in parts
    )  # fmt: skip


def _cuts(job: Job, standing, left: float, right: float, count: int) -> list[float]:
    """Gaps between vessels nearest to equal parts."""
    edges = sorted(
        (x - job.site.vessel(n).length / 2, x + job.site.vessel(n).length / 2) for n, x in standing
    )
    gaps = [(a[1] + b[0]) / 2 for a, b in itertools.pairwise(edges) if b[0] - a[1] > 0.1]
    cuts: list[float] = []
    for k in range(1, count):
        wanted = left + (right - left) * k / count
        near = min((g for g in gaps if g not in cuts), key=lambda g: abs(g - wanted), default=None)
        if near is not None:
            cuts.append(near)
    return sorted(cuts)


def _strip(job: Job, ways, standing, span, breaks) -> Strip:
    low, high = span
    here = tuple((n, x) for n, x in standing if low < x < high)
    parts, tagged = [], []
    for way in ways:
        points = clipped(way.points, low, high)
        if len(points) > 1:
            part = Way(way.run, points, way.tank)
            parts.append(part)
            if _most(way, low, high):
                tagged.append(part)
    zs = [p[2] for w in parts for p in w.points]
    if {n for n, _ in here} & {v.name for v in railed(job.layout)}:
        zs.append(rule("rail high"))
    for n, _ in here:
        v = job.site.vessel(n)
        zs += [pit_of(v), v.rim, v.inlet or 0.0]
    return Strip(
        span, (low, min(zs) - 0.1), (high, max(zs)), here, tuple(parts), tuple(tagged), breaks
    )


def _most(way: Way, low: float, high: float) -> bool:
    """Whether the middle of a way's longest piece, as the section shows it, lies between two limits."""
    limits = [
        abs(a[0] - b[0]) + abs(a[2] - b[2])
        for a, b in zip(way.points, way.points[1:], strict=False)
    ]
    k = limits.index(max(limits))
    return low < (way.points[k][0] + way.points[k + 1][0]) / 2 <= high or (
        way.tank == 0 and low < way.points[0][0] <= high
    )
