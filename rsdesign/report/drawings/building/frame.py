"""What every sheet has: edge, title block, scale, legend, tables."""

import re
from dataclasses import dataclass

from ....building.cuts import Cuts, cuts
from ....building.graph import Layout, Vessel
from ....building.space import Site, Way
from ..labels import wide
from .dims import symbol
from .marks import HAIR, HEAD, LINE, MEDIUM, PAPERS, TEXT, THIN, TITLE, Path, Words
from .numbers import Numbers, numbers
from .paper import Page
from .scales import usual_scale

EDGE, BLOCK = 8.0, 15.0
"""From the edge of the paper to the frame; height of the title block [mm]."""
GLUE = "\u00a0"
CAUTION = "Teaching estimate: have it checked."
UNITS = {"us": "Sizes in feet and inches, inside", "metric": "Sizes in millimeters, inside"}


@dataclass(slots=True, eq=False)
class Job:
    """One set of sheets: the layout with its marks and ways, units and paper."""

    layout: Layout
    system: str
    paper: str
    site: Site
    numbers: Numbers
    ways: tuple[Way, ...]
    cuts: Cuts

    @property
    def name(self) -> str:
        """The name of the design, without odd signs."""
        name = "".join(
            c if c.isprintable() else " " for c in self.layout.sizing.design.name
        ).strip()
        return name[:60] or "Your design"


def job(layout: Layout, system: str = "us", paper: str = "letter") -> Job:
    """The set of sheets of a layout."""
    site = Site(layout)
    return Job(layout, system, paper, site, numbers(layout), layout.ways, cuts(layout))


def blank(job: Job, title: str) -> Page:
    """A sheet with its frame; its room is what lies above the title block."""
    wide_, tall = PAPERS[job.paper]
    page = Page(wide_, tall, title)
    page.room = (EDGE + 2.0, EDGE + 2.0, wide_ - EDGE - 2.0, tall - EDGE - BLOCK - 2.0)
    return page


def fit(
    page: Page,
    job: Job,
    low,
    high,
    margins=(12.0, 12.0, 12.0, 12.0),
    area=None,
    ratio=None,
    down=0.5,
) -> None:
    """Sets scale and origin so that a drawing from ``low`` to ``high`` [m] fits the room.

    ``margins``: left, top, right, bottom [mm], kept free for labels and dimensions.  ``ratio``: a scale
    that is known already.  ``down``: the share of the height left free that lies below the drawing.
    """
    left, top, right, bottom = area or page.room
    wide_ = right - left - margins[0] - margins[2]
    tall = bottom - top - margins[1] - margins[3]
    over, up = high[0] - low[0], high[1] - low[1]
    page.scale, page.scale_words = usual_scale(
        ratio or 1000.0 * max(over / wide_, up / tall), job.system
    )
    free_x, free_y = wide_ - page.mm(over), tall - page.mm(up)
    page.origin = (
        left + margins[0] + free_x / 2 - page.mm(low[0]),
        bottom - margins[3] - free_y * down + page.mm(low[1]),
    )


def finish(page: Page, job: Job, place: int, count: int) -> None:
    """Writes frame and title block: design, sheet, scale, datum, units, caution, number."""
    w, h = page.width, page.height
    top = h - EDGE - BLOCK
    _box(page, (EDGE, EDGE, w - EDGE, h - EDGE), MEDIUM)
    _box(page, (EDGE, top, w - EDGE, h - EDGE), MEDIUM)
    name = shortened(job.name, 0.36 * w, TITLE, True)
    _text(page, EDGE + 2, top + 6.2, name, TITLE, bold=True)
    _text(page, EDGE + 2, top + 12.2, page.title, HEAD)
    x = EDGE + 0.40 * w
    for words, y in ((f"Scale {page.scale_words}" if page.scale_words else "No scale", 4.6),
                     ("Datum ±0: finished floor by the tanks", 8.6), (UNITS[job.system], 12.6)):  # fmt: skip
        _text(page, x, top + y, words)
    x = EDGE + 0.68 * w
    for words, y in ((CAUTION, 4.6), ("Local codes come first. Licensed electrician.", 8.6)):
        _text(page, x, top + y, words, bold=y == 4.6)
    _text(page, x, top + 12.8, f"Sheet {place} of {count}", HEAD, bold=True)
    for share in (0.39, 0.67):
        x = EDGE + share * w
        page.items.append(Path(((x, top), (x, h - EDGE)), "sheet", THIN))


def _text(
    page: Page, x: float, y: float, words: str, size: float = TEXT, bold: bool = False
) -> None:
    page.items.append(Words(x, y, words, "sheet", size, "start", bold))


def _box(page: Page, box, width: float) -> None:
    left, top, right, low = box
    page.items.append(
        Path(((left, top), (right, top), (right, low), (left, low)), "sheet", width, closed=True)
    )


def many(v: Vessel) -> str:
    """The name of a vessel, with how many there are.

    A count stands before a sign, since a name takes no plural here.
    """
    return f"{v.count} × {v.label}" if v.count > 1 else v.label


def shortened(words: str, room: float, size: float, bold: bool = False) -> str:
    """Words cut to a width on paper."""
    if wide(words, size, bold) <= room:
        return words
    while words and wide(words + "…", size, bold) > room:
        words = words[:-1]
    return words.rstrip() + "…"


