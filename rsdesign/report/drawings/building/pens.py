"""Ways and fittings in any view: a view is a function from space [m] to the plane of a sheet [m]."""

import itertools
import math

from ....building.graph import Run
from ....building.rules import pipe_part
from ....building.space import Way
from ....building.stations import ends, spot_of
from ....building.supports import supports_of
from .dims import symbol
from .fitted import along
from .frame import AIR_DASH, INNER, UNDER_DASH, Job
from .marks import MEDIUM, THIN, Path, about
from .paper import Page

AIRY = ("air", "hose")


def outside(run: Run) -> float:
    """The outside diameter of a run's pipe [m]."""
    return float(pipe_part(run.pipe).outside_diameter)


def draw_way(page: Page, job: Job, way: Way, see, under: bool = True) -> None:
    """A pipe as wide as it is outside; air as a line of dashes, what lies under the floor dashed."""
    run, points = way.run, way.points
    told = about(run=run.name, part="middle")
    if run.kind in AIRY:
        width = 0.13 if run.kind == "hose" else max(0.35, min(page.mm(outside(run)), 0.7))
        dash = "" if run.kind == "hose" else AIR_DASH
        page.path(
            [see(*p) for p in points], "air", width, run.kind != "hose", dash=dash, about=told
        )
        return
    wide = page.mm(outside(run))
    for part, deep in pieces(points) if under else [(points, False)]:
        seen = tuple(dict.fromkeys(see(*p) for p in part))
        if len(seen) == 1:
            x, y = seen[0]
            page.circle(x, y, outside(run) / 2, "pipes", THIN, fill=INNER[run.kind], about=told)
        else:
            page.path(seen, "pipes", THIN, casing=wide, inner="paper" if deep else INNER[run.kind],
                      dash=UNDER_DASH if deep else "", about=told)  # fmt: skip


OVERFLOW_DRAWN = 1.6
"""How much of the overflow of the sump is drawn, past the fence; it goes to a garden [m]."""


def drawn_ways(ways) -> tuple[Way, ...]:
    """The ways as the sheets show them: the overflow, which leaves the site, broken off."""
    return tuple(_broken(w) if w.run.name == "overflow" else w for w in ways)


def _broken(way: Way) -> Way:
    (x1, y1, z1), (x2, y2, z2) = way.points[0], way.points[-1]
    share = min(1.0, OVERFLOW_DRAWN / way.length)
    return Way(
        way.run,
        (way.points[0], (x1 + share * (x2 - x1), y1 + share * (y2 - y1), z1 + share * (z2 - z1))),
        way.tank,
    )


def draw_supports(page: Page, job: Job, ways, see, low: float = -1e9, high: float = 1e9) -> None:
    """A tick across each pipe where a strap holds it; a pipe that is seen end-on has none."""
    for way in ways:
        half = max(page.mm(outside(way.run)) / 2, 0.4) + 0.7
        for one in _seen_supports(job, way):
            if hidden(see, one.spot, one.axis) or not low < one.spot[0] <= high:
                continue
            x, y = page.at(*see(*one.spot))
            dx, dy = (0.0, half) if look_along(see, one.spot, one.axis) == "x" else (half, 0.0)
            page.items.append(Path(((x - dx, y - dy), (x + dx, y + dy)), "pipes", MEDIUM,
                                   about=about(support=one.kind, of=way.run.name)))  # fmt: skip


def _seen_supports(job: Job, way: Way):
    """The supports of a way; of one that is drawn broken off, those on its part that is drawn."""
    if way.run.name != "overflow":
        return supports_of(job.layout, way)
    whole = next(w for w in job.ways if w.run.name == "overflow")
    start = whole.points[0]
    return [s for s in supports_of(job.layout, whole) if math.dist(start, s.spot) <= way.length]


def pieces(points):
    """A way cut where it goes under the floor and comes up again: each piece, and whether it lies under."""
    found, now, deep = [], [points[0]], None
    for a, b in itertools.pairwise(points):
        below = min(a[2], b[2]) < -1e-6 and max(a[2], b[2]) < 1e-6
        if deep is not None and below != deep:
            found.append((tuple(now), deep))
            now = [a]
        now.append(b)
        deep = below
    return [*found, (tuple(now), bool(deep))]


def draw_fittings(page: Page, job: Job, ways, see, low: float = -1e9, high: float = 1e9) -> None:
    """The symbols of what opens or shuts each way, tagged once for each mark.

    What sits on a pipe that is seen end-on, or outside ``low`` to ``high`` along x [m], is left out.
    """
    tagged = set()
    waiting = []
    joins = ends(job.layout)
    for way in ways:
        for mark, fitting in job.numbers.fitted(way.run):
            spot, axis = spot_of(way, fitting.kind, joins)
            if hidden(see, spot, axis) or not low < spot[0] <= high:
                continue
            point = page.at(*see(*spot))
            symbol(
                page, fitting.kind, point, look_along(see, spot, axis), mark=mark, run=way.run.name
            )
            if mark not in tagged:
                tagged.add(mark)
                waiting.append((mark, point))
    for mark, point in waiting:
        page.tag(point, (mark,), mark=mark)


def hidden(see, spot, axis: str) -> bool:
    """Whether a pipe along an axis is seen end-on."""
    step = [0.1 if name == axis else 0.0 for name in "xyz"]
    (x1, y1), (x2, y2) = see(*spot), see(*(p + d for p, d in zip(spot, step, strict=True)))
    return abs(x2 - x1) + abs(y2 - y1) < 1e-9


def look_along(see, spot, axis: str) -> str:
    """How a pipe along an axis of space runs in a view, more along "x" or more along "y"."""
    step = [0.1 if name == axis else 0.0 for name in "xyz"]
    x1, y1 = see(*spot)
    x2, y2 = see(*(p + d for p, d in zip(spot, step, strict=True)))
    return "x" if abs(x2 - x1) >= abs(y2 - y1) else "y"


def tag_runs(page: Page, job: Job, ways, see, words=None) -> None:
    """The mark of each run at one of its ways, with what ``words`` gives for it."""
    alike: dict[str, list[Way]] = {}
    for way in ways:
        alike.setdefault(way.run.name, []).append(way)
    for same in alike.values():
        way = same[0]
        lines = words(way.run) if words else (f"{job.numbers.of(way.run)} · {way.run.pipe}",)
        others = [page.at(*along(w, see, share)) for w in same[:2] for share in (0.5, 0.3, 0.7)]
        page.tag(others[0], lines, others=others[1:], ring=True, weight=30.0, run=way.run.name)


def legend_kinds(job: Job, ways) -> set[str]:
    """The kinds of pipe and fitting for the legend of a sheet."""
    runs = {id(w.run) for w in ways}
    fits = {
        "ball valve" if f.kind == "air valve" else f.kind
        for _, r, f in job.numbers.fittings
        if id(r) in runs
    }
    return kinds_drawn(ways) | {"union" if k == "flexible coupling" else k for k in fits}


def kinds_drawn(ways) -> set[str]:
    """The kinds of pipe for the legend of a sheet."""
    found = {"air" if w.run.kind in AIRY else w.run.kind for w in ways}
    if any(deep for w in ways for _, deep in pieces(w.points)):
        found.add("under")
    return found - {"standpipe"}
