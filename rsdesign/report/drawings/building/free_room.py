"""Where a sheet is empty, and tables that fill such places."""

import itertools
from dataclasses import dataclass

import numpy as np

from .boxes import Box
from .frame import Job, blank, table, table_rows
from .grounds import labels
from .marks import HEAD, Circle, Dimension, Path
from .paper import Page

CELL = 1.5
"""Side of the squares into which a sheet is cut [mm]."""
CLEAR = 2.0
"""Free paper around a table [mm]."""
LEAST_HIGH, LOWEST = 40.0, 18.0
"""A lower place is left empty, and the lowest that takes what else would need a sheet of its own [mm]."""
LEAST_ROWS = 3
"""A part of a table with fewer rows is not worth its head, unless it is all there is."""


@dataclass(slots=True, eq=False)
class Listed:
    """A narrow table: its caption, head, rows, and the shares of its columns."""

    caption: str
    head: tuple[str, ...]
    rows: list[tuple[str, ...]]
    widths: tuple[float, ...]
    part: int = 1
    """Which part of it is written next."""


class FreeRoom:
    """The squares of a sheet on which nothing is drawn."""

    def __init__(self, job: Job, page: Page):
        self.box = blank(job, "").room
        left, top, right, low = self.box
        self.taken = np.zeros((int((low - top) / CELL), int((right - left) / CELL)), dtype=bool)
        for box in drawn(page):
            self.take(box)

    def take(self, box: Box) -> None:
        """Marks a box as drawn on [mm]."""
        left, top, _, _ = self.box
        x1, y1 = int((box[0] - CLEAR - left) // CELL), int((box[1] - CLEAR - top) // CELL)
        x2, y2 = int((box[2] + CLEAR - left) // CELL) + 1, int((box[3] + CLEAR - top) // CELL) + 1
        self.taken[max(y1, 0) : max(y2, 0), max(x1, 0) : max(x2, 0)] = True

    def highest(self, width: float) -> Box | None:
        """The highest empty box of a width [mm]; None where there is none."""
        cells = int(np.ceil(width / CELL))
        rows, columns = self.taken.shape
        if cells > columns:
            return None
        best, found = 0, None
        run = np.zeros(columns - cells + 1, dtype=int)  # free rows above, for each left edge
        sums = np.cumsum(np.pad(self.taken, ((0, 0), (1, 0))), axis=1)
        for y in range(rows):
            free = sums[y, cells:] == sums[y, :-cells]
            run = np.where(free, run + 1, 0)
            k = int(run.argmax())
            if run[k] > best:
                best, found = int(run[k]), (k, y + 1 - int(run[k]))
        if found is None:
            return None
        left, top = self.box[0] + found[0] * CELL, self.box[1] + found[1] * CELL
        return left, top, left + width, top + best * CELL


def drawn(page: Page) -> list[Box]:
    """Boxes around what is drawn on a sheet; a line at an angle in short pieces."""
    found = [box for _, box in labels(page)]
    for item in page.items:
        if isinstance(item, Circle):
            found.append((item.x - item.r, item.y - item.r, item.x + item.r, item.y + item.r))
        elif isinstance(item, Dimension):
            found.append(_around([item.start, item.end]))
            found.append(_around([(item.start[0], item.at), (item.end[0], item.at)] if item.way == "x"
                                 else [(item.at, item.start[1]), (item.at, item.end[1])]))  # fmt: skip
        elif isinstance(item, Path) and item.layer != "sheet":
            if item.fill or item.closed:
                found.append(_around(item.points))
            else:
                found += [box for a, b in itertools.pairwise(item.points) for box in _along(a, b)]
    return found


def _around(points) -> Box:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _along(a, b) -> list[Box]:
    many = 1 if a[0] == b[0] or a[1] == b[1] else 12
    at = [
        (a[0] + (b[0] - a[0]) * k / many, a[1] + (b[1] - a[1]) * k / many) for k in range(many + 1)
    ]
    return [_around(pair) for pair in itertools.pairwise(at)]


def used(job: Job, page: Page) -> float:
    """The share of a sheet over its title block that lies within the reach of what is drawn on it.

    A square counts where something is drawn above or below it and to its left or right within ``FAR``.
    """
    taken = FreeRoom(job, page).taken
    reach = int(FAR / CELL)
    near = np.zeros_like(taken)
    for axis in (0, 1):
        near |= _between(taken, axis, reach)
    return float((near | taken).mean())


FAR = 24.0
"""Empty paper between two marks that are wider apart than this counts as empty [mm]."""


def _between(taken: np.ndarray, axis: int, reach: int) -> np.ndarray:
    """Squares between two drawn ones of the same row or column that are no further apart than ``reach``."""
    found = taken.copy()
    lines = found if axis else found.T
    for line in lines:
        at = np.flatnonzero(line)
        for a, b in itertools.pairwise(at):
            if b - a <= reach:
                line[a:b] = True
    return found


def fill(
    job: Job, page: Page, waiting: list[Listed], width: float, least: float = LEAST_HIGH
) -> None:
    """Writes what it can of the waiting tables on the empty places of a sheet, read from left to right and down.

    Places that are lower than ``least`` [mm] stay empty.
    """
    for left, top, _, low in places(FreeRoom(job, page), width, least):
        y = top
        while waiting:
            tall = _part(page, (left, y, left + width, low), waiting)
            if not tall:
                break
            y += tall + 2 * CLEAR


def place_whole(job: Job, page: Page, one: Listed) -> bool:
    """Writes a table as wide as the sheet on an empty place that holds all of it; False where none does."""
    room = FreeRoom(job, page)
    width = room.box[2] - room.box[0] - CELL
    box = room.highest(width)
    need = HEAD * 1.5 + sum(table_rows(one.head, one.rows, width, one.widths))
    return box is not None and box[3] - box[1] >= need and _part(page, box, [one]) > 0.0


def places(room: FreeRoom, width: float, least: float) -> list[Box]:
    """Empty boxes of a width that are high enough for a table, in the order in which they are read."""
    found = []
    while (box := room.highest(width)) and box[3] - box[1] >= least:
        found.append(box)
        room.take(box)
    return sorted(found, key=lambda box: (box[0] // (width / 2), box[1]))


def _part(page: Page, box: Box, waiting: list[Listed]) -> float:
    """Writes as many rows of the first table as a box holds, and gives their height [mm]; 0 for none."""
    one, width = waiting[0], box[2] - box[0]
    heights = table_rows(one.head, one.rows, width, one.widths)
    start = box[1] + HEAD * 1.5
    many = sum(high <= box[3] - start for high in itertools.accumulate(heights)) - 1
    if many < min(LEAST_ROWS, len(one.rows)):
        return 0.0
    words = (
        f"{one.caption}, part {one.part}" if one.part > 1 or many < len(one.rows) else one.caption
    )
    page.write(box[0], box[1] + HEAD, words, HEAD, bold=True)
    tall = table(page, (box[0], start, box[2], box[3]), one.head, one.rows[:many], one.widths)
    one.rows = one.rows[many:]
    one.part += 1
    if not one.rows:
        waiting.pop(0)
    return start - box[1] + tall
