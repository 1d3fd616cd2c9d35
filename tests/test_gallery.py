"""The gallery: every notebook as a web page that asks nothing of the internet."""

import json
import re
from html import unescape

import pytest
from make_gallery import SCRIPT, main
from make_workbooks import WORKBOOKS
from notebook_index import INDEX

BOOKS = sorted(WORKBOOKS.glob("*.ipynb"))
LARGEST = 1_500_000
"""Bytes of all pages together, plotly.js not counted."""


@pytest.fixture(scope="module")
def gallery(tmp_path_factory):
    folder = tmp_path_factory.mktemp("gallery") / "made"
    main(folder)
    return folder


def page_of(gallery, book) -> str:
    name = "index" if book.name == INDEX else book.stem
    return (gallery / f"{name}.html").read_text(encoding="utf-8")


def test_every_notebook_is_a_page_and_the_index_leads_to_it(gallery):
    index = (gallery / "index.html").read_text(encoding="utf-8")
    assert len(list(gallery.iterdir())) == len(BOOKS) + 1
    for book in BOOKS:
        if book.name != INDEX:
            assert f'href="{book.stem}.html"' in index
    assert index.count("data:image/svg+xml;base64,") >= 9
    assert sum(page.stat().st_size for page in gallery.glob("*.html")) < LARGEST


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.stem)
def test_a_page_holds_its_notebook_and_fetches_nothing(gallery, book):
    page = page_of(gallery, book)
    sources = re.findall(r"""(?:src|href|action|data)=["']([^"']*)""", page)
    assert [s for s in sources if re.match(r"https?:|//", s)] == []
    assert "@import" not in page
    assert (
        re.findall(r"""url\((?!["']?#)""", page) == []
    )  # a hatch of the same drawing may be named
    targets = {s.partition("#")[0] for s in sources if not s.startswith(("data:", "#"))}
    assert [target for target in targets if not (gallery / target).is_file()] == []
    words = re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", "", page)))
    figures = 0
    for cell in json.loads(book.read_text(encoding="utf-8"))["cells"]:
        text = "".join(cell["source"])
        if cell["cell_type"] == "code":
            assert re.sub(r"\s+", " ", text) in words
            figures += str(cell["outputs"]).count("application/vnd.plotly")
        for caution in re.findall(r"Take care: [^\n]*", text):
            assert caution in words
    assert page.count("data-figure=") == figures
    assert (f'src="{SCRIPT}"' in page) == bool(figures)
    assert "Fish and people can be hurt" in words
