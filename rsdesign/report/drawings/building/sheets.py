"""All sheets of a layout in their order, numbered."""

from ....building.graph import Layout
from ..look import Drawing
from .detail_sheet import detail_sheet
from .frame import Job, blank, finish, job
from .free_room import LEAST_HIGH, LOWEST, Listed, fill, place_whole, used
from .grounds import lay_grounds
from .isometric_sheet import isometric_sheet
from .list_sheets import list_sheets
from .paper import Page
from .plan_sheet import plan_sheet
from .section_sheet import in_strips, levels_table, section_sheet
from .stations_lists import WIDTH, stations_lists
from .svg import drawing
from .vessel_sheet import vessel_sheets


def pages(layout: Layout, system: str = "us", paper: str = "letter") -> list[Page]:
    """Every sheet of a layout.

    Parameters:
        layout: what ``building.layout`` gives.
        system: "us" or "metric", the units of the sizes on the sheets.
        paper: "letter" or "a4"; it lies on its side.
    Returns: the sheets in their order: plan, section, isometric, vessels, details, lists.
    """
    return numbered(job(layout, system, paper))


def numbered(job: Job) -> list[Page]:
    """Every sheet of a job with its title block."""
    found = [plan_sheet(job), section_sheet(job), isometric_sheet(job), *vessel_sheets(job),
             detail_sheet(job), *list_sheets(job)]  # fmt: skip
    spread_out(job, found)
    for place, page in enumerate(found, 1):
        finish(page, job, place, len(found))
        lay_grounds(page)
    return found


ENOUGH = 0.6
"""A sheet with less than this share of it in use takes tables of places first."""


FEW_ROWS = 24
"""So few rows that are left go on low places rather than on a sheet of their own."""


def spread_out(job: Job, pages: list[Page]) -> None:
    """Writes where everything sits on the empty places of the sheets, and what is left on sheets of its own."""
    if in_strips(job):
        head, rows, widths = levels_table(job)
        levels = Listed("Levels", head, list(rows), widths)
        if not any(place_whole(job, page, levels) for page in pages):
            pages.append(_last(job))
            place_whole(job, pages[-1], levels)
    waiting = stations_lists(job)
    if used(job, pages[-1]) < ENOUGH:  # the last lists have room for those that they are about
        late = waiting[2:]
        fill(job, pages[-1], late, WIDTH)
        waiting = [*waiting[:2], *late]
    for least in (LEAST_HIGH, LOWEST):
        few = sum(len(one.rows) for one in waiting) <= FEW_ROWS
        for page in pages if few or least == LEAST_HIGH else ():
            fill(job, page, waiting, WIDTH, least)
    while waiting:
        pages.append(_last(job))
        fill(job, pages[-1], waiting, WIDTH)


def _last(job: Job) -> Page:
    page = blank(job, "Lists: where everything sits, from lines A and B on the plan")
    page.sentence = (
        "Where each vessel, machine, pipe and valve sits: from two lines and the finished floor."
    )
    return page


def drawings(layout: Layout, system: str = "us", paper: str = "letter") -> list[Drawing]:
    """Every sheet of a layout as a ``Drawing``, in the order of ``pages``."""
    return [drawing(page) for page in pages(layout, system, paper)]
