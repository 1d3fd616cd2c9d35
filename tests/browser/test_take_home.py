"""The hand-out in a browser: the HTML read aloud and offline, and the buttons that hand it out."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from rsdesign import size
from rsdesign.core import tables
from rsdesign.design.file import load
from rsdesign.pages.series import page_named
from rsdesign.report.handout import files

WAIT = 20_000

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers and clients end late


@pytest.fixture(scope="module")
def paper(tmp_path_factory):
    folder = tmp_path_factory.mktemp("paper")
    design = load(tables.data_folder() / "designs" / "family.toml")
    path = folder / "handout.html"
    path.write_bytes(files.make(size(design), "html"))
    return path


@pytest.mark.parametrize("width", [1280, 375])
def test_axe_finds_nothing_and_nothing_is_fetched(browser, paper, width):
    context = browser.new_context(viewport={"width": width, "height": 900}, offline=True)
    view, asked = context.new_page(), []
    view.on("request", lambda r: asked.append(r.url))
    view.goto(paper.as_uri())
    wrong = Axe().run(view).response["violations"]
    assert {w["id"]: [n["html"][:160] for n in w["nodes"][:3]] for w in wrong} == {}
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    wide = view.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
    )
    assert wide[0] <= wide[1]
    assert view.locator("figure svg").count() >= 4
    assert view.locator("math").first.bounding_box()["height"] > 10
    context.close()


@pytest.mark.parametrize(("words", "name", "start"), [
    ("Plan: PDF, letter paper", "plan.pdf", b"%PDF"),
    ("Buy and build: PDF, A4 paper", "build.pdf", b"%PDF"),
    ("One page for a browser", "handout.html", b"<!doctype html>"),
    ("Spreadsheet", "handout.xlsx", b"PK"),
])  # fmt: skip
def test_a_button_hands_out_a_file(browser, server, tmp_path, words, name, start):
    context = browser.new_context()
    view = context.new_page()
    view.goto(server.page(page_named("whole").file), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.click("summary:text-is('Take it home')")
    with view.expect_download(timeout=WAIT) as handed:
        view.get_by_role("button", name=words, exact=True).click()
    assert handed.value.suggested_filename == name
    handed.value.save_as(tmp_path / name)
    assert (tmp_path / name).read_bytes().startswith(start)
    assert (tmp_path / name).stat().st_size > 20_000
    context.close()