def wrapped(words: str, room: float, size: float = TEXT, bold: bool = False) -> list[str]:
    """Words in lines no wider than a room on paper [mm]; a number keeps its unit."""
    lines, now = [], ""
    for kept in re.sub(r"(?<=\d) (?=\d/\d|ft\b|in\b|mm\b)", GLUE, words).split(" "):
        word = kept.replace(GLUE, " ")
        longer = f"{now} {word}".strip()
        if now and wide(longer, size, bold) > room:
            lines.append(now)
            now = word
        else:
            now = longer
    return [*lines, now] if now else lines


LEGEND = {
    "gravity": "water by gravity", "pressure": "water under pressure", "air": "air",
    "sludge": "sludge", "under": "under the floor", "ball valve": "valve", "check valve": "check valve",
    "union": "union", "clean-out": "clean-out", "level": "level over the datum", "pit": "edge of a pit",
    "rail": "guard rail", "fence": "fence", "strap": "strap",
}  # fmt: skip
INNER = {"gravity": "water", "standpipe": "water", "pressure": "paper", "sludge": "sludge"}
"""What fills a pipe between its edges, by its kind."""
AIR_DASH = "2.2 0.7"
UNDER_DASH = "1.4 0.8"
PIT_DASH = "2.4 1.2"
RAIL_DASH = "0.5 0.7"
FENCE_DASH = "4 0.8 0.6 0.8"
LINES = {"pit": (THIN, PIT_DASH), "rail": (MEDIUM, RAIL_DASH), "fence": (MEDIUM, FENCE_DASH)}
"""How lines on the ground are drawn: width and dashes."""


def legend(page: Page, kinds) -> float:
    """The symbols that a sheet uses, in lines above the title block; gives their height [mm]."""
    entries = [k for k in LEGEND if k in kinds]
    x0, right = page.room[0], page.room[2]
    widths = [wide(LEGEND[k], TEXT) + 12.0 for k in entries]
    rows: list[list[int]] = [[]]
    x = x0
    for k, long in enumerate(widths):
        if x + long > right and rows[-1]:
            rows.append([])
            x = x0
        rows[-1].append(k)
        x += long
    tall = 4.6 * len(rows)
    y = page.room[3] - tall + 3.2
    for row in rows:
        x = x0
        for k in row:
            _legend_mark(page, entries[k], x, y - 0.9)
            page.items.append(Words(x + 8.0, y, LEGEND[entries[k]], "text"))
            x += widths[k]
        y += 4.6
    page.room = (page.room[0], page.room[1], page.room[2], page.room[3] - tall - 1.0)
    return tall


def _legend_mark(page: Page, kind: str, x: float, y: float) -> None:
    line = ((x, y), (x + 7.0, y))
    if kind in INNER:
        page.items.append(Path(line, "text", casing=1.1, inner=INNER[kind]))
    elif kind == "air":
        page.items.append(Path(line, "text", 0.35, dash=AIR_DASH))
    elif kind == "under":
        page.items.append(Path(line, "text", casing=1.1, inner="paper", dash=UNDER_DASH))
    elif kind == "level":
        page.items.append(
            Path(((x + 2.3, y - 1.2), (x + 4.7, y - 1.2), (x + 3.5, y + 0.8)), "text", closed=True)
        )
    elif kind in LINES:
        page.items.append(Path(line, "text", LINES[kind][0], dash=LINES[kind][1]))
    elif kind == "strap":
        page.items.append(Path(line, "text", casing=1.1, inner="paper"))
        page.items.append(Path(((x + 3.5, y - 1.4), (x + 3.5, y + 1.4)), "text", MEDIUM))
    else:
        symbol(page, kind, (x + 3.5, y), "x", legend="yes")


def table(page: Page, box, headings, rows, widths, size: float = TEXT) -> float:
    """A table in a box on the paper; gives the height that it takes [mm].  Long cells take lines."""
    left, y, right, _ = box
    whole = (right - left) / sum(widths)
    edges = [left]
    for share in widths:
        edges.append(edges[-1] + share * whole)
    start = y
    for place, row in enumerate((headings, *rows)):
        cells = [
            wrapped(str(c), edges[k + 1] - edges[k] - 1.6, size, place == 0)
            for k, c in enumerate(row)
        ]
        for k, lines in enumerate(cells):
            for n, words in enumerate(lines):
                page.write(
                    edges[k] + 0.6, y + size * (1.05 + LINE * n), words, size, bold=place == 0
                )
        y += size * LINE * max(1, *(len(c) for c in cells)) + 0.9
        page.items.append(Path(((left, y), (right, y)), "text", MEDIUM if place == 0 else HAIR))
    return y - start


def table_rows(headings, rows, wide_: float, widths, size: float = TEXT) -> list[float]:
    """The height of each row of a table, its head first [mm]."""
    whole = wide_ / sum(widths)
    found = []
    for place, row in enumerate((headings, *rows)):
        cells = [
            len(wrapped(str(c), share * whole - 1.6, size, place == 0))
            for c, share in zip(row, widths, strict=True)
        ]
        found.append(size * LINE * max(1, *cells) + 0.9)
    return found
