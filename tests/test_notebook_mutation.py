"""A relation that is wrong by one percent shows: the saved outputs of several notebooks differ."""

import importlib
import inspect
import json
import types

import pytest
from make_workbooks import WORKBOOKS
from notebook_cells import CHECKED, SOURCES, TEACH, Runner, as_in_a_kernel

from rsdesign.pages.series import SERIES

TAUGHT = [page for page in SERIES if (SOURCES / f"{page.name}.md").exists()]
FEWEST = 3
RELATIONS = (
    "fish.peaks.peak_total_feed",
    "fish.loads.ammonia_production",
    "water.oxygen.saturation",
    "tank.vessel.volume_for",
    "pipes.pipes.head_loss",
)
"""One of each subject, on the way of a sizing."""


@pytest.fixture
def wrong(request):
    """Make a relation one percent too large, wherever it was imported."""
    module, _, name = request.param.rpartition(".")
    found = importlib.import_module(f"rsdesign.equations.{module}")
    function = getattr(found, name).__wrapped__
    right = function.__code__
    assert not right.co_freevars
    kept = types.FunctionType(right, function.__globals__, name, function.__defaults__)
    names = ", ".join(inspect.signature(function).parameters)
    made: dict = {}
    exec(f"def wrong({names}): return 1.01 * _kept_({names})", made)
    function.__globals__["_kept_"] = kept
    function.__code__ = made["wrong"].__code__
    yield request.param
    function.__code__ = right
    del function.__globals__["_kept_"]


def differs(page) -> bool:
    """Whether a notebook gives other outputs than it holds."""
    book, runner = json.loads((WORKBOOKS / page.file).read_text(encoding="utf-8")), Runner()
    for cell in book["cells"]:
        tags = cell["metadata"].get("tags", [])
        if cell["cell_type"] != "code" or (TEACH not in tags and CHECKED in tags):
            continue
        try:
            outputs = runner.run("".join(cell["source"]))
        except Exception:  # a notebook that ends in an error differs too
            return True
        if CHECKED in tags and outputs != cell["outputs"]:
            return True
    return False


def test_the_notebooks_give_what_they_hold():
    with as_in_a_kernel():
        assert not [page.name for page in TAUGHT if differs(page)]


@pytest.mark.parametrize("wrong", RELATIONS, indirect=True)
def test_one_percent_makes_three_notebooks_fail(wrong):
    failed = []
    with as_in_a_kernel():
        for page in TAUGHT:
            if differs(page):
                failed.append(page.name)
            if len(failed) == FEWEST:
                return
    pytest.fail(f"{wrong}, one percent too large, shows in {failed} alone")
