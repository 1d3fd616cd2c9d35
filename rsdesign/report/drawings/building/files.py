"""Sheets as files in a folder: SVG and DXF a file a sheet, PDF one file."""

import re
from pathlib import Path

from ....building.graph import Layout
from ....core.choices import DesignError
from ....core.units import clipped
from ....design.file import write_whole
from .paper import Page
from .sheets import pages
from .svg import fixed, svg

FORMATS = ("svg", "dxf", "pdf")


def write_drawings(
    layout: Layout, folder, form: str = "svg", system: str = "us", paper: str = "letter"
) -> list[Path]:
    """Write every sheet of a layout into a folder.

    Parameters:
        layout: what ``building.layout`` gives.
        folder: where to; it is made where there is none, and files of the same names are replaced.
        form: "svg", "dxf" or "pdf".
        system: "us" or "metric"; DXF is in inches or millimeters.
        paper: "letter" or "a4".
    Returns: the files written.
    Raises: ``DesignError`` with one sentence where a file cannot be written.
    """
    folder = Path(folder)
    made = contents(pages(layout, system, paper), form, system)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in made.items():
            write_whole(folder / name, content)
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or str(wrong)
        raise DesignError(f"{clipped(folder, 200)} cannot be written: {reason}.") from None
    return [folder / name for name in made]


def contents(sheets: list[Page], form: str, system: str) -> dict[str, bytes]:
    """The bytes of each file by its name."""
    if form == "pdf":
        return {"drawings.pdf": pdf(sheets)}
    found = {}
    for place, page in enumerate(sheets, 1):
        name = f"{place:02d}-{file_name(page.title)}.{form}"
        if form == "dxf":
            from .dxf import dxf  # noqa: PLC0415  (each format loads what it needs)

            found[name] = dxf(page, system)
        else:
            found[name] = on_white(svg(page)).encode()
    return found


def file_name(title: str) -> str:
    """The first words of a title as a file's name.

    >>> file_name("Section: levels along the way of the water")
    'section'
    """
    return re.sub(r"[^a-z]+", "-", title.partition(":")[0].lower()).strip("-")


def on_white(text: str) -> str:
    """A sheet with fixed colours on white."""
    text = fixed(text)
    head, _, rest = text.partition(">")
    return f'{head}><rect width="100%" height="100%" style="fill:#FFFFFF"/>{rest}'


def pdf(sheets: list[Page]) -> bytes:
    """All sheets as one PDF, a page each."""
    from ...handout.sheet_pages import pdf_of_sheets  # noqa: PLC0415  (it loads the PDF library)

    return pdf_of_sheets([(p.width, p.height, svg(p), f"{p.title}. {p.sentence}") for p in sheets])
