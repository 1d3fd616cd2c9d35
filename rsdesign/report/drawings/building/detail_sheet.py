"""Details: how a tank drains and holds its level, and how a pipe goes through two walls."""

from ....building.graph import Run, Vessel
from ....building.rules import pipe_part, rule
from ....building.space import HAND, bushing, clear_of
from ....building.stations import VALVE_HIGH
from ....core.kinds import KINDS
from ....core.units import show
from .dims import level_mark, one_across, one_upright, symbol, upright
from .frame import Job, blank, fit, table, table_rows, wrapped
from .marks import HAIR, HEAD, MEDIUM, THICK, THIN, Path, about
from .paper import Page
from .pens import outside
from .vessel_views import earth
from .words import level_words, size_words

APART = 0.45
"""From the standpipe to the centre drain as they are drawn, the floor between them cut out [m]."""


def detail_sheet(job: Job) -> Page:
    """Standpipe and centre drain, a pipe between two vessels, fittings by size."""
    page = blank(job, "Details: drains of the tank, pipe through two walls")
    head, rows, widths = fitting_sizes(job)
    width = page.room[2] - page.room[0]
    tall = sum(table_rows(head, rows, width, widths)) + 3.0
    whole = page.room
    table(page, (whole[0], whole[3] - tall + 1.0, whole[2], whole[3]), head, rows, widths)
    room = (whole[0], whole[1] + 6.0, whole[2], whole[3] - tall)
    page.room = (whole[0], whole[1], whole[2], whole[3] - tall)
    run = first_link(job)
    low = -job.layout.trench - 0.36
    high = max(job.site.tank.rim, job.site.run("centre drain vent").end)
    left = (room[0], room[1], room[0] + (room[2] - room[0]) * (0.62 if run else 1.0), room[3])
    stand = job.site.run("standpipe")
    reach = _inset(job) + APART + outside(stand)
    need = max(high - low, LINK_HIGH if run else 0.0)
    fit(page, job, (LEFT, high - need), (reach, high), (22.0, 10.0, 22.0, 8.0), left, down=1.0)
    page.write(left[0], whole[1] + HEAD, "Drains of each tank", HEAD, bold=True)
    _drains(page, job)
    if run:
        right = (left[2], room[1], room[2], room[3])
        page.write(right[0] + 4, whole[1] + HEAD, "A pipe through two walls", HEAD, bold=True)
        _link(page, job, run, right)
    page.sentence = (
        "How a tank drains and keeps its level, and how a pipe goes through two walls, to scale."
    )
    page.table = (head, rows)
    return page


def first_link(job: Job) -> Run | None:
    """The first pipe that goes through two walls."""
    return next(
        (r for r in job.layout.runs if r.kind == "gravity" and r.counted("bulkhead") > 1), None
    )


LEFT = -1.1
"""Where the detail of the drains breaks off, outside the wall of the tank [m]."""


def _inset(job: Job) -> float:
    return job.site.hole("standpipe") + HAND


def _slab(page: Page, points) -> None:
    page.path(points, "tanks", THICK)


