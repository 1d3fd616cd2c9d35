"""Write the notebooks of the series, their cells run: ``python tests/make_workbooks.py [NAME ...]``.

A notebook is a heading with the page's words, one call that builds the page, and a check cell
whose saved output the tests compare.  Where ``notebook_sources`` holds a text of the page's name,
its cells stand around the page: they teach in a notebook, and a served page leaves them out.
"""

import json
import sys
from pathlib import Path

import notebook_index
from notebook_cells import (
    CHECKED,
    IGNORED,
    NEXT,
    SKIPPED,
    SOURCES,
    TEACH,
    Runner,
    as_in_a_kernel,
    cells_of,
    lines_of,
    printed,
)  # fmt: skip
from notebook_index import INDEX

from rsdesign.pages import check_figures
from rsdesign.pages.series import CLASS, SERIES

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
HOW_TO_USE = "How_to_use.ipynb"


def cell(number: int, kind: str, source: str, tags: tuple[str, ...] = (), outputs=()) -> dict:
    """One cell in the notebook format."""
    made: dict = {
        "cell_type": kind,
        "id": f"cell-{number}",
        "metadata": {"tags": list(tags)} if tags else {},
        "source": lines_of(source),
    }
    if kind == "code":
        # nbval compares a cell only where a count says that it was run.
        made |= {"execution_count": 1 if outputs else None, "outputs": list(outputs)}
    return made


def head(page) -> str:
    """The first cell of a notebook: its title, its question, and the words of its page."""
    words = "\n\n".join(page.words)
    return f"# {page.title}\n\n{page.question}\n\n{words}"


def page_cell(page, tied: bool) -> str:
    """The cell that shows the page; served, it is the only code that runs."""
    call = f'page("{page.name}")'
    return f"from rsdesign.pages import page\n\n{f'p = {call}' + chr(10) + 'p' if tied else call}"


def next_cells(page) -> list[tuple[str, str]]:
    """The cells that keep the design and lead to the next notebook."""
    names = [about.name for about in SERIES]
    return cells_of(NEXT.format(SERIES[(names.index(page.name) + 1) % len(SERIES)]))


def notebook(page, run: bool = True) -> dict:
    """The notebook of one page; without ``run`` its teaching cells have no outputs."""
    source = SOURCES / f"{page.name}.md"
    tied = source.exists()
    parts = [("page", "")]
    if tied:
        parts = cells_of(source.read_text(encoding="utf-8")) + next_cells(page)
    made, runner = [cell(1, "markdown", head(page))], Runner() if run else None
    for kind, text in parts:
        number = len(made) + 1
        if kind == "page":
            code = page_cell(page, tied)
            if tied and runner:
                runner.run(code)
            made.append(cell(number, "code", code, (IGNORED,) if tied else ()))
        elif kind == "markdown":
            made.append(cell(number, "markdown", text, (TEACH,)))
        else:
            outputs = runner.run(text) if runner else []
            shows_widget = any("widget-view" in str(o.get("data", "")) for o in outputs)
            tags = (TEACH, CHECKED if outputs and not shows_widget else IGNORED)
            if "save(" in text:
                tags = (TEACH, SKIPPED)
            made.append(cell(number, "code", text, tags, () if shows_widget else outputs))
    stream = {"name": "stdout", "output_type": "stream",
              "text": lines_of(printed(lambda: check_figures(page.name)))}  # fmt: skip
    code = f'from rsdesign.pages import check_figures\n\ncheck_figures("{page.name}")'
    made.append(cell(len(made) + 1, "code", code, (CHECKED,), (stream,)))
    return book(page.title, made)


def how_to_use() -> dict:
    """The notebook that says how to use the others; it has no page."""
    runner, made = Runner(), []
    for kind, text in cells_of((SOURCES / "how_to_use.md").read_text(encoding="utf-8")):
        outputs = runner.run(text) if kind == "code" else ()
        tags = ((CHECKED,) if outputs else (IGNORED,)) if kind == "code" else ()
        made.append(cell(len(made) + 1, kind, text, tags, outputs))
    return book("How to use these workbooks", made)


def index(books: dict[str, dict]) -> dict:
    """The notebook that shows all others, by their files."""
    texts = enumerate(notebook_index.cells(books), 1)
    return book("Index of the workbooks", [cell(n, "markdown", text) for n, text in texts])


def book(title: str, cells: list[dict]) -> dict:
    """A notebook of these cells."""
    return {
        "cells": cells,
        "metadata": {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
            "title": title,
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }


def main(names: list[str]) -> None:
    """Write the notebooks of these pages, or every one."""
    with as_in_a_kernel():
        made = {about.file: notebook(about) for about in (*SERIES, *CLASS)
                if not names or about.name in names}  # fmt: skip
        if not names:
            made[INDEX] = index(made)
            made[HOW_TO_USE] = how_to_use()
    for file, found in made.items():
        text = json.dumps(found, indent=1, ensure_ascii=False) + "\n"
        (WORKBOOKS / file).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
