"""The notebooks where their code runs: in stock Voila and in JupyterLab, with no internet."""

import os
import shutil
import subprocess
import sys
import time
import urllib.request

import pytest
from conftest import free_port

from rsdesign.core.tables import workbooks_folder
from rsdesign.pages.series import SERIES

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers and clients end late

WAIT = 60_000
TAUGHT = [page for page in SERIES if page.name not in ("start", "have", "lists")]


class Program:
    """A server of Jupyter's own, over a copy of the notebooks."""

    def __init__(self, folder, *command):
        self.port = free_port()
        self.books = folder / "books"
        shutil.copytree(workbooks_folder(), self.books)
        self.log = open(folder / "log", "w", encoding="utf-8")  # noqa: SIM115  (closed in stop)
        # Settings of whoever runs the tests stay out of it.
        environment = {**os.environ, "JUPYTER_CONFIG_DIR": str(folder / "config"),
                       "JUPYTER_RUNTIME_DIR": str(folder / "run")}  # fmt: skip
        self.process = subprocess.Popen(
            [sys.executable, "-m", *command, "--no-browser", f"--port={self.port}"],
            cwd=self.books, stdout=self.log, stderr=self.log, env=environment,
        )  # fmt: skip
        self.url = f"http://127.0.0.1:{self.port}/"
        for _ in range(600):
            try:
                urllib.request.urlopen(self.url, timeout=5).close()
                return
            except OSError:
                time.sleep(0.1)
        raise RuntimeError("the server did not start")

    def stop(self):
        self.process.terminate()
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
        self.log.close()


@pytest.fixture
def offline(browser):
    """A page that reaches this machine alone."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.route(
        lambda url: "//127.0.0.1:" not in url and not url.startswith(("data:", "blob:")),
        lambda route: route.abort(),
    )
    view = context.new_page()
    yield view
    context.close()


@pytest.fixture(scope="module")
def voila(tmp_path_factory):
    made = Program(tmp_path_factory.mktemp("voila"), "voila", ".", "--show_tracebacks=True")
    yield made
    made.stop()


@pytest.mark.parametrize("page", TAUGHT, ids=lambda page: page.name)
def test_stock_voila_shows_picture_and_sliders_without_internet(voila, offline, page):
    offline.goto(f"{voila.url}voila/render/{page.file}", timeout=WAIT)
    offline.wait_for_selector(".rs-lab input[type=range]", timeout=WAIT)
    offline.wait_for_selector(".rs-lab .rs-drawing svg", timeout=WAIT)
    offline.wait_for_selector(".js-plotly-plot .main-svg", timeout=WAIT)
    text = offline.inner_text("body")
    assert "Traceback" not in text
    assert "odel not found" not in text
    assert "from rsdesign" not in text  # no code


@pytest.fixture(scope="module")
def lab(tmp_path_factory):
    made = Program(
        tmp_path_factory.mktemp("lab"), "jupyterlab", "--ServerApp.token=", "--allow-root",
        "--LabApp.news_url=", "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    )  # fmt: skip
    yield made
    made.stop()


def test_in_jupyterlab_a_slider_is_seen_by_the_next_cell(lab, offline):
    offline.goto(f"{lab.url}lab/tree/20_solids.ipynb", timeout=WAIT)
    offline.wait_for_selector(".jp-Notebook .jp-CodeCell", timeout=WAIT)
    offline.click("text=Run >> nth=0")
    offline.click(".lm-Menu-itemLabel:text-is('Run All Cells')")
    slider = offline.get_by_role("slider", name="Flow over each area of settler, slider")
    slider.wait_for(timeout=WAIT)
    tie = offline.locator(".jp-CodeCell", has_text='print(p.sizing["solids.removed"]')
    # Run all ends with the cell that sets the sliders; the tie is run again after a move.
    offline.wait_for_selector(".jp-CodeCell:has-text('check_figures') .jp-OutputArea-output")
    slider.focus()
    for _ in range(20):
        offline.keyboard.press("ArrowRight")
    offline.wait_for_timeout(600)
    before = tie.locator(".jp-OutputArea-output").inner_text()
    tie.locator(".cm-content").click()
    offline.keyboard.press("Control+Enter")
    offline.wait_for_function(
        "was => [...document.querySelectorAll('.jp-CodeCell')].some(c =>"
        " c.textContent.includes('print(p.sizing[\"solids.removed\"]') &&"
        " c.querySelector('.jp-OutputArea-output') &&"
        " c.querySelector('.jp-OutputArea-output').innerText.trim() !== was.trim())",
        arg=before, timeout=WAIT,
    )  # fmt: skip