def _drains(page: Page, job: Job) -> None:
    tank, stand, drain = job.site.tank, job.site.run("standpipe"), job.site.run("centre drain")
    x, deep, r = _inset(job), -job.layout.trench, outside(stand) / 2
    hole = float(pipe_part(stand.pipe).bulkhead_hole) / 2
    centre = x + APART
    small = float(pipe_part(drain.pipe).bulkhead_hole) / 2
    right = centre + 0.25
    page.path([(0.0, 0.0), (right, 0.0), (right, tank.level), (0.0, tank.level)], "water", HAIR, False, closed=True,
              fill="water", stroke=None)  # fmt: skip
    _slab(page, [(0.0, tank.rim), (0.0, 0.0), (x - hole, 0.0)])
    _slab(page, [(x + hole, 0.0), (centre - small, 0.0)])
    _slab(page, [(centre + small, 0.0), (right, 0.0)])
    earth(page, LEFT, right, deep - 0.28)
    page.path([(LEFT, 0.0), (0.0, 0.0)], "ground", MEDIUM)
    page.path([(right, -0.3), (right, tank.level + 0.05)], "text", HAIR, False, dash="3 1 0.6 1")
    out = job.layout.run("drain branch") or job.site.run("drain")
    vent = job.site.run("centre drain vent")
    top, apart = drain.end + drain.inside / 2, max(0.2, 1.5 * outside(drain))
    rise, lower = -0.3, deep - 0.16
    _pipe(page, ((centre, 0.0), (centre, lower), (rise, lower), (rise, vent.end)), drain, "water")
    _pipe(page, ((rise, top), (rise - apart, top), (rise - apart, deep)), drain, "water")
    foot = -float(pipe_part(stand.pipe).socket) if _bushed(out) else 0.0
    _pipe(page, ((x, stand.end), (x, foot)), stand, "water")
    _pipe(page, ((x, foot), (x, deep), (LEFT, deep)), out, "water")
    side = page.at(LEFT, 0.0)[0] - 2.0
    upright(page, (deep, 0.0, stand.end, tank.level, tank.rim), LEFT, side, job.system)
    one_across(page, 0.0, x, tank.rim, page.at(0.0, tank.rim)[1] - 3.0, job.system)
    one_across(
        page, x - hole, x + hole, deep, page.at(0.0, deep)[1] + 8.0, job.system, hole="standpipe"
    )
    one_across(
        page,
        centre - small,
        centre + small,
        deep,
        page.at(0.0, deep)[1] + 8.0,
        job.system,
        hole="centre drain",
    )
    for at, half, what in ((x, hole, stand), (centre, small, drain)):
        _fitting(page, at, half)
        page.tag(page.at(at, deep if what is drain else 0.5 * stand.end), (f"{job.numbers.of(what)} · {what.pipe}",), ring=True,
                 run=what.name)  # fmt: skip
    level_mark(page, x + 0.6 * APART, tank.level, job.system, "water")
    _bushing(page, job, x, stand, out)
    _screens(page, x, stand.end, r, tank.level, centre, small)
    valve = page.at(rise, VALVE_HIGH)
    symbol(page, "ball valve", valve, "y", page.mm(outside(drain)) / 2 + 0.6, run=drain.name)
    _drain_words(page, job, (valve, page.at(0.5 * centre, lower), page.at(rise, vent.end)), vent)


def _drain_words(page: Page, job: Job, spots, vent: Run) -> None:
    """What the valve of the centre drain, its pipe and its vent do."""
    words = (
        ("valve of the centre drain: shut, it leaves", "the overflow open; wide open, it flushes"),
        ("beside the drain in the trench,", "drawn lower here"),
        (
            f"{job.numbers.of(vent)}: open top at {level_words(vent.end, job.system)}",
            "the lip of the tee stands as high",
            "as the mouth of the overflow",
        ),
    )
    for spot, said in zip(spots, words, strict=True):
        page.tag(spot, said)


def _pipe(page: Page, points, run: Run, inner: str) -> None:
    page.path(
        points, "pipes", THIN, casing=page.mm(outside(run)), inner=inner, about=about(run=run.name)
    )


def _fitting(page: Page, x: float, half: float) -> None:
    """Flange and nut of a bulkhead fitting in a floor."""
    for z in (0.012, -0.03):
        page.path([(x - half - 0.02, z), (x + half + 0.02, z), (x + half + 0.02, z + 0.018), (x - half - 0.02, z + 0.018)],
                  "pipes", THIN, False, closed=True, fill="soft")  # fmt: skip


def _bushed(out: Run) -> bool:
    """Whether a drain joins a wider floor fitting by a bushing."""
    return bushing(out, "start") > 0.0


def _bushing(page: Page, job: Job, x: float, stand: Run, out: Run) -> None:
    """The reducer bushing in the lower socket of the floor fitting of a standpipe."""
    if not _bushed(out):
        return
    deep, half = float(pipe_part(stand.pipe).socket), outside(stand) / 2
    page.path([(x - half, 0.0), (x + half, 0.0), (x + half, -deep), (x - half, -deep)], "pipes", THIN, False,
              closed=True, fill="soft", about=about(fitting="reducer bushing"))  # fmt: skip
    page.tag(
        page.at(x + half, -deep), (f"bushing {stand.pipe} by {out.pipe}", "in the lower socket")
    )


def _screens(
    page: Page, x: float, mouth: float, r: float, level: float, centre: float, small: float
) -> None:
    top = level + 0.04
    page.path([(x - 1.3 * r, mouth - 0.06), (x - 1.3 * r, top), (x + 1.3 * r, top), (x + 1.3 * r, mouth - 0.06)], "pipes",
              THIN, dash="0.6 0.6")  # fmt: skip
    page.path(
        [(centre - 1.4 * small, 0.03), (centre + 1.4 * small, 0.03)],
        "pipes",
        MEDIUM,
        dash="0.6 0.6",
    )
    page.tag(page.at(x + 1.3 * r, top), ("screen", "keeps fish out"))
    page.tag(page.at(centre + 1.4 * small, 0.03), ("drain screen",))


LINK_HIGH = 0.8
"""Height kept for the pipe through two walls [m]."""


