"""The index of the workbooks: a picture, the question and the time of each notebook.

The pictures are the package's own drawings.  They stand at the end of a cell's text, so that the notebook
is one file; JupyterLab shows no SVG that is attached to a cell.
"""

import base64
import re
from pathlib import Path

from notebook_cells import SOURCES, TEACH

from rsdesign import load, size
from rsdesign.pages.blocks import compose
from rsdesign.pages.carried import PHONE
from rsdesign.pages.courses import blocks as courses
from rsdesign.pages.pictures import picture
from rsdesign.pages.series import CLASS, SERIES
from rsdesign.pages.session import Session
from rsdesign.report.drawings.look import plain
from rsdesign.report.drawings.small import thumbnail

INDEX = "Index.ipynb"
WIDE = 200
"""Pixels of a picture."""
WORDS_A_MINUTE, MINUTES_A_CELL, MINUTES_A_PAGE = 120, 1.0, 5.0
"""Slow readers of a text with numbers; a cell is read, run and changed; a page has sliders (from memory)."""
SYSTEM = "the whole system"
SHOWN = {
    "start": (SYSTEM, "family"),
    "have": ("tank.picture", "school"),
    "whole": (SYSTEM, "school"),
    "choose": ("money.towers", "family"),
}
"""The drawing and the demo design for a page without a drawing of its own."""

HEAD = """# Index of the workbooks

New here? Begin with [How to use these workbooks](How_to_use.ipynb).

Then take the notebooks in order: ten on the parts of a system and what to buy, three on time, two on tests and chance. Each begins with a guess and ends with a design of yours, which
the next one opens. Minutes are counted from words and cells; nobody has timed them yet.
"""
MORE = """## One page each

These hold one page and no code: the start, what you have already, and the lists for each day. The last
two are for a class.
"""
FOOT = """This is a teaching estimate, not engineering design. Fish and people can be hurt by mains, gas
and deep water: each notebook says where to take care."""


def cells(books: dict[str, dict]) -> list[str]:
    """The text of each cell; ``books`` holds the notebooks by their files."""
    taught = [page for page in SERIES if (SOURCES / f"{page.name}.md").exists()]
    others = [page for page in (*SERIES, *CLASS) if page not in taught]
    found = []
    for words, pages in ((HEAD, taught), (MORE, others)):
        drawn = {page.name: svg for page in pages if (svg := drawing(page))}
        rows = [_row(page, minutes(books[page.file]), page.name in drawn) for page in pages]
        table = "\n".join(["| | notebook | minutes |", "|---|---|---|", *rows])
        images = "\n".join(f"[{name}]: {_address(svg)}" for name, svg in drawn.items())
        found.append(f"{words}\n{table}\n\n{images}")
    return [*found, FOOT]


def drawing(page) -> str:
    """The picture of a page for its demo design, in fixed colors; empty where it has none."""
    name, demo = SHOWN.get(page.name, (getattr(page, "picture", ""), "family"))
    sizing = size(load(demo))
    if getattr(page, "spread", False):
        return plain(compose(Session(page.name))["picture"]["svg"])
    if getattr(page, "course", ""):
        session = Session(page.name)
        session.width, session.narrow = PHONE, True
        return plain(courses.picture(session, True)["svg"])
    if name == SYSTEM:
        return plain(thumbnail(sizing, WIDE))
    drawn = picture(name, sizing, "us")
    return plain(drawn["svg"]) if drawn else ""


def minutes(book: dict) -> int:
    """About how long a notebook takes, to five minutes."""
    words = code = 0
    for cell in book["cells"]:
        words += len(re.findall(r"\w+", "".join(cell["source"])))
        code += cell["cell_type"] == "code" and TEACH in cell["metadata"].get("tags", [])
    return 5 * max(1, round((words / WORDS_A_MINUTE + MINUTES_A_CELL * code + MINUTES_A_PAGE) / 5))


def _row(page, minutes: int, drawn: bool) -> str:
    alt = f"{page.title}: drawing"
    image = f"![{alt}][{page.name}]" if drawn else ""
    question = getattr(page, "question", "")
    return f"| {image} | **[{page.title}]({Path(page.file).name})**<br>{question} | {minutes} |"


def _address(svg: str) -> str:
    """A small drawing as an address that holds it whole."""
    end = svg.index("</svg>") + len("</svg>")
    svg = svg[:end]  # a picture of several drawings shows its first
    head = re.sub(r' (width|height)="[^"]*"', "", svg[: svg.index(">")])
    small = head.replace("<svg", f'<svg width="{WIDE}"', 1) + svg[svg.index(">") :]
    return f"data:image/svg+xml;base64,{base64.b64encode(small.encode()).decode()}"
