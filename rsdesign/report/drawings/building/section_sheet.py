"""The system cut through along the way of the water, to scale, every level over one datum."""

from dataclasses import dataclass

from ....building.graph import Run, Vessel
from ....building.rules import rule
from .dims import level_mark, one_upright, upright
from .frame import UNDER_DASH, Job, blank, fit, legend, many, table, table_rows, wrapped
from .machine_views import machines_in_section
from .marks import MEDIUM, THIN, Path, about
from .paper import Page
from .pens import draw_fittings, draw_supports, draw_way, legend_kinds, tag_runs
from .protection import lids, rails_in_section
from .section_ways import Strip, break_at, seen, strips
from .vessel_views import cut, ground
from .words import level_words, size_words

MARGINS = (15.0, 17.0, 15.0, 12.0)
"""Room around a strip for labels and dimensions: left, top, right, bottom [mm]."""
BETTER = 1.3
"""A section goes in strips where that makes it larger by this factor."""


def side(x: float, y: float, z: float) -> tuple[float, float]:
    """The view from the side."""
    return x, z


@dataclass(slots=True, eq=False)
class _Plan:
    """How a section lies on its sheet: its strips, each with its area, and whether the table is below."""

    parts: tuple[Strip, ...]
    areas: list[tuple[float, float, float, float]]
    table: bool
    ratio: float


def section_sheet(job: Job) -> Page:
    """The section of a layout on one sheet, a long one in strips; the first tank stands for all."""
    page = blank(job, "Section: levels along the way of the water")
    ways = seen(job)
    legend(page, _legend(job, ways))
    how = laid_out(page, job)
    head, rows, widths = levels_table(job)
    page.table = (head, rows)
    whole = page.room
    if how.table:
        box = (whole[0], how.areas[-1][3] + 1.0, whole[2], whole[3])
        table(page, box, head, rows, widths)
    last = len(how.parts) - 1
    for k, (strip, area) in enumerate(zip(how.parts, how.areas, strict=True)):
        page.room = area
        _strip(page, job, strip, area, how.ratio, 0.5 if not last else 0.0 if k == last else 1.0)
    page.sentence = (
        "Water levels, floors and pipes, each height over the finished floor by the tanks."
    )
    return page


def laid_out(page: Page, job: Job) -> _Plan:
    """One strip over the table of levels, or more strips where they are drawn larger."""
    options = []
    head, rows, widths = levels_table(job)
    for count in (1, 2, 3):
        parts = strips(job, count)
        left, top, right, low = page.room
        if count == 1:
            low -= sum(table_rows(head, rows, right - left, widths)) + 2.0
        tall = (low - top) / len(parts)
        areas = [(left, top + k * tall, right, top + (k + 1) * tall) for k in range(len(parts))]
        ratio = max(_ratio(page, job, part, area) for part, area in zip(parts, areas, strict=True))
        options.append(_Plan(parts, areas, count == 1, ratio))
    best = options[0]
    for other in options[1:]:
        if best.ratio > BETTER * other.ratio * (1.0 - 1e-9):
            best = other
    return best


def _legend(job: Job, ways) -> set[str]:
    return legend_kinds(job, ways) | {"level", "strap"}


def in_strips(job: Job) -> bool:
    """Whether the section has no room for the table of levels."""
    page = blank(job, "")
    legend(page, _legend(job, seen(job)))
    return not laid_out(page, job).table


def _ratio(page: Page, job: Job, strip: Strip, area) -> float:
    fit(page, job, strip.low, strip.high, MARGINS, area)
    return page.scale


def _strip(page: Page, job: Job, strip: Strip, area, ratio: float, down: float) -> None:
    fit(page, job, strip.low, strip.high, MARGINS, area, ratio, down)
    ground(page, job, strip)
    machines_in_section(page, job, strip)
    rails_in_section(page, job, strip)
    for name, x in strip.vessels:
        v = job.site.vessel(name)
        cut(page, job, v, x)
        lids(page, job, v, x)
        corners = page.at(x - v.length / 2, v.rim), page.at(x + v.length / 2, v.lowest)
        page.zones.append((name, (*corners[0], *corners[1])))
    for way in sorted(strip.ways, key=lambda w: w.run.kind != "sludge"):
        if way.run.kind == "sludge":  # it lies before the settler, across the view
            page.path([side(*p) for p in way.points[1:]], "pipes", MEDIUM, dash=UNDER_DASH,
                      about=about(run="sludge", part="middle"))  # fmt: skip
        else:
            draw_way(page, job, way, side)
    draw_supports(page, job, [w for w in job.ways if w.tank in (None, 0)], side, *strip.span)
    _ends(page, job, strip)
    _heights(page, job, strip)
    for name, x in strip.vessels:
        _levels(page, job, job.site.vessel(name), x)
    draw_fittings(page, job, [w for w in job.ways if w.tank in (None, 0)], side, *strip.span)
    tag_runs(page, job, strip.tagged, side, lambda run: run_words(job, run))


