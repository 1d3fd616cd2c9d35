"""Write the notebooks as web pages that open without a server: ``python tests/make_gallery.py FOLDER``.

A page holds what the saved notebook holds; plotly.js stands once beside them, and nothing is fetched
from anywhere else.  Open ``index.html`` of the folder.
"""

import html
import json
import re
import sys
from pathlib import Path

import nbformat
from make_workbooks import WORKBOOKS
from nbconvert import HTMLExporter
from notebook_cells import PLOTLY
from notebook_index import FOOT, INDEX, drawing
from pygments.formatters import HtmlFormatter

from rsdesign.pages.series import CLASS, SERIES
from rsdesign.pages.server.files import plotly_script
from rsdesign.report.drawings.look import PALETTE

SCRIPT = "plotly.min.js"
STYLE = f"""
:root {{ color-scheme: light; }}
body {{ font: 1rem/1.5 "Segoe UI", "Noto Sans", Ubuntu, Arial, sans-serif; color: {PALETTE["ink"]};
  background: {PALETTE["paper"]}; max-width: 52rem; margin: 0 auto; padding: 1rem; }}
a {{ color: {PALETTE["clay"]}; }}
.prompt, .anchor-link {{ display: none; }}
.highlight pre, .output_area pre {{ overflow-x: auto; padding: 0.5rem; margin: 0.5rem 0; }}
.highlight pre {{ background: {PALETTE["inset"]}; border-left: 3px solid {PALETTE["clay"]}; }}
.output_area, .text_cell {{ overflow-x: auto; }}
table {{ border-collapse: collapse; margin: 0.5rem 0; }}
th, td {{ text-align: left; vertical-align: top; padding: 0.2rem 0.6rem 0.2rem 0;
  border-bottom: 1px solid {PALETTE["line"]}; }}
.drawn svg {{ max-width: 30rem; }}
"""
DRAW = """
for (const place of document.querySelectorAll("[data-figure]")) {
  const figure = JSON.parse(place.dataset.figure);
  Plotly.newPlot(place, figure.data, figure.layout, { displayModeBar: false, responsive: true });
}
"""


def page_of(file: Path) -> str:
    """A notebook as one web page."""
    book = nbformat.read(file, as_version=4)
    for cell in book.cells:
        if cell.cell_type == "markdown":
            continue
        for output in cell.outputs:
            figure = output.get("data", {}).pop(PLOTLY, None)
            if figure:
                output["data"] = {"text/html": _figure(figure)}
        if re.search(r"\bpage\(", cell.source):
            drawn = [drawing(page) for page in (*SERIES, *CLASS) if page.file == file.name]
            shown = f'<div class="drawn">{drawn[0]}</div><p>In a notebook the page with its sliders stands here.</p>'
            cell.outputs = [nbformat.v4.new_output("display_data", {"text/html": shown})]
    body, _ = HTMLExporter(template_name="basic").from_notebook_node(book)
    return _document(book.metadata.title, re.sub(r'href="([\w]+)\.ipynb"', _to_page, body))


def _to_page(link: re.Match) -> str:
    name = "index" if f"{link[1]}.ipynb" == INDEX else link[1]
    return f'href="{name}.html"'


def _figure(figure: dict) -> str:
    height = figure["layout"].get("height", 380)
    data = html.escape(json.dumps({key: figure[key] for key in ("data", "layout")}))
    return f'<div data-figure="{data}" style="height: {height}px"></div>'


def _document(title: str, body: str) -> str:
    code = HtmlFormatter().get_style_defs(".highlight")
    draws = f'<script src="{SCRIPT}"></script>\n<script>{DRAW}</script>\n'
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{html.escape(title)}</title>\n<style>{code}{STYLE}</style>\n</head>\n<body>\n"
        f'<p><a href="index.html">All notebooks</a></p>\n<main>\n{body}\n</main>\n'
        f"<footer><p>{FOOT}</p></footer>\n{draws if 'data-figure' in body else ''}</body>\n</html>\n"
    )


def main(folder: Path) -> None:
    """Write every notebook into a folder, which is made where it is not there."""
    folder.mkdir(parents=True, exist_ok=True)
    for file in sorted(WORKBOOKS.glob("*.ipynb")):
        name = "index" if file.name == INDEX else file.stem
        (folder / f"{name}.html").write_text(page_of(file), encoding="utf-8")
    (folder / SCRIPT).write_bytes(plotly_script())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
