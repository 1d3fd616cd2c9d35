"""Write the thin notebooks of the series from its list, check cells run: ``python tests/make_workbooks.py``.

A notebook is a heading with the page's words, one call that builds the page, and a check cell
whose saved output the tests compare.
"""

import contextlib
import io
import json
from pathlib import Path

from rsdesign.pages import check_figures
from rsdesign.pages.series import CLASS, SERIES

WORKBOOKS = Path(__file__).parents[1] / "workbooks"


def cell(number: int, kind: str, source: str, tags: tuple[str, ...] = (), output: str = "") -> dict:
    """One cell in the notebook format."""
    made: dict = {
        "cell_type": kind,
        "id": f"cell-{number}",
        "metadata": {"tags": list(tags)} if tags else {},
        "source": source.splitlines(keepends=True),
    }
    if kind == "code":
        stream = {
            "name": "stdout",
            "output_type": "stream",
            "text": output.splitlines(keepends=True),
        }
        # nbval compares a cell only where a count says that it was run; the check cells carry a 1.
        made |= {"execution_count": 1 if output else None, "outputs": [stream] if output else []}
    return made


def notebook(page) -> dict:
    """The notebook of one page."""
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        check_figures(page.name)
    words = "\n\n".join(page.words)
    return {
        "cells": [
            cell(1, "markdown", f"# {page.title}\n\n{page.question}\n\n{words}"),
            cell(2, "code", f'from rsdesign.pages import page\n\npage("{page.name}")'),
            cell(
                3,
                "code",
                f'from rsdesign.pages import check_figures\n\ncheck_figures("{page.name}")',
                ("nbval-check-output",),
                printed.getvalue(),
            ),
        ],
        "metadata": {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
            "title": page.title,
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }


def main() -> None:
    """Write every notebook."""
    for page in (*SERIES, *CLASS):
        text = json.dumps(notebook(page), indent=1, ensure_ascii=False) + "\n"
        (WORKBOOKS / page.file).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
