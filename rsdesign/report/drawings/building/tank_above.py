"""The first tank from above: where its standpipe, drain, inlet, bubbles and manifold lie, from its walls."""

from ....building.air_ways import spots, tank_diffusers
from ....building.graph import Vessel
from ....building.holes import SLUDGE_ASIDE
from ....building.rules import rule
from ....building.space import Way
from .dims import across, one_across, upright
from .frame import Job, wrapped
from .marks import HAIR, LINE, TEXT, THICK, THIN, about
from .outlines import above, outline
from .paper import Page
from .pens import draw_way, outside
from .words import level_words, size_words

SIDE, AFTER, BELOW, TOP = 26.0, 26.0, 18.0, 8.0
"""Room beside, behind, below and above the tank for its dimensions [mm]."""
STEP = TEXT * LINE
SHOWN = ("air manifold", "branch", "drain branch")
"""Runs of the first tank that the view shows, beside the main that ends in the only tank."""


def notes(job: Job) -> list[str]:
    """What the view cannot show: heights, and what hangs where."""
    say = lambda z: size_words(z, job.system)  # noqa: E731
    site, found = job.site, []
    d = tank_diffusers(site)
    if d is not None:
        low = max(0.0, site.tank.level - d.depth - site.tank.floor)
        where = "on the floor" if low < 1e-6 else f"{say(low)} over the floor"
        label = f"{d.label[:1].upper()}{d.label[1:]}"
        found.append(f"{label}: {d.each} in the tank, {where}, evenly in two lines, each on a hose of its own"
                     f" ({job.numbers.of(site.run('air drop'))}).")  # fmt: skip
    manifold = job.layout.run("air manifold")
    if manifold:
        high = level_words(site.air_height(), job.system)
        found.append(
            f"{job.numbers.of(manifold)}, the manifold, lies across the middle; its middle at {high}."
        )
    if site.many and site.tank.count > site.columns():
        found.append(
            "Tanks of the second row are turned: their standpipe faces the way between the rows."
        )
    return found


def size(job: Job, ratio: float) -> tuple[float, float]:
    """Width and height of the panel at a scale [mm]."""
    tank = job.site.tank
    width = tank.length * 1000 / ratio + SIDE + AFTER
    lines = sum(len(wrapped(words, width)) for words in (*notes(job), title(job)))
    return width, tank.across * 1000 / ratio + TOP + BELOW + (lines + 2) * STEP


def title(job: Job) -> str:
    """The head of the panel."""
    return "Tank 1 from above" if job.site.many else "The tank from above"


def panel(page: Page, job: Job, left: float, top: float, width: float) -> None:
    """Draws the panel with its corner at a point on the paper [mm]."""
    tank, (x, y) = job.site.tank, job.site.tanks[0]
    at = top + STEP
    for words in wrapped(title(job), width, TEXT, True):
        page.write(left, at, words, TEXT, bold=True)
        at += STEP
    page.origin = (
        left + SIDE + page.mm(tank.length / 2 - x),
        at + TOP + page.mm(tank.across / 2 + y),
    )
    at = page.at(0.0, y - tank.across / 2)[1] + BELOW
    for words in notes(job):  # before the marks, which keep off them
        for line in wrapped(words, width):
            page.write(left, at, line)
            at += STEP
    _tank(page, tank, x, y)
    _inside(page, job, x, y)
    _sizes(page, job, tank, x, y)


def _tank(page: Page, tank: Vessel, x: float, y: float) -> None:
    points = outline(tank, x, y)
    if points:
        page.path(points, "tanks", THICK, closed=True, fill="water", about=about(above="tank"))
    else:
        page.circle(x, y, tank.across / 2, "tanks", THICK, fill="water", about=about(above="tank"))
    page.path([(x - 0.1, y), (x + 0.1, y)], "dimensions", HAIR, False)
    page.path([(x, y - 0.1), (x, y + 0.1)], "dimensions", HAIR, False)


