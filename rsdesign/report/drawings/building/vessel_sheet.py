"""Every vessel for itself, cut through, with its sizes and its holes: what is built and drilled."""

from ....building.graph import Hole, Vessel
from ....building.holes import BESIDE_DRAIN, BESIDE_WALL, SLUDGE_ASIDE
from ....building.rules import rule
from ....building.space import IN, Way
from . import tank_above
from .dims import level_mark, one_across, one_upright, upright
from .frame import Job, blank, many, wrapped
from .marks import HAIR, HEAD, LINE, TEXT, THIN, about
from .paper import Page
from .pens import draw_way
from .scales import usual_scale
from .vessel_views import cut
from .words import level_words, size_words

SIDE, NARROW, BETWEEN = 24.0, 62.0, 3.0
"""Room beside a vessel for its dimensions; the narrowest panel; between two panels [mm]."""
AFTER = 10.0
"""Room on the other side of a vessel, for the marks of its holes [mm]."""
STEP = TEXT * LINE


def vessel_sheets(job: Job) -> list[Page]:
    """The vessels of a layout, on as few sheets as show them large enough."""
    one, two = _packed_by(job, 1), _packed_by(job, 2)
    ratio, name, rows = one if one[0] <= 2.0 * two[0] else two
    pages = []
    for sheet in rows:
        page = blank(job, "Vessels: sizes, levels and holes to drill")
        page.scale, page.scale_words = ratio, name
        for v, left, top, width in sheet:
            if v is None:
                tank_above.panel(page, job, left, top, width)
            else:
                _panel(page, job, v, left, top, width)
        page.sentence = "Each vessel cut through, with its inside sizes and the holes to drill."
        pages.append(page)
    return pages


def _packed_by(job: Job, most: int):
    """The largest usual scale at which the panels take no more than ``most`` sheets."""
    least = 3.9
    while True:
        ratio, name = usual_scale(least, job.system)
        rows = min((_packed(job, ratio, False), _packed(job, ratio, True)), key=len)
        if len(rows) <= most or ratio > 1e5:
            return ratio, name, rows
        least = ratio * 1.01


def _packed(job: Job, ratio: float, by_height: bool):
    """Panels in rows from the left, and rows from the top, on as many sheets as they need."""
    room = blank(job, "").room
    sheets: list[list] = [[]]
    x, y, tall = room[0], room[1], 0.0
    sizes: list[tuple[Vessel | None, float, float]] = [
        (v, *_size(job, v, ratio)) for v in job.layout.vessels
    ]
    sizes.insert(1, (None, *tank_above.size(job, ratio)))  # the first tank from above
    if by_height:
        sizes.sort(key=lambda s: -s[2])
    for v, width, height in sizes:
        if x + width > room[2] + 1e-6 and x > room[0]:
            x, y, tall = room[0], y + tall + BETWEEN, 0.0
        if y + height > room[3] + 1e-6 or width > room[2] - room[0] + 1e-6:
            sheets.append([])
            x, y, tall = room[0], room[1], 0.0
        fits = height <= room[3] - room[1] + 1e-6 and width <= room[2] - room[0] + 1e-6
        if not fits:
            sheets += [[]] * 3  # no such scale
        sheets[-1].append((v, x, y, width))
        x, tall = x + width + BETWEEN, max(tall, height)
    return [sheet for k, sheet in enumerate(sheets) if sheet or k > len(sheets) - 3]


def _span(v: Vessel) -> tuple[float, float]:
    """The lowest and the highest point that is drawn of a vessel [m]."""
    return min(v.lowest, 0.0) if v.stand > 0 else v.lowest, v.rim


def _size(job: Job, v: Vessel, ratio: float) -> tuple[float, float]:
    low, high = _span(v)
    width = max(v.length * 1000 / ratio + SIDE + AFTER, NARROW)
    words = sum(len(lines) for lines in _words(job, v, width)) + len(
        wrapped(title(job, v), width, TEXT, True)
    )
    return width, HEAD * 2 + (high - low) * 1000 / ratio + 22.0 + words * STEP


