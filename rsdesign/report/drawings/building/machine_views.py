"""Machines on their shelves and pumps in their sump, seen from the side."""

from ....building.graph import Machine
from .frame import Job
from .marks import HAIR, MEDIUM, THIN, about
from .paper import Page
from .words import level_words

MACHINE = (0.45, 0.35, 0.3)
"""The box of an air machine, along x, across and high, not to scale [m]."""
PUMP = (0.24, 0.3)
"""The box of a pump, wide and high, not to scale [m]."""


def machines_in_section(page: Page, job: Job, strip) -> None:
    """The shelves with their machines that stand beside a strip of the section, and the pump."""
    low, high = strip.span
    for m in job.layout.machines:
        if m.kind == "pump":
            _pump(page, job, m, low, high)
            continue
        x, _ = job.site.machines()[0] if m.serves == "tank" else job.site.filter_machine()
        if low < x < high:
            _shelf(page, job, m, x)


def _shelf(page: Page, job: Job, m: Machine, x: float) -> None:
    """A shelf behind or before the vessels: its legs and its edge as dashes, the machine as a box."""
    top = shelf_of(job, m)
    half, tall = MACHINE[0] / 2, MACHINE[2]
    for leg in (x - half, x + half):
        page.path(
            [(leg, 0.0), (leg, top)], "machines", THIN, dash="1 0.7", about=about(shelf=m.name)
        )
    page.path(
        [(x - half - 0.05, top), (x + half + 0.05, top)],
        "machines",
        MEDIUM,
        about=about(shelf=m.name),
    )
    box = [(x - half, top), (x + half, top), (x + half, top + tall), (x - half, top + tall)]
    page.path(box, "machines", HAIR, closed=True, fill="air", about=about(machine=m.name))
    page.tag(page.at(x - half, top), (f"shelf {level_words(top, job.system)}",), weight=30.0)


def shelf_of(job: Job, m: Machine) -> float:
    """Top of the shelf of an air machine over the datum [m]."""
    return job.site.shelf(m.serves) if job.layout.vessel(m.serves) else job.site.shelf("tank")


def _pump(page: Page, job: Job, m: Machine, low: float, high: float) -> None:
    x, _ = job.site.pumps()[0]
    if not low < x < high:
        return
    half, z = min(PUMP[0] / 2, job.site.sump.across / 8), job.site.sump.floor
    box = [(x - half, z), (x + half, z), (x + half, z + PUMP[1]), (x - half, z + PUMP[1])]
    page.path(box, "machines", HAIR, closed=True, fill="air", about=about(machine=m.name))
    page.tag(page.at(x - half, z + PUMP[1] / 2), ("pump on the floor of the sump",), weight=30.0)
