"""The recipe for a notebook of one's own, followed as it is written."""

import html
import re
from pathlib import Path

import nbformat
import pytest
from make_workbooks import WORKBOOKS
from notebook_cells import Runner, as_in_a_kernel

import rsdesign

TEXT = (Path(__file__).parents[1] / "docs" / "notebooks.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| ([^|]+) \| (`.*) \|$", TEXT.split("## The cells to copy")[1], re.M)
IMPORTS = f"""from rsdesign import {", ".join(rsdesign.__all__)}
from rsdesign.teaching.notebook import check, exercise
from rsdesign.pages import page
import ipywidgets"""


def test_every_cell_to_copy_runs_below_the_cell_that_loads_a_design():
    cells = re.findall(r"`([^`]+)`", "\n".join(code for _, code in ROWS))
    cells.remove("data/published")  # named in the words of a row
    assert len(cells) >= 20
    silent = re.compile(r"\w[\w.]* = |save\(")
    with as_in_a_kernel():
        runner = Runner()
        runner.run(IMPORTS)
        runner.run('design = load("family")')
        for code in cells:
            assert bool(runner.run(code)) != bool(silent.match(code)), code


@pytest.mark.parametrize("kind", ["file", "change"])
def test_a_copy_with_a_design_of_ones_own_runs_from_the_top(kind):
    lines = re.findall(r"`(design = load\([^`]+)`", TEXT)
    (own,) = [line for line in lines if ("pond.toml" in line) == (kind == "file")]
    book = nbformat.read(WORKBOOKS / "20_solids.ipynb", as_version=4)
    with as_in_a_kernel():
        rsdesign.save(rsdesign.load("school"), "pond.toml")
        runner, changed = Runner(), 0
        for cell in book.cells:
            if cell.cell_type == "code":
                code = re.sub(r"^design = load\(.*\)$", lambda _: own, cell.source, flags=re.M)
                changed += code != cell.source
                runner.run(code)
    assert changed == 1
    fish = runner.shell.user_ns["p"].design.goal.fish
    assert fish == (120 if kind == "change" else rsdesign.load("school").goal.fish)


def test_tags_and_commands_that_it_names_are_those_of_the_tests():
    makers = "".join(p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("*.py"))
    for word in re.findall(r"`(nbval-[\w-]+|@\w+)", html.unescape(TEXT)):
        assert word.strip("@") in makers, word
    for path in re.findall(r"`(?:python )?(tests/[\w/]+\.\w+)", TEXT):
        assert "NAME" in path or (Path(__file__).parents[1] / path).is_file(), path