def _words(job: Job, v: Vessel, width: float) -> list[list[str]]:
    """What stands under a vessel, in lines."""
    found = [
        wrapped(f"{mark} · {_hole_words(job, v, hole)}", width)
        for mark, hole in job.numbers.drilled(v)
    ]
    return found + [wrapped(words, width) for words in notes(job, v)]


def _hole_words(job: Job, v: Vessel, hole: Hole) -> str:
    say = lambda z: size_words(z, job.system)  # noqa: E731
    count = f"{hole.count} times " if hole.count > 1 else ""
    return f"{hole.purpose}: drill {count}{say(hole.diameter)}, middle at {level_words(hole.height, job.system)}"


def notes(job: Job, v: Vessel) -> list[str]:
    """What else a builder has to know of a vessel."""
    say = lambda z: size_words(z, job.system)  # noqa: E731
    found = []
    if v.pit > rule("least pit"):
        found.append(
            f"Pit: {say(v.pit)} under the finished floor, and {say(rule('pit bed'))} more for sand."
        )
    if v.inlet is not None:
        found.append(
            f"Water in the drip pan at {level_words(v.inlet, job.system)}, bed {say(v.depth)} deep on a grate."
        )
    if v.stand > 0.0:
        found.append(f"Its stand is {say(v.stand)} high.")
    if v.stands_in:
        host = job.site.vessel(v.stands_in).label
        found.append(f"It stands in the {host}, on legs that are drawn in the section.")
    grid = job.layout.run("filter air lateral")
    if v.name == "filter" and grid:
        high = next(w.points[0][2] for w in job.ways if w.run is grid) - v.floor
        found.append(f"{job.numbers.of(grid)}: {grid.count // v.count} drilled pipes,"
                     f" {say(rule('lateral gap'))} apart, {say(high)} over the floor, {grid.why}.")  # fmt: skip
    if v.name == "tank":
        run = job.layout.run("branch") or job.site.run("main")
        way = next(w for w in job.ways if w.run is run)
        found.append(f"{job.numbers.of(run)} ends at {level_words(way.points[-1][2], job.system)}.")
    drain = job.site.run("drain")
    if drain.target == v.name and v.kind in ("radial", "swirl"):
        found.append(
            f"{job.numbers.of(drain)} ends {say(rule('inlet depth'))} under the water, in the middle."
        )
    return found


def title(job: Job, v: Vessel) -> str:
    """The name of a vessel with its inside sizes."""
    say = lambda z: size_words(z, job.system)  # noqa: E731
    size = (
        f"{say(v.length)} long, {say(v.across)} wide"
        if v.shape == "box"
        else f"{say(v.across)} across"
    )
    return f"{many(v)}: {size}"


def _panel(page: Page, job: Job, v: Vessel, left: float, top: float, width: float) -> None:
    low, high = _span(v)
    y = top + HEAD + 1.0
    for words in wrapped(title(job, v), width, TEXT, True):
        page.write(left, y, words, TEXT, bold=True)
        y += STEP
    middle = left + SIDE + page.mm(v.length) / 2
    page.origin = (middle, y + 3.0 + high * 1000.0 / page.scale)
    cut(page, job, v, 0.0, False)
    below = page.at(0.0, low)[1] + 6.0
    one_across(page, -v.length / 2, v.length / 2, low, below, job.system)
    at = below + 8.0
    for words in (words for lines in _words(job, v, width) for words in lines):
        page.write(left, at, words)
        at += STEP
    heights = {v.floor, v.rim, v.level} | ({v.lowest} if v.cone else set())
    heights |= {v.inlet} if v.inlet is not None else set()
    heights |= {0.0} if v.stand > 0.0 else set()
    edge = page.at(-v.length / 2, 0.0)[0] - 4.5
    upright(page, {round(z, 9) for z in heights}, -v.length / 2, edge, job.system)
    if v.inlet is not None:
        level_mark(page, 0.0, v.inlet, job.system, "")
    level_mark(page, 0.1 * v.length, v.level, job.system, "", vessel=v.name)
    _inlet(page, job, v)
    _holes(page, job, v)


