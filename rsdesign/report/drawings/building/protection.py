"""What keeps people out of water and pits, and the two lines from which everything is set out."""

from ....building.graph import Vessel
from ....building.guards import GATE, Box, fence, railed, rails
from ....building.rules import rule
from .frame import FENCE_DASH, RAIL_DASH, Job
from .marks import MEDIUM, THICK, THIN, Path, about
from .paper import Page
from .words import size_words

LAP_HIGH = 0.02
"""A cover or net as it is drawn over its rim [m]."""


def draw_fence(page: Page, job: Job) -> None:
    """The fence with its gate, and the lines A and B along two of its sides."""
    left, low, right, high = fence(job.layout)
    gate = (left + right) / 2, (left + right) / 2 + GATE
    line = [
        (gate[0], high),
        (left, high),
        (left, low),
        (right, low),
        (right, high),
        (gate[1], high),
    ]
    page.path(line, "ground", MEDIUM, dash=FENCE_DASH, about=about(fence="around"))
    page.path(
        [(gate[0], high), (gate[1] - 0.25, high + 0.55)], "ground", THIN, about=about(fence="gate")
    )
    tall = size_words(rule("fence high"), job.system)
    page.tag(
        page.at(*line[0]), (f"fence {tall} high around the water;", "a gate that latches by itself")
    )
    for words, x, y in (("line A", left, high), ("line B", right, low)):
        page.tag(page.at(x, y), (words,), bold=True, far=20.0)
    page.tag(page.at(left, low), ("peg O",), bold=True, far=20.0)


def draw_rails(page: Page, job: Job) -> None:
    """Guard rails around deep pits, seen from above."""
    boxes = rails(job.layout)
    for box in boxes:
        page.path(
            _corners(box), "ground", MEDIUM, closed=True, dash=RAIL_DASH, about=about(rail="pit")
        )
    if boxes:
        left, low, _, _ = boxes[0]
        tall = size_words(rule("rail high"), job.system)
        page.tag(page.at(left, low), (f"guard rail {tall} high,", "or a cover over the pit"))


def _corners(box: Box) -> list[tuple[float, float]]:
    left, low, right, high = box
    return [(left, low), (right, low), (right, high), (left, high)]


def rails_in_section(page: Page, job: Job, strip) -> None:
    """A guard rail at both edges of each deep pit of a strip, cut through."""
    deep, high = {v.name for v in railed(job.layout)}, rule("rail high")
    seen: list[float] = []
    for name, x in strip.vessels:
        half = job.site.vessel(name).pit_size[0] / 2
        for edge in (x - half, x + half) if name in deep else ():
            inside = any(abs(edge - at) < job.site.vessel(n).length / 2 for n, at in strip.vessels)
            if strip.span[0] < edge < strip.span[1] and not inside and _new(edge, seen):
                page.path([(edge, 0.0), (edge, high)], "ground", MEDIUM, about=about(rail="pit"))
                page.path([(edge - 0.05, high), (edge + 0.05, high)], "ground", THICK, False)
    if seen:
        page.tag(page.at(min(seen), high), (f"guard rail {size_words(high, job.system)}",))


def _new(edge: float, seen: list[float]) -> bool:
    """Whether no rail stands there yet; two pits that meet have one."""
    new = all(abs(edge - other) > 0.4 for other in seen)
    if new:
        seen.append(edge)
    return new


def lids(page: Page, job: Job, v: Vessel, x: float) -> None:
    """The net over a tank and the cover of the sump, cut through."""
    words = {"tank": "net", "sump": "cover that locks"}.get(v.name)
    if words is None:
        return
    lap, z = rule("cover lap"), v.rim + LAP_HIGH
    ends = (x - v.length / 2 - lap, z), (x + v.length / 2 + lap, z)
    page.path(
        ends, "tanks", MEDIUM, dash="0.6 0.6" if v.name == "tank" else "", about=about(lid=v.name)
    )
    page.tag(page.at(x - 0.3 * v.length, z), (words,))


def set_out_words(job: Job) -> str:
    """How the two lines are laid and read."""
    words = ("Lines A and B are strings at a right angle (lay off 3, 4 and 5 lengths); they cross at peg O. Distances from A"
             " run to the right, from B up the sheet.")  # fmt: skip
    left, low, right, high = fence(job.layout)
    long, wide = (size_words(side, job.system) for side in (right - left, high - low))
    words += f" The fence is {long} by {wide}."
    site = job.site
    if site.columns() > 1:
        apart = size_words(site.tanks[1][0] - site.tanks[0][0], job.system)
        words += f" Tanks of a row are alike: for the next one, add {apart} to the distance from A."
    return words


def break_line(page: Page, point: tuple[float, float]) -> None:
    """The sign that a pipe goes on beyond what is drawn."""
    x, y = point
    page.items.append(
        Path(
            ((x - 0.8, y + 2.0), (x + 0.6, y + 0.4), (x - 0.6, y - 0.4), (x + 0.8, y - 2.0)),
            "pipes",
            THIN,
        )
    )
