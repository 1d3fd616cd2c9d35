"""The system from above, to scale: where each vessel stands, where each pipe runs."""

from ....building.air_ways import spots, tank_diffusers
from ....building.graph import Vessel
from ....building.guards import fence, railed
from ....building.rules import rule
from .dims import APART, across, upright
from .frame import PIT_DASH, Job, blank, fit, legend, many, wrapped
from .marks import HAIR, LINE, TEXT, THICK, THIN, Path, about
from .outlines import above, outline
from .paper import Page
from .pens import draw_fittings, draw_supports, draw_way, drawn_ways, legend_kinds, tag_runs
from .protection import break_line, draw_fence, draw_rails, set_out_words
from .words import size_words

MACHINE = (0.45, 0.35)
"""A machine's box in plan, not to scale [m]."""


def plan_sheet(job: Job) -> Page:
    """The plan of a layout on one sheet."""
    page = blank(job, "Plan: the system from above")
    ways = drawn_ways(job.ways)
    legend(
        page,
        legend_kinds(job, ways)
        | {"pit", "fence", "strap"}
        | ({"rail"} if railed(job.layout) else set()),
    )
    problems(page, job)
    set_out(page, job)
    low, high = bounds(job, ways)
    fit(page, job, low, high, (16.0, 8.0, 22.0, 24.0), down=0.0)
    for name, places in job.site.places.items():
        for x, y in places:
            _vessel(page, job, job.site.vessel(name), x, y)
            _zone(page, job.site.vessel(name), x, y)
    for way in ways:
        draw_way(page, job, way, above)
    draw_supports(page, job, ways, above)
    break_line(page, page.at(*above(*next(w for w in ways if w.run.name == "overflow").points[-1])))
    _bubbles(page, job)
    _machines(page, job)
    _sizes(page, job, low, high)
    draw_rails(page, job)
    draw_fence(page, job)
    _names(page, job)
    draw_fittings(page, job, ways, above)
    tag_runs(page, job, ways, above)
    page.sentence = sentence(job)
    return page


def problems(page: Page, job: Job) -> None:
    """What cannot be built as it stands, at the top of the sheet."""
    left, top, right, low = page.room
    if not job.layout.problems:
        return
    at = top + TEXT
    page.write(left, at, "As it stands, this cannot be built. Change the design first:", bold=True)
    for problem in job.layout.problems:
        for words in wrapped(problem.said(job.system), right - left):
            at += TEXT * LINE
            page.write(left, at, words)
    page.room = (left, at + 2.0, right, low)


def set_out(page: Page, job: Job) -> None:
    """How the lines are laid from which everything is set out, at the top of the sheet."""
    left, top, right, low = page.room
    at = top
    for words in wrapped(set_out_words(job), right - left):
        at += TEXT * LINE
        page.write(left, at, words)
    page.room = (left, at + 1.0, right, low)


def sentence(job: Job) -> str:
    """What the plan shows."""
    names = ", ".join(v.label for v in job.layout.vessels[1:])
    tanks = job.site.tank.count
    start = "One tank" if tanks == 1 else f"Tanks: {tanks}"
    return (
        f"{start}, then in the way of the water: {names}. Every pipe has its mark in the cut list."
    )