def _link(page: Page, job: Job, run: Run, area) -> None:
    """Both walls, both waters, the pipe with its bulkhead fittings and its union."""
    source, target = job.site.vessel(run.source), job.site.vessel(run.target)
    hole = next(h for h in source.holes if h.purpose == f"to the {target.label}")
    gap, half = rule("gap"), hole.diameter / 2
    middle = (area[0] + area[2]) / 2
    top = max(source.rim, target.rim)
    page.origin = (middle - page.mm(gap / 2), area[1] + 14.0 + page.mm(top))
    low = hole.height - half - 0.25
    one_across(page, 0.0, gap, low, page.at(0.0, low)[1] + 6.0, job.system)
    right = page.at(gap, 0.0)[0] + page.mm(0.3) + 3.0
    one_upright(
        page,
        hole.height - half,
        hole.height + half,
        gap,
        right,
        job.system,
        "right",
        "hole ",
        hole="link",
    )
    left = page.at(0.0, 0.0)[0] - page.mm(0.3) - 3.0
    one_upright(page, hole.height, target.level, 0.0, left, job.system)
    for v, x, turn in ((source, gap, 1), (target, 0.0, -1)):
        _wall(page, v, x, turn, hole.height, half, low)
        level_mark(page, x + turn * 0.15, v.level, job.system, "", vessel=v.name)
        page.tag(page.at(x + turn * 0.15, low), tuple(wrapped(v.label, 26.0)), bold=True)
    page.path([(-0.03, hole.height), (gap + 0.03, hole.height)], "pipes", THIN, casing=page.mm(outside(run)), inner="water",
              about=about(run=run.name))  # fmt: skip
    if run.lip is not None:
        at = gap + clear_of(run)
        page.path([(gap, hole.height), (at, hole.height), (at, run.lip)], "pipes", THIN, casing=page.mm(outside(run)),
                  inner="water", about=about(run=run.name))  # fmt: skip
        page.tag(page.at(at, run.lip), (f"lip {size_words(source.level - run.lip, job.system)} under the water:",
                                        "holds it when the pump stops"))  # fmt: skip
    for x in (0.0, gap):
        for turn in (-1, 1):
            a, b = sorted((x + turn * 0.01, x + turn * 0.03))
            page.path([(a, hole.height - half - 0.02), (b, hole.height - half - 0.02), (b, hole.height + half + 0.02),
                       (a, hole.height + half + 0.02)], "pipes", THIN, False, closed=True, fill="soft")  # fmt: skip
    part = pipe_part(run.pipe)  # beside the wall of the vessel that the pipe leaves
    union = page.at(gap - 2.0 * float(part.socket) - part.lay, hole.height)
    symbol(page, "union", union, "x", page.mm(outside(run)) / 2 + 0.8, run=run.name)
    kind = next((f.kind for f in run.fittings if f.kind in ("union", "flexible coupling")), "union")
    page.tag(union, (kind, "opens without a saw"))
    page.tag(
        page.at(gap * 0.3, hole.height),
        (f"{job.numbers.of(run)} · {run.pipe}",),
        ring=True,
        run=run.name,
    )


def _wall(
    page: Page, v: Vessel, x: float, turn: int, height: float, half: float, low: float
) -> None:
    far = x + turn * 0.3
    page.path([(x, low), (far, low), (far, v.level), (x, v.level)], "water", HAIR, False, closed=True, fill="water",
              stroke=None)  # fmt: skip
    _slab(page, [(x, low), (x, height - half)])
    _slab(page, [(x, height + half), (x, v.rim)])
    page.items.append(
        Path((page.at(far, low), page.at(far, v.level)), "text", HAIR, dash="3 1 0.6 1")
    )


def fitting_sizes(job: Job):
    """Each size of pipe that is used: outside, hole to drill, socket, what a fitting takes off."""
    names = list(dict.fromkeys(r.pipe for r in job.layout.runs))
    rows = []
    for name in names:
        part = pipe_part(name)
        marks = ", ".join(job.numbers.of(r) for r in job.layout.runs if r.pipe == name)
        outside_, socket, lay = (
            show(float(z), KINDS["pipe diameter"], job.system, 4)
            for z in (part.outside_diameter, part.socket, part.lay)
        )
        hole = size_words(float(part.bulkhead_hole), job.system)
        rows.append((name, marks, outside_, hole, socket, lay))
    head = ("Pipe", "In", "Outside", "Hole for a bulkhead fitting: measure yours", "Depth of a socket",
            "Middle of a fitting to the end of its pipe")  # fmt: skip
    return head, rows, (1.0, 3.2, 1.2, 2.4, 1.5, 2.4)
