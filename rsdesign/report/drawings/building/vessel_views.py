"""One vessel cut through: walls, water, bed, cone, holes; used by the section and the vessels' sheet."""

import itertools
import math

from ....building.graph import Vessel
from ....building.rules import rule
from .frame import Job
from .marks import HAIR, MEDIUM, THICK, THIN, Circle, Path, about
from .paper import Page

EARTH = 2.4
"""From stroke to stroke of earth on paper [mm]."""


def pit_of(v: Vessel) -> float:
    """The bottom of a vessel's pit, under its sand [m]; 0 where it needs none."""
    return -v.pit - rule("pit bed") if v.pit > rule("least pit") else 0.0


def ground(page: Page, job: Job, strip) -> None:
    """The finished floor in a strip of the section, with a pit for each vessel that stands lower."""
    left, right = strip.span
    line, at = [(left, 0.0)], left
    pits = []
    for name, x in strip.vessels:
        v = job.site.vessel(name)
        if pit_of(v) < -rule("least pit"):
            half = v.pit_size[0] / 2
            _pit_walls(page, v, x, strip.span)
            pits.append((max(left, x - half), min(right, x + half), pit_of(v)))
    for start, end, bottom in merged(sorted(pits)):
        begin = max(start, at)
        line += [(begin, 0.0)] if begin > at + 1e-9 else []
        line += [(begin, bottom), (end, bottom)]
        if not any(abs(s - end) < 1e-9 for s, _, _ in merged(sorted(pits))):
            line.append((end, 0.0))
        at = end
    line.append((right, 0.0))
    page.path(line, "ground", MEDIUM, False, about=about(ground="finished floor"))
    for (x1, z1), (x2, z2) in itertools.pairwise(line):
        if z1 == z2:
            earth(page, x1, x2, z1)


def _pit_walls(page: Page, v: Vessel, x: float, span: tuple[float, float]) -> None:
    """The block walls of a pit cut through, one on each side, up to their curb."""
    if not v.lined:
        return
    bottom, block = pit_of(v), rule("block high")
    top = bottom + block * math.ceil(-bottom / block - 1e-9)
    near, far = v.pit_size[0] / 2, v.dug_size[0] / 2
    for turn in (-1, 1):
        a, b = x + turn * near, x + turn * far
        if min(a, b) > span[0] and max(a, b) < span[1]:
            page.path([(a, bottom), (b, bottom), (b, top), (a, top)], "ground", HAIR, False, closed=True,
                      fill="inset", about=about(blocks=v.name))  # fmt: skip


def merged(pits):
    """Pits whose edges meet, as one with steps: the deeper one keeps its edge."""
    found: list[tuple[float, float, float]] = []
    for first, end, bottom in pits:
        start = first
        if found and start < found[-1][1]:
            last = found[-1]
            if bottom < last[2]:
                found[-1] = (last[0], start, last[2])
            else:
                start = last[1]
        if end > start:
            found.append((start, end, bottom))
    return found


def earth(page: Page, x1: float, x2: float, z: float) -> None:
    """Short strokes under a line of ground, which labels had better not lie on."""
    (left, y), (right, _) = page.at(x1, z), page.at(x2, z)
    page.blocks.append((min(left, right), y, max(left, right), y + 1.6))
    x = left + 1.0
    while x < right:
        page.items.append(Path(((x, y), (x - 1.6, y + 1.6)), "ground", HAIR, stroke="soft"))
        x += EARTH


def cut(page: Page, job: Job, v: Vessel, x: float, legs: bool = True) -> None:
    """A vessel cut through its middle, standing at ``x`` [m]."""
    a = v.length / 2
    left, right = x - a, x + a
    if v.inlet is not None:
        _tower(page, job, v, x, legs)
        return
    low = v.floor - v.cone
    basin = [
        (left, v.level),
        (left, v.floor),
        *([(x, low)] if v.cone else []),
        (right, v.floor),
        (right, v.level),
    ]
    page.path(
        basin,
        "water",
        HAIR,
        False,
        closed=True,
        fill="water",
        stroke=None,
        about=about(water=v.name),
    )
    wall = [
        (left, v.rim),
        (left, v.floor),
        *([(x, low)] if v.cone else []),
        (right, v.floor),
        (right, v.rim),
    ]
    page.path(wall, "tanks", THICK, about=about(vessel=v.name))
    if v.cone:
        page.path([(left, v.floor), (right, v.floor)], "tanks", HAIR, False, dash="1 1")
    page.path(
        [(left, v.level), (right, v.level)],
        "water",
        THIN,
        stroke="line-water",
        about=about(level_of=v.name),
    )
    if v.kind == "moving bed":
        _media(page, x, v.length, v.floor, v.level)
    if v.kind == "rafts":
        page.path([(left, v.level - 0.03), (right, v.level - 0.03), (right, v.level + 0.02), (left, v.level + 0.02)],
                  "tanks", HAIR, False, closed=True, fill="plants")  # fmt: skip
    if v.steep and legs and v.stand <= 0.0:  # the ring that holds a cone up, or a bed formed to it
        _legs(page, v, left, right, v.floor, pit_of(v))
    if v.stand > 0.0:
        _legs(page, v, left, right, v.floor)


def _media(page: Page, x: float, wide: float, low: float, high: float) -> None:
    """Rings of media over a third of the room, as a sign, not a count."""
    size = max(0.02, 0.9 * page.scale / 1000.0)
    step = 3.2 * size
    rows, across_ = int((high - low) / step), int(wide / step)
    for r in range(rows):
        for c in range(across_):
            if (r * 7 + c * 5) % 3 == 0:
                px = x - wide / 2 + (c + 0.5) * step
                pz = low + (r + 0.5) * step
                page.items.append(
                    Circle(*page.at(px, pz), page.mm(size) / 2, "water", HAIR, stroke="soft")
                )


def _tower(page: Page, job: Job, v: Vessel, x: float, legs: bool) -> None:
    """A trickling bed: drip pan, bed on a grate, and with ``legs`` those on which it stands."""
    left, right = x - v.length / 2, x + v.length / 2
    page.path([(left, v.floor), (right, v.floor), (right, v.level), (left, v.level)], "water", HAIR, False,
              closed=True, fill="inset", stroke=None)  # fmt: skip
    _media(page, x, v.length, v.floor, v.level)
    page.path([(left, v.level), (left, v.floor), (right, v.floor), (right, v.level)], "tanks", THICK, closed=True,
              about=about(vessel=v.name))  # fmt: skip
    page.path([(left, v.floor), (right, v.floor)], "tanks", THIN, False, dash="0.8 0.8")
    inlet = v.level if v.inlet is None else v.inlet
    bottom = v.level + 0.25 * (inlet - v.level)
    pan = [(left, v.rim), (left, bottom), (right, bottom), (right, v.rim)]
    page.path(pan, "tanks", THICK)
    page.path([(left, inlet), (right, inlet)], "water", THIN, stroke="line-water")
    if v.stands_in and legs:
        _legs(page, v, left, right, v.floor, job.site.vessel(v.stands_in).floor)


def _legs(page: Page, v: Vessel, left: float, right: float, top: float, low: float = 0.0) -> None:
    for x in (left + 0.04, right - 0.04):
        page.path([(x, top), (x, low)], "tanks", THICK)