def _inside(page: Page, job: Job, x: float, y: float) -> None:
    site = job.site
    d = tank_diffusers(site)
    reach = site.tank.length / 2 + SLUDGE_ASIDE, site.tank.across / 2 + SLUDGE_ASIDE
    for way in job.ways:
        if way.tank == 0 and way.run.name in SHOWN:
            points = tuple(
                (x + _within(p[0] - x, reach[0]), y + _within(p[1] - y, reach[1]), p[2])
                for p in way.points
            )
            draw_way(page, job, Way(way.run, points, 0), above)
    for px, py in spots(site, 0) if d else ():
        r = rule("disc across") / 2 if d and d.kind == "disc" else 0.04
        page.circle(px, py, r, "air", THIN, fill="paper", about=about(place="diffuser"))
    stand, centre = site.run("standpipe"), site.run("centre drain")
    for px, py in site.standpipes(0):
        page.circle(
            px, py, outside(stand) / 2, "pipes", THIN, fill="paper", about=about(place="standpipe")
        )
    page.circle(
        x,
        y,
        site.hole("centre drain"),
        "pipes",
        THIN,
        fill="paper",
        about=about(place="centre drain"),
    )
    page.tag(page.at(*site.standpipes(0)[0]), (job.numbers.of(stand),), ring=True, weight=30.0)
    page.tag(page.at(x, y), (job.numbers.of(centre),), ring=True, weight=30.0)
    end = inlet(job)
    page.circle(*end, outside(job.layout.run("branch") or site.run("main")) / 2, "pipes", THIN, fill="paper",
                about=about(place="inlet"))  # fmt: skip
    page.tag(
        page.at(*end),
        (job.numbers.of(job.layout.run("branch") or site.run("main")),),
        ring=True,
        weight=30.0,
    )


def _within(away: float, most: float) -> float:
    """A distance from the middle, cut to what the panel shows [m]."""
    return max(-most, min(most, away))


def inlet(job: Job) -> tuple[float, float]:
    """Where the pressure pipe goes down into the first tank, in plan [m]."""
    run = job.layout.run("branch") or job.site.run("main")
    way = next(w for w in job.ways if w.run is run and w.tank in (None, 0))
    return way.points[-1][0], way.points[-1][1]


def _sizes(page: Page, job: Job, tank: Vessel, x: float, y: float) -> None:
    """Chains from wall to wall: along x below, along y on both sides."""
    half, wide = tank.length / 2, tank.across / 2
    at = spots(job.site, 0)
    (sx, sy), (ix, iy) = job.site.standpipes(0)[0], inlet(job)
    below = page.at(x, y - wide)[1] + 5.0
    lines = sorted({round(p, 6) for p, _ in at})
    if lines:
        across(page, [x - half, *lines, x + half], y - wide, below, job.system, place="diffuser")
    if abs(sx - x) > 1e-6:
        low, high = sorted((x, sx))
        one_across(page, low, high, y - wide, below + 6.0, job.system, place="standpipe")
    left, right = page.at(x - half, y)[0] - 4.0, page.at(x + half, y)[0] + 4.0
    rows = sorted({round(p, 6) for _, p in at})
    if rows:
        some = rows if len(rows) <= MOST_ROWS else [*rows[:2], rows[-1]]
        upright(
            page,
            [y - wide, *some, y + wide],
            x + half,
            right,
            job.system,
            "right",
            place="diffuser",
        )
    marks = {round(v, 6) for v in (y - wide, y, sy, iy, y + wide)}
    upright(page, marks, x - half, left, job.system, "left", place="inlet")
    top = page.at(x, y + wide)[1] - 3.5
    across(
        page,
        {round(v, 6) for v in (x - half, ix, x, x + half)},
        y + wide,
        top,
        job.system,
        place="inlet",
    )


MOST_ROWS = 6
"""Rows of discs that are dimensioned each; of more, the first step stands for all."""