def bounds(job: Job, ways):
    """Lowest and highest corners of all that is drawn in plan [m]."""
    left, bottom, right, top = fence(job.layout)
    xs, ys = [left, right], [bottom, top]
    for name, places in job.site.places.items():
        v = job.site.vessel(name)
        for x, y in places:
            xs += [x - v.length / 2, x + v.length / 2]
            ys += [y - v.across / 2, y + v.across / 2]
    for way in ways:
        xs += [p[0] for p in way.points]
        ys += [p[1] for p in way.points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _vessel(page: Page, job: Job, v: Vessel, x: float, y: float) -> None:
    points, told = outline(v, x, y), about(vessel=v.name)
    if points:
        page.path(points, "tanks", THICK, closed=True, fill="water", about=told)
    else:
        page.circle(x, y, v.across / 2, "tanks", THICK, fill="water", about=told)
    sizes = (v.pit_size, v.dug_size) if v.lined else (v.pit_size,)  # both faces of its block wall
    for long, wide in sizes if v.pit > rule("least pit") else ():
        a, b = long / 2, wide / 2
        page.path([(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)], "ground", THIN,
                  closed=True, dash=PIT_DASH)  # fmt: skip
    if v.kind == "rafts":
        for k in range(1, int(v.length / 1.22) + 1):
            line = x - v.length / 2 + k * 1.22
            if line < x + v.length / 2:
                page.path(
                    [(line, y - v.across / 2), (line, y + v.across / 2)], "tanks", HAIR, False
                )
    for hole in v.holes:
        if hole.side in ("floor, in the middle", "lowest point") and v.name == "tank":
            page.circle(x, y, hole.diameter / 2, "tanks", THIN, about=about(hole=hole.purpose))


def _zone(page: Page, v: Vessel, x: float, y: float) -> None:
    """Keeps the names of other vessels out of this one."""
    (left, top), (right, low) = (
        page.at(x - v.length / 2, y + v.across / 2),
        page.at(x + v.length / 2, y - v.across / 2),
    )
    page.zones.append((v.name, (left, top, right, low)))


def _bubbles(page: Page, job: Job) -> None:
    d = tank_diffusers(job.site)
    if d is None:
        return
    size = rule("disc across") / 2 if d.kind == "disc" else 0.04
    for k in range(job.site.tank.count):
        for x, y in spots(job.site, k):
            page.circle(x, y, size, "air", THIN, fill="paper", about=about(diffuser=d.kind))


def _machines(page: Page, job: Job) -> None:
    for m in job.layout.machines:
        if m.kind == "pump":
            places = job.site.pumps()
            for x, y in places:
                half = min(0.12, job.site.sump.across / 8)
                _box(page, x, y, 2 * half, 2 * half, m.name)
            page.tag(
                page.at(*places[0]),
                (f"pump: {m.running} running, {m.spare} spare",),
                machine=m.name,
            )
            continue
        where = job.site.machines() if m.serves == "tank" else [job.site.filter_machine()]
        for x, y in where:
            _box(page, x, y, *MACHINE, m.name)
        page.tag(
            page.at(*where[0]), (f"{m.name}: {m.running} running, {m.spare} spare",), machine=m.name
        )


def _box(page: Page, x: float, y: float, wide: float, deep: float, name: str) -> None:
    """A machine as a box."""
    a, b = wide / 2, deep / 2
    (left, top), (right, low) = page.at(x - a, y + b), page.at(x + a, y - b)
    page.blocks.append((left, top, right, low))  # its label had better not lie on it
    corners = [(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)]
    page.path(corners, "machines", THIN, closed=True, fill="air", about=about(machine=name))


def _sizes(page: Page, job: Job, low, high) -> None:
    """Chains of dimensions: walls and gaps along x, middles along x, walls and gaps across."""
    line_a, line_b, _, _ = fence(job.layout)
    walls, middles = {round(line_a, 9)}, {round(line_a, 9)}
    for name, places in job.site.places.items():
        v = job.site.vessel(name)
        if v.stands_in:
            continue
        for x, _ in places:
            walls |= {round(x - v.length / 2, 9), round(x + v.length / 2, 9)}
            middles.add(round(x, 9))
    below = page.at(0.0, low[1])[1] + 7.0
    across(page, walls, low[1], below, job.system)
    across(page, middles, page_y(page, below + 1.6 * APART), below + 2.6 * APART, job.system)
    for name, places in job.site.places.items():
        for x, y in places:
            _middle(page, *page.at(x, y), name)
    v, places = job.site.tank, job.site.tanks
    right = page.at(high[0], 0.0)[0] + 6.0
    far = max(x for x, _ in places)
    edges = {round(line_b, 9)} | {
        round(y + s * v.across / 2, 9) for _, y in places for s in (-1, 1)
    }
    upright(page, edges, far + v.length / 2, right, job.system, "right")
    line = job.site.places["sump"][0][1]
    if (
        len({y for _, y in places}) == 1 and abs(line - places[0][1]) > 1e-6
    ):  # how far the vessels stand aside
        upright(
            page, {line, places[0][1]}, far + v.length / 2, right + 2.2 * APART, job.system, "right"
        )
    for name, spots_ in job.site.places.items():
        v = job.site.vessel(name)
        if name == "tank" or len(spots_) == 1:
            continue
        edges = {round(y + s * v.across / 2, 9) for _, y in spots_ for s in (-1, 1)}
        x = spots_[0][0] - v.length / 2
        upright(page, edges, x, page.at(x, 0.0)[0] + 1.8, job.system, "right")


def page_y(page: Page, at: float) -> float:
    """The height in the drawing [m] of a line on the paper [mm]."""
    return (page.origin[1] - at) * page.scale / 1000.0


def _middle(page: Page, x: float, y: float, name: str) -> None:
    """A cross in the middle of a vessel."""
    for line in (((x - 1.5, y), (x + 1.5, y)), ((x, y - 1.5), (x, y + 1.5))):
        page.items.append(Path(line, "dimensions", HAIR, about=about(middle=name)))


def _names(page: Page, job: Job) -> None:
    for name, places in job.site.places.items():
        v = job.site.vessel(name)
        size = size_words(v.across, job.system)
        if v.shape == "box" and abs(v.across - v.length) < 1e-9:
            size = f"{size} square"
        elif v.shape == "box":
            size = f"{size} by {size_words(v.length, job.system)}"
        elif v.shape == "round":
            size = f"{size} across"
        room = max(22.0, page.mm(v.length) - 3.0)
        lines = (*wrapped(many(v), room), *wrapped(size, room))
        page.tag(page.at(*places[0]), lines, bold=True, weight=30.0, owner=name, vessel=name)
    for k, (x, y) in enumerate(job.site.tanks):
        if job.site.many and k:
            page.tag(page.at(x, y), (f"tank {k + 1}",), bold=True, far=20.0)
