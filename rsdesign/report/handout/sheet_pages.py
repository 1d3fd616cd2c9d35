"""Sheets of drawings as pages of a PDF, at their full size, so that their scale holds."""

import functools

from ...building.graph import Layout
from .typst_math import string


def page_markup(width: float, height: float, svg: str, alt: str) -> str:
    """One sheet as a page of its own in Typst markup; sizes in millimeters."""
    return (
        f"#page(width: {width}mm, height: {height}mm, margin: 0mm, header: none, footer: none)"
        f'[#image(bytes({string(svg)}), format: "svg", width: 100%, alt: {string(alt)})]'
    )


def pdf_of_sheets(sheets) -> bytes:
    """A PDF of sheets alone, each (width, height, SVG text, what it shows).  Raises ``DesignError``."""
    from .pdf import compiled, on_paper  # noqa: PLC0415

    pages = "\n".join(page_markup(w, h, on_paper(svg), alt) for w, h, svg, alt in sheets)
    text = f'#set document(title: "Drawings to build by", date: none)\n#set text(lang: "en")\n{pages}\n'
    return compiled(text, "ask for svg or dxf")


KEPT = 4
"""Sets of sheets that are kept: a page hands the same ones out in several formats."""


@functools.lru_cache(maxsize=KEPT)
def sheet_drawings(
    layout: Layout, system: str, paper: str
) -> tuple[tuple[float, float, str, str], ...]:
    """Each sheet of a layout: width, height, SVG text, what it shows."""
    from ..drawings.building.sheets import pages  # noqa: PLC0415  (only a document with sheets needs it)
    from ..drawings.building.svg import svg  # noqa: PLC0415

    return tuple(
        (page.width, page.height, svg(page), f"{page.title}. {page.sentence}")
        for page in pages(layout, system, paper)
    )
