"""Where everything sits: vessels, machines, corners of pipes, valves, from the lines A and B and the datum."""

from collections.abc import Iterator

from ....building.graph import Run
from ....building.guards import fence
from ....building.space import Spot, Way
from ....building.stations import ends, spot_of
from ....building.supports import supports
from .frame import Job
from .free_room import Listed
from .machine_views import shelf_of
from .words import level_words, size_words

WIDTH = 84.0
"""Width of these tables [mm]: three stand side by side."""
COLUMNS = (23.4, 20.2, 20.2, 20.2)
FROM = ("From line A", "From line B")
UNLISTED = ("hose",)
"""Kinds of run whose corners are not listed: a hose lies as it falls."""
NOTED = ("filter air lateral",)
"""Runs that a note beside their vessel places."""


def stations_lists(job: Job) -> list[Listed]:
    """The tables of places of a layout, in the order in which they are needed."""
    found = [
        _listed("Vessels and machines: their middles", "Floor or shelf", _standing(job)),
        _listed("Pipes: their ends and turns", "Middle", _corners(job)),
        _listed("Valves, unions, clean-outs", "Middle", _openers(job)),
        Listed("Straps", ("Mark", "Size", "On posts", "On rails over water", "On walls and stands"), list(_straps(job)),
               (1.0, 1.3, 1.5, 2.2, 2.2)),
    ]  # fmt: skip
    return [one for one in found if one.rows]


def _listed(caption: str, height: str, rows) -> Listed:
    return Listed(caption, ("What", *FROM, height), list(rows), COLUMNS)


def placed(job: Job, spot: Spot) -> tuple[str, str, str]:
    """A place as words: from line A, from line B, over the datum."""
    left, low, _, _ = fence(job.layout)
    say = job.system
    return (
        size_words(spot[0] - left, say),
        size_words(spot[1] - low, say),
        level_words(spot[2], say),
    )


def _standing(job: Job) -> Iterator[tuple[str, ...]]:
    for name, places in job.site.places.items():
        v = job.site.vessel(name)
        for k, (x, y) in enumerate(places, 1):
            label = f"{v.label} {k}" if v.count > 1 else v.label
            yield label, *placed(job, (x, y, v.lowest if v.cone else v.floor))
    for m in job.layout.machines:
        if m.kind == "pump":
            for x, y in job.site.pumps():
                yield "pump", *placed(job, (x, y, job.site.sump.floor))
            continue
        for x, y in job.site.machines() if m.serves == "tank" else [job.site.filter_machine()]:
            yield m.name, *placed(job, (x, y, shelf_of(job, m)))


def told_apart(job: Job, run: Run) -> list[tuple[Way, str]]:
    """The ways of a run that are listed, each with the tank that it is of; tanks of a row are alike.

    Where a pipe of each tank lies as that of the first of its row, moved along the row, the first stands for all.
    """
    found: list[tuple[Way, str]] = []
    for way in (w for w in job.ways if w.run is run):
        if way.tank is None or not job.site.many:
            found.append((way, ""))
        elif not any(_moved(job, other, way) for other, _ in found):
            found.append((way, f"tank {way.tank + 1}"))
    return found


def _moved(job: Job, one: Way, other: Way) -> bool:
    if one.tank is None or other.tank is None or len(one.points) != len(other.points):
        return False
    (x1, y1), (x2, y2) = job.site.tanks[one.tank], job.site.tanks[other.tank]
    if abs(y1 - y2) > 1e-9:
        return False
    return all(
        abs(b[0] - a[0] - (x2 - x1)) + abs(b[1] - a[1]) + abs(b[2] - a[2]) < 1e-6
        for a, b in zip(one.points, other.points, strict=True)
    )


def _corners(job: Job) -> Iterator[tuple[str, ...]]:
    for run in job.layout.runs:
        if run.kind in UNLISTED or run.name in NOTED:
            continue
        mark = job.numbers.of(run)
        for way, words in told_apart(job, run):
            last = len(way.points) - 1
            for k, spot in enumerate(way.points):
                what = "start" if k == 0 else "end" if k == last else f"turn {k}"
                if run.corner_tees and spot == max(way.points, key=lambda p: p[2]):
                    what = f"turn {k}, tee"
                yield (
                    f"{mark} {what}, {words}" if words and k == 0 else f"{mark} {what}",
                    *placed(job, spot),
                )


def _openers(job: Job) -> Iterator[tuple[str, ...]]:
    joins = ends(job.layout)
    for mark, run, fitted in job.numbers.fittings:
        if run.kind in UNLISTED:
            continue
        if fitted.kind == "air valve":
            yield from _air_valves(job, mark)
            continue
        listed = told_apart(job, run)
        if (
            len(listed) > 1
            and not listed[0][0].tank
            and not any("tank" in words for _, words in listed)
        ):
            listed = [(listed[0][0], "each")]  # as high on every one of them
        for way, words in listed:
            spot, _ = spot_of(way, fitted.kind, joins)
            yield (
                f"{mark} {fitted.kind}, {words}" if words else f"{mark} {fitted.kind}",
                *placed(job, spot),
            )


def _air_valves(job: Job, mark: str) -> Iterator[tuple[str, ...]]:
    """Where the air valves of the first manifold sit: one for each hose, two where hoses leave to both sides."""
    starts = [w.points[0] for w in job.ways if w.run.name == "air drop" and w.tank == 0]
    for spot in dict.fromkeys(starts):
        many = starts.count(spot)
        yield f"{mark} {many} × air valve" if many > 1 else f"{mark} air valve", *placed(job, spot)


def _straps(job: Job) -> Iterator[tuple[str, ...]]:
    for run in job.layout.runs:
        kinds = [s.kind for s in supports(job.layout, run)]
        if kinds:
            counts = (str(kinds.count(kind)) for kind in ("post", "rail", "wall"))
            yield job.numbers.of(run), run.pipe, *counts
