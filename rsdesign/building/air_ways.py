"""Ways of the air: pipes to the tanks, hoses to the stones or discs, and the pipes under the media."""

import math
from itertools import pairwise

from .graph import Diffusers, Run
from .machines import outlet_height
from .rules import rule
from .space import HAND, Site, Way, copies, pitch, reach, straight


def air_ways(site: Site) -> list[Way]:
    """Every pipe and hose that carries air."""
    return [
        *_risers(site),
        *_mains(site),
        *_reliefs(site),
        *_manifolds(site),
        *_drops(site),
        *_filter(site),
    ]


def _risers(site: Site):
    run = site.layout.run("air riser")
    if run is not None:
        for x, y in site.machines():
            yield Way(run, ((x, y, outlet_height(site.tank)), (x, y, site.air_height())))


def _mains(site: Site):
    run = site.layout.run("air main")
    if run is None:
        return
    (x, y), high = site.machines()[-1], site.air_height()
    last = max(px for px, _ in site.tanks)
    for d in copies(run.count, 2.0 * run.inside):
        line = site.air_y + d
        yield Way(run, straight(((x + d, y, high), (x + d, line, high), (last, line, high))))


def _reliefs(site: Site):
    """Beside the machines, up from each air pipe."""
    run = site.layout.run("air relief")
    if run is None:
        return
    for way in _mains(site):
        (x, y, z), (bx, by, _) = way.points[-2], way.points[-1]
        along = math.dist((x, y), (bx, by))
        share = _relief_at(site, way, along) / along
        px, py = x + share * (bx - x), y + share * (by - y)
        yield Way(run, ((px, py, z), (px, py, z + run.legs[0].length)))


def _relief_at(site: Site, way: Way, along: float) -> float:
    """How far from the turn of the air pipe its outlet of spare air stands: where two tees have room [m]."""
    start, room = way.points[-2][0], pitch(way.run)
    tees = sorted(x - start for x in {x for x, _ in site.tanks} if 0.0 < x - start < along)
    for here, after in pairwise([0.0, *tees, along]):
        if after - here >= 2.0 * room:
            return min(here + max(RELIEF_AT, room), after - room)
    return min(along / 2, RELIEF_AT)


RELIEF_AT = 0.5
"""From the turn of the air pipe to the outlet of spare air; from memory [m]."""


def _manifolds(site: Site):
    run = site.layout.run("air manifold")
    if run is None:
        return
    high = site.air_height()
    for k, (x, y) in enumerate(site.tanks):
        turn = site.toward((x, y), site.air_y)
        end = (x, site.air_y - turn * run.length, high)
        yield Way(run, ((x, site.air_y, high), end), k)


def tank_diffusers(site: Site) -> Diffusers | None:
    """What makes the bubbles in the tanks."""
    return next((d for d in site.layout.diffusers if d.vessel == "tank"), None)


def spots(site: Site, k: int) -> list[tuple[float, float]]:
    """Where stones or discs lie in a tank: in two lines beside the manifold [m]."""
    d = tank_diffusers(site)
    if d is None:
        return []
    x, y = site.tanks[k]
    tank = site.tank
    aside = tank.length / 4 if tank.shape != "box" else min(tank.length, tank.across) / 4
    line = (
        0.75 * math.sqrt((tank.across / 2) ** 2 - aside**2)
        if tank.shape != "box"
        else 0.4 * tank.across
    )
    rows = math.ceil(d.each / 2)
    found = []
    for n in range(d.each):
        row, side = n // 2, 1 if n % 2 else -1
        along = 0.0 if rows == 1 else line * (2 * row / (rows - 1) - 1)
        found.append((x + side * aside, y + along))
    return found


def _drops(site: Site):
    run, d = site.layout.run("air drop"), tank_diffusers(site)
    if run is None or d is None:
        return
    high = site.air_height()
    low = max(site.tank.level - d.depth, site.tank.floor)
    for k, (x, _) in enumerate(site.tanks):
        for px, py in spots(site, k):
            yield Way(run, ((x, py, high), (px, py, high), (px, py, low)), k)


def _lateral_gap(drop: Run, many: int, inside: float) -> float:
    """From one drilled pipe to the next [m]: so that the first cross has room beside the elbow at the wall."""
    gap = rule("lateral gap")
    return gap if many < 2 else min(gap, 2.0 * (inside - pitch(drop)) / (many - 1))


def _filter(site: Site):
    if site.layout.run("filter air main") is None:
        return
    main, drop, grid = (site.run(f"filter air {n}") for n in ("main", "drop", "lateral"))
    bed, (x, y) = site.vessel("filter"), site.filter_machine()
    outlet = outlet_height(bed)
    high = outlet + main.legs[0].length
    last = max(py for _, py in site.places["filter"])
    inside = bed.across / 2 - HAND
    yield Way(main, ((x, y, outlet), (x, y, high), (x, last - inside, high)))
    low = bed.floor + 0.05
    for px, py in site.places["filter"]:
        many = max(1, grid.count // bed.count)
        lines, edge = copies(many, _lateral_gap(drop, many, inside)), py - inside
        yield Way(
            drop,
            straight(((px, edge, high), (px, edge, low), (px, max(py + lines[-1], edge), low))),
        )
        for d in lines:
            half = min(grid.length / 2, max(reach(bed, d) - 0.03, 0.05))
            yield Way(grid, ((px - half, py + d, low), (px + half, py + d, low)))