def _ends(page: Page, job: Job, strip: Strip) -> None:
    """Break lines where the section goes on elsewhere."""
    for x, words in strip.breaks:
        bottom, top = page.at(x, strip.low[1])[1], page.at(x, strip.high[1])[1] - 2.0
        px, middle = page.at(x, 0.0)[0], (bottom + top) / 2
        points = ((px, bottom), (px, middle + 2), (px - 1.5, middle + 0.7), (px + 1.5, middle - 0.7),
                  (px, middle - 2), (px, top))  # fmt: skip
        page.items.append(Path(points, "text", THIN))
        page.keep_off(points, False, THIN)
        page.tag((px, top), (words,))


def _heights(page: Page, job: Job, strip: Strip) -> None:
    """Heights that a builder sets out: from the datum to water, rims and pipe."""
    names = [n for n, _ in strip.vessels]
    tank, sump, top = job.site.tank, job.site.sump, job.site.top()
    if "tank" in names:
        x = min(job.site.tanks[0][0] + tank.length / 2, break_at(job))
        right = page.at(min(strip.high[0], break_at(job)), 0.0)[0] + 5.0
        upright(page, (0.0, tank.level, tank.rim, top), x, right, job.system, "right")
    if "sump" in names:
        x = job.site.places["sump"][0][0] - sump.length / 2
        left = page.at(strip.low[0], 0.0)[0] - 1.0
        one_upright(page, sump.floor, sump.level, x, left, job.system)
        one_upright(
            page, sump.level, tank.level, x, left - 6.0, job.system, "left", "lift ", lift="yes"
        )


def _levels(page: Page, job: Job, v: Vessel, x: float) -> None:
    place = x + (0.2 * v.length if v.name == "tank" else -0.1 * v.length)
    if v.inlet is not None:
        level_mark(page, place, v.inlet, job.system, "pan", vessel=v.name)
    level_mark(
        page, place, v.level, job.system, "bed" if v.inlet is not None else "", vessel=v.name
    )
    point = page.at(x if v.cone else x + 0.3 * v.length, v.lowest)
    page.tag(point, (level_words(v.lowest, job.system),), "levels", level=f"{v.lowest:.9f}")
    middle = page.at(x + 0.1 * v.length, (v.floor + min(v.level, v.rim)) / 2)
    page.tag(middle, name_lines(page, v), bold=True, weight=34.0, owner=v.name, vessel=v.name)


def name_lines(page: Page, v: Vessel) -> tuple[str, ...]:
    """The name of a vessel in lines that fit into it, where it is not too narrow."""
    return tuple(wrapped(many(v), max(18.0, page.mm(v.length) - 3.0)))


def run_words(job: Job, run: Run) -> tuple[str, ...]:
    """The mark of a run with its size; a pipe that water falls through also with that fall."""
    lines: tuple[str, ...] = (f"{job.numbers.of(run)} · {run.pipe}",)
    if run.kind == "gravity" and run.fall > 0 and run.name not in ("centre drain", "drain branch"):
        lines += (f"water falls {size_words(run.fall, job.system)}",)
    return lines


def levels_table(job: Job):
    """Every vessel with its levels over the datum, and the depth of its pit."""
    rows = []
    for v in job.layout.vessels:
        rows.append((
            many(v), *(level_words(z, job.system) for z in (v.rim, v.level, v.floor)),
            level_words(v.lowest, job.system) if v.cone else "flat floor",
            size_words(v.pit, job.system) if v.pit > rule("least pit") else "none",
            f"falls {size_words(v.cone, job.system)} to the middle" if v.cone else "level",
        ))  # fmt: skip
    head = ("Levels over the datum", "Rim", "Water or top of bed", "Floor or grate", "Lowest point",
            "Pit, without its sand", "Slope of the floor")  # fmt: skip
    return head, rows, (3.0, 1.5, 1.7, 1.5, 1.5, 1.6, 2.2)