def _inlet(page: Page, job: Job, v: Vessel) -> None:
    """The end of the drain inside the first vessel, and the drilled pipes of the filter."""
    x, _ = job.site.places[v.name][0]
    for way in job.ways:
        if way.run.name == "drain" and way.run.target == v.name and v.inlet is None:
            edge = v.length / 2 + IN  # a piece of it outside the wall
            points = tuple((min(p[0] - x, edge), 0.0, p[2]) for p in way.points[-3:])
            draw_way(page, job, Way(way.run, points), lambda a, b, c: (a, c), False)
            return
        if v.name == "tank" and way.tank == 0 and way.run.name in ("branch", "main"):
            low, high = way.points[-1][2], way.points[-2][2]
            across_ = -v.length / 2 + IN
            points = ((across_, 0.0, min(high, v.rim + 0.02)), (across_, 0.0, low))
            draw_way(page, job, Way(way.run, points), lambda a, b, c: (a, c), False)
        if v.name == "filter" and way.run.name == "filter air lateral":
            a, b = way.points[0], way.points[-1]
            page.path(
                [(a[0] - x, a[2]), (b[0] - x, b[2])],
                "air",
                THIN,
                dash="1 0.6",
                about=about(run=way.run.name),
            )
            return


def hole_x(job: Job, v: Vessel, hole: Hole) -> float:
    """Where along a vessel a hole lies, from its middle [m]: the tanks are on the right."""
    half = v.length / 2
    if hole.side == "floor, near the wall":
        return job.site.standpipes(0)[0][0] - job.site.tanks[0][0]
    if hole.side == BESIDE_WALL:
        return 0.0
    if hole.side == BESIDE_DRAIN:
        return -SLUDGE_ASIDE
    if "at the end" in hole.side:
        return half - IN
    if hole.side.startswith("wall"):
        return -half if hole.purpose.startswith("to ") else half
    return -half + IN if hole.side.startswith("pipe") else 0.0


def _holes(page: Page, job: Job, v: Vessel) -> None:
    seen: dict[int, int] = {1: 0, -1: 0}
    for mark, hole in job.numbers.drilled(v):
        x, r = hole_x(job, v, hole), hole.diameter / 2
        told = about(hole=mark, purpose=hole.purpose, meters=f"{hole.diameter:.9f}")
        upright_ = hole.side.startswith(("wall", "pipe"))
        ends = (
            [(x, hole.height - r), (x, hole.height + r)]
            if upright_
            else [(x - r, hole.height), (x + r, hole.height)]
        )
        page.path(ends, "tanks", 1.6, stroke="paper", about=told)
        for px, py in ends:
            a, b = (0.9 * page.scale / 1000, 0.0) if upright_ else (0.0, 0.9 * page.scale / 1000)
            page.path([(px - a, py - b), (px + a, py + b)], "tanks", 0.25, False)
        page.path([(x - 1.6 * page.scale / 1000, hole.height), (x + 1.6 * page.scale / 1000, hole.height)]
                  if upright_ else [(x, hole.height - 1.6 * page.scale / 1000), (x, hole.height + 1.6 * page.scale / 1000)],
                  "tanks", HAIR, False)  # fmt: skip
        if hole.side.startswith("wall"):
            turn = 1 if x > 0 else -1
            edge = page.at(turn * v.length / 2, 0.0)[0]
            away = edge - turn * (5.0 + 6.0 * seen[turn])
            seen[turn] += 1
            one_upright(page, v.floor, hole.height, turn * v.length / 2, away, job.system,
                        "left" if turn > 0 else "right", hole=mark)  # fmt: skip
    for mark, hole in job.numbers.drilled(v):
        page.tag(page.at(hole_x(job, v, hole), hole.height), (mark,), "text", True, hole=mark)
