"""What must hold with the lowest allowed version of every dependency; CI runs it with those too."""

import importlib
import pkgutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest
from rooms import Client, RoomServer

import rsdesign
from rsdesign.core import units
from rsdesign.core.kinds import KINDS, UnitError
from rsdesign.core.tables import data_folder
from rsdesign.pages import blocks
from rsdesign.pages.opening import open_page
from rsdesign.pages.series import CLASS, SERIES
from rsdesign.pages.session import Session, demo
from rsdesign.report.handout import files
from rsdesign.sizing.system import size

RUNS_AT_IMPORT = ("__main__",)


def test_every_module_can_be_imported():
    for info in pkgutil.walk_packages(rsdesign.__path__, "rsdesign."):
        needs_hub = info.name.endswith("hub_app") and find_spec("jupyterhub") is None
        if not info.name.endswith(RUNS_AT_IMPORT) and not needs_hub:
            importlib.import_module(info.name)


def test_the_command_line_sizes_a_design():
    school = data_folder() / "designs" / "school.toml"
    done = subprocess.run([sys.executable, "-m", "rsdesign", "size", str(school)],
                          capture_output=True, encoding="utf-8", check=False)  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "tilapia" in done.stdout


@pytest.mark.parametrize("page", [page.name for page in SERIES])
def test_every_page_composes_with_all_that_can_be_opened(page):
    session = Session(page)
    session.handle({"do": "depth", "full": True})
    figure = next(iter(session.page.figures), None)
    if figure:
        session.handle({"do": "working", "path": figure})
    found = blocks.compose(session)
    assert not session.notice
    assert found["frame"]["page"] == page
    assert found["working"] or not figure


@pytest.mark.parametrize("page", [page.name for page in CLASS])
def test_every_page_of_a_class_composes(page):
    session, view = open_page(page)
    session.handle({"do": "open"})
    assert view.compose(session)["frame"]["page"] == page


@pytest.mark.parametrize("form", files.FORMATS)
def test_every_file_of_the_hand_out_is_made(form):
    assert len(files.make(size(demo("family")), form, "us", "letter")) > 5000


def test_a_quantity_with_its_unit_is_understood():
    feet = units.Quantity(3, "foot")
    assert units.from_quantity(feet, KINDS["length"], "depth") == pytest.approx(0.9144)
    reading = units.Quantity(70, "degF")
    with pytest.raises(UnitError, match="is a reading"):
        units.from_quantity(reading, KINDS["temperature difference"], "swing")


def test_a_served_page_has_a_forked_kernel_that_answers(tmp_path: Path):
    server = RoomServer(tmp_path, "--pool", "1", lan=False)
    try:
        assert server.ask("/voila/render/" + SERIES[0].file, timeout=60)[0] == 200
        page = Client(server, "", host="127.0.0.1")
        assert page.start()["ack"] == 1
        moved = page.say(do="slide", path="tank.depth", at=0.5, end=True)
        assert moved["blocks"]["figures"]
        page.close()
        assert "Traceback" not in server.said()
    finally:
        server.stop()
