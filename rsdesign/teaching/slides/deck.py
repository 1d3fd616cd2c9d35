"""Slides of a session: a notebook that is run by a kernel, and one page of HTML made by nbconvert."""

import functools
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbconvert import HTMLExporter
from nbformat import v4

from ...core.choices import DesignError
from .pictures import demo
from .source import CAUTIONS, Session, numbers, read

TEMPLATES = Path(__file__).parent / "templates"
FIRST = "from rsdesign.teaching.slides.pictures import demo, picture"
SLIDE, CONTINUE, NOTES = "slide", "-", "notes"
"""Slide types in the metadata of a notebook's cells, as nbconvert and JupyterLab know them."""


def notebook(session: Session) -> Any:
    """A session as a notebook that has not been run; its cells say which slide they belong to."""
    cells = [v4.new_code_cell(FIRST, metadata=_type("skip"))]
    for slide in session.slides:
        for place, cell in enumerate(slide):
            kind = NOTES if cell.kind == "notes" else CONTINUE if place else SLIDE
            made = v4.new_code_cell if cell.kind == "code" else v4.new_markdown_cell
            tags = [cell.kind] if cell.kind == CAUTIONS else []
            cells.append(made(cell.text, metadata={**_type(kind), "tags": tags}))
    for place, cell in enumerate(cells):
        cell["id"] = f"session-{session.number}-cell-{place}"
    title = f"Session {session.number}: {session.title}"
    return v4.new_notebook(cells=cells, metadata={"title": title, "kernelspec": _KERNEL})


_KERNEL = {"name": "python3", "display_name": "Python 3", "language": "python"}


def _type(kind: str) -> dict:
    return {"slideshow": {"slide_type": kind}}


def run(books: list) -> None:
    """Run the cells of several notebooks, one after another, in one kernel.

    Raises ``DesignError`` where a cell fails or no kernel starts.
    """
    whole = v4.new_notebook(cells=[cell for book in books for cell in book.cells])
    try:
        quiet = ["--log-level=ERROR"]
        NotebookClient(whole, timeout=120, kernel_name="python3", extra_arguments=quiet).execute()
    except CellExecutionError as failed:
        raise DesignError(f"A cell of the slides failed: {failed.ename}: {failed.evalue}") from None
    except RuntimeError as failed:
        raise DesignError(
            f"The slides need a Jupyter kernel, which did not start: {failed}"
        ) from None


def page(book) -> str:
    """The slides as one page of HTML that needs nothing from elsewhere."""
    exporter = HTMLExporter(
        template_name="slides", extra_template_basedirs=[str(TEMPLATES)], embed_images=True
    )
    slides: list[list] = []
    for cell in book.cells:
        kind = cell.metadata["slideshow"]["slide_type"]
        if kind == SLIDE:
            slides.append([])
        if kind != "skip":
            slides[-1].append(cell)
    return exporter.from_notebook_node(book, resources={"slides": slides})[0]


def write(folder, wanted=None, system: str = "us") -> list[Path]:
    """Write the slides of sessions as ``session_N.html`` and ``session_N.ipynb``.

    Parameters:
        folder: where they are written; it is made where it is not there.
        wanted: numbers of the sessions; None for all.
        system: "us" or "metric", the units on the slides.
    Returns: the paths of the pages.
    Raises: ``DesignError`` for a session that is not there, and where nothing can be written.

    Example: ``write("slides", [1])``.
    """
    sizing_of = functools.cache(demo)
    books = {n: notebook(read(n, system, sizing_of)) for n in wanted or numbers()}
    run(list(books.values()))
    pages = {n: page(book) for n, book in books.items()}
    folder = Path(folder)
    paths = [folder / f"session_{number}.html" for number in books]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, (number, book) in zip(paths, books.items(), strict=True):
            path.write_text(pages[number], encoding="utf-8")
            nbformat.write(book, path.with_suffix(".ipynb"))
    except OSError as failed:
        raise DesignError(f"The slides cannot be written to {folder}: {failed.strerror}.") from None
    return paths
