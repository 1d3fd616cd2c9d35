"""The system seen at an angle, true to scale along its three axes, so that every pipe can be followed."""

import math

from ....building.air_ways import spots, tank_diffusers
from ....building.graph import Vessel
from ....building.rules import rule
from .frame import Job, blank, fit, legend, many, wrapped
from .marks import HAIR, MEDIUM, THIN, about
from .outlines import outline
from .paper import Page
from .pens import draw_fittings, draw_supports, draw_way, drawn_ways, legend_kinds, tag_runs
from .plan_sheet import MACHINE

SIDE, UP = math.cos(math.pi / 6), 0.5
"""How far a meter along x or y goes to the side and up: an isometric drawing."""


def tilted(x: float, y: float, z: float) -> tuple[float, float]:
    """The isometric view: heights upright and to scale."""
    return (x + y) * SIDE, z + (y - x) * UP


def isometric_sheet(job: Job) -> Page:
    """All vessels and pipes of a layout at an angle on one sheet."""
    page = blank(job, "Isometric: true to scale along its three axes")
    ways = drawn_ways(job.ways)
    legend(page, legend_kinds(job, ways) | {"strap"})
    standing = [(job.site.vessel(n), x, y) for n, at in job.site.places.items() for x, y in at]
    standing.sort(key=lambda s: (s[1] - s[2], s[0].name != "sump"))
    seen = [tilted(*p) for way in ways for p in way.points]
    for v, x, y in standing:
        for z in (bottom(v), v.rim):
            seen += [tilted(px, py, z) for px, py in ring(v, x, y)]
    low = (min(p[0] for p in seen), min(p[1] for p in seen))
    high = (max(p[0] for p in seen), max(p[1] for p in seen))
    fit(page, job, low, high, (10.0, 10.0, 10.0, 8.0))
    for v, x, y in standing:
        _vessel(page, v, x, y)
    for way in sorted(ways, key=lambda w: w.points[0][0] - w.points[0][1]):
        if way.run.kind != "hose" or way.tank == 0:  # those of one tank stand for all
            draw_way(page, job, way, tilted)
    draw_supports(page, job, ways, tilted)
    _discs(page, job)
    _machines(page, job)
    for name, places in job.site.places.items():
        v = job.site.vessel(name)
        page.tag(
            page.at(*tilted(*places[0], v.rim)),
            tuple(wrapped(many(v), 34.0)),
            bold=True,
            vessel=name,
        )
    draw_fittings(page, job, ways, tilted)
    tag_runs(page, job, ways, tilted)
    page.sentence = "Every vessel and pipe at an angle. Lengths along the axes are to scale."
    return page


def _discs(page: Page, job: Job) -> None:
    """Stones or discs on the floor of the tanks."""
    d = tank_diffusers(job.site)
    if d is None:
        return
    r, low = (rule("disc across") / 2 if d.kind == "disc" else 0.04), job.site.tank.level - d.depth
    for k in range(job.site.tank.count):
        for x, y in spots(job.site, k):
            turn = [2 * math.pi * n / 16 for n in range(16)]
            page.path([tilted(x + r * math.cos(a), y + r * math.sin(a), low) for a in turn], "air", HAIR, False,
                      closed=True, fill="paper", about=about(diffuser=d.kind))  # fmt: skip


def _machines(page: Page, job: Job) -> None:
    """A box for each kind of machine, not to scale."""
    a, b, high = MACHINE[0] / 2, MACHINE[1] / 2, 0.3
    for m in job.layout.machines:
        if m.kind == "pump":
            page.tag(
                page.at(*tilted(*job.site.pumps()[0], job.site.sump.floor + 0.1)),
                (m.name,),
                machine=m.name,
            )
            continue
        where = job.site.machines() if m.serves == "tank" else [job.site.filter_machine()]
        shelf = job.site.shelf(m.serves) if job.layout.vessel(m.serves) else job.site.shelf("tank")
        for x, y in sorted(where, key=lambda p: p[0] - p[1]):
            base = [(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)]
            _block(page, base, (shelf, shelf + high), m.name)
        page.tag(page.at(*tilted(*where[0], shelf + high)), (m.name,), machine=m.name)


def _block(page: Page, base, heights: tuple[float, float], name: str) -> None:
    """A box on its shelf: the shelf's legs, its front, its right side, its top."""
    low, high = heights
    for x, y in base:
        page.path([tilted(x, y, 0.0), tilted(x, y, low)], "machines", HAIR, False)
    front = [(*base[0], low), (*base[1], low), (*base[1], high), (*base[0], high)]
    right = [(*base[1], low), (*base[2], low), (*base[2], high), (*base[1], high)]
    for face in (front, right, [(*p, high) for p in base]):
        corners = [tilted(*p) for p in face]
        page.path(corners, "machines", THIN, closed=True, fill="air", about=about(machine=name))


def bottom(v: Vessel) -> float:
    """The lowest point of a vessel as it is drawn [m]."""
    return v.floor


def ring(v: Vessel, x: float, y: float):
    """The outline of a vessel in plan as points."""
    points = outline(v, x, y)
    if points:
        return points
    turn = [2 * math.pi * k / 48 for k in range(48)]
    return [(x + v.across / 2 * math.cos(a), y + v.across / 2 * math.sin(a)) for a in turn]


def _vessel(page: Page, v: Vessel, x: float, y: float) -> None:
    points = ring(v, x, y)
    low, told = bottom(v), about(vessel=v.name)
    page.path(
        [tilted(px, py, low) for px, py in points],
        "tanks",
        HAIR,
        False,
        closed=True,
        dash="0.8 0.8",
    )
    if v.cone:
        page.path([tilted(points[0][0], points[0][1], low), tilted(x, y, v.lowest),
                   tilted(points[len(points) // 2][0], points[len(points) // 2][1], low)],
                  "tanks", HAIR, False, dash="0.8 0.8")  # fmt: skip
    page.path([tilted(px, py, v.level) for px, py in points], "water", HAIR, False, closed=True,
              fill="inset" if v.inlet is not None else "water", stroke="line-water")  # fmt: skip
    sides = [points[0]] if v.shape == "round" else points
    if v.shape == "round":
        by_side = sorted(points, key=lambda p: p[0] + p[1])
        sides = [by_side[0], by_side[-1]]
    for px, py in sides:
        page.path([tilted(px, py, low), tilted(px, py, v.rim)], "tanks", MEDIUM)
    front = [p for p in points if (p[0] - x) - (p[1] - y) >= -1e-9]
    front.sort(key=lambda p: p[0] + p[1])
    page.path([tilted(px, py, low) for px, py in front], "tanks", MEDIUM, False)
    page.path(
        [tilted(px, py, v.rim) for px, py in points], "tanks", MEDIUM, closed=True, about=told
    )
