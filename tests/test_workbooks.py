"""The notebooks are clean, say what the package computes, and teach; nbval runs them besides."""

import json
import re

import pytest
from make_workbooks import HOW_TO_USE, WORKBOOKS, how_to_use, index, notebook
from notebook_cells import CHECKED, IGNORED, SKIPPED, SOURCES, TEACH, Runner, as_in_a_kernel
from notebook_index import INDEX
from reading import grade

from rsdesign import load, size
from rsdesign.commands import lab
from rsdesign.core.folders import workbooks_folder
from rsdesign.pages.series import CLASS, SERIES
from rsdesign.pages.server.config import NOTEBOOK_ONLY

MOST = 60_000
SERVED_TAGS = [[], [IGNORED]]
TAUGHT = [page for page in SERIES if (SOURCES / f"{page.name}.md").exists()]
PARTS = (
    "Predict", "Load a design", "The relations, one at a time", "The same from the whole design",
    "One change", "A trade-off", "What others printed", "Your turn", "The page", "Where to go next",
)  # fmt: skip


def saved(page) -> dict:
    return json.loads((WORKBOOKS / page.file).read_text(encoding="utf-8"))


def code_of(book: dict, tag: str) -> list[str]:
    return ["".join(c["source"]) for c in book["cells"]
            if c["cell_type"] == "code" and tag in c["metadata"].get("tags", [])]  # fmt: skip


def text_of(book: dict) -> str:
    return "\n\n".join("".join(c["source"]) for c in book["cells"] if c["cell_type"] == "markdown")


def test_there_is_one_notebook_for_each_page():
    files = sorted(path.name for path in workbooks_folder().glob("*.ipynb"))
    assert files == sorted([HOW_TO_USE, INDEX, *(page.file for page in (*SERIES, *CLASS))])


def test_the_notebook_that_says_how_to_use_them_is_current():
    text = (WORKBOOKS / HOW_TO_USE).read_text(encoding="utf-8")
    with as_in_a_kernel():
        assert json.loads(text) == how_to_use(), "run: python tests/make_workbooks.py"
    assert f"({INDEX})" in text


def test_the_index_is_current_and_shows_every_notebook_with_its_picture():
    found = json.loads((WORKBOOKS / INDEX).read_text(encoding="utf-8"))
    assert found == index({page.file: saved(page) for page in (*SERIES, *CLASS)}), (
        "run: python tests/make_workbooks.py"
    )
    text = text_of(found)
    for page in (*SERIES, *CLASS):
        assert f"({page.file})" in text
        assert page.question in text
    held = set(re.findall(r"^\[(\w+)\]: data:image/svg", text, re.M))
    assert held >= {page.name for page in TAUGHT}
    assert held == set(re.findall(r"!\[[^]]+\]\[(\w+)\]", text))
    assert f"({HOW_TO_USE})" in text
    assert "://" not in text
    assert INDEX == lab.FIRST


@pytest.mark.parametrize("page", [*SERIES, *CLASS], ids=lambda p: p.name)
def test_a_notebook_is_clean_and_current(page):
    text = (WORKBOOKS / page.file).read_text(encoding="utf-8")
    assert len(text) < MOST
    book = json.loads(text)
    assert "widgets" not in book["metadata"]
    for cell in book["cells"]:
        if cell["cell_type"] != "code":
            continue
        assert cell["execution_count"] == (1 if cell["outputs"] else None)
        assert (CHECKED in cell["metadata"].get("tags", [])) == bool(cell["outputs"])
    with as_in_a_kernel():
        assert book == notebook(page), "run: python tests/make_workbooks.py"


def test_the_nine_subjects_and_time_are_taught():
    assert [page.name for page in TAUGHT] == [
        "fish", "solids", "biofilter", "air", "pump", "heat", "outage", "cost", "choose", "whole",
        "startup", "day", "season", "log", "spread",
    ]  # fmt: skip


@pytest.mark.parametrize("page", TAUGHT, ids=lambda p: p.name)
def test_a_notebook_teaches_in_short_cells_and_in_order(page):
    book = saved(page)
    cells = code_of(book, TEACH)
    assert 8 <= len(cells) <= 18  # a study has more tables to look at than a part
    for code in cells:
        assert len(code.splitlines()) <= 6, code
        assert not re.search(r"\bdef\b|\bclass\b", code), code
    text = text_of(book)
    places = [text.index(f"\n## {part}") for part in PARTS]
    assert places == sorted(places)
    assert text.count("\nSource: ") >= 3
    assert "\nTake care: " in text
    assert "print" not in text_of(book).split("\n## ")[0]
    joined = "\n".join(cells)
    for call in ("differences(", "sweep(", "plot.", "published(", "check(first", "check(second",
                 "p.sizing[", "p.design =", 'load("my_design.toml", otherwise=',
                 'save(p.design, "my_design.toml")'):  # fmt: skip
        assert call in joined, call
    assert len(code_of(book, SKIPPED)) == 1


def outputs_of(book: dict, before_saving: str = "") -> tuple[list, dict]:
    """Run a notebook's cells: their outputs, and the names it leaves."""
    runner, found = Runner(), []
    for cell in book["cells"]:
        code = "".join(cell["source"])
        if cell["cell_type"] != "code":
            continue
        if "save(p.design" in code and before_saving:
            runner.run(before_saving)
        given = runner.run(code)
        if CHECKED in cell["metadata"].get("tags", []):
            found.append(given == cell["outputs"])
    return found, dict(runner.shell.user_ns)


def test_a_design_goes_from_one_notebook_to_the_next():
    one, after = (saved(page) for page in TAUGHT[1:3])
    with as_in_a_kernel():
        _, left = outputs_of(one, 'p.design = p.design.with_(goal_fish=150, tank_depth="4 ft")')
        _, came = outputs_of(after)
    design = left["p"].design
    assert design.goal.fish == 150
    assert design == came["design"] == came["p"].design
    assert came["sizing"]["filter.required"] == size(design)["filter.required"]


def test_a_notebook_that_is_run_again_finds_the_design_it_kept():
    with as_in_a_kernel():
        for _ in range(2):
            found, _ = outputs_of(saved(TAUGHT[0]))
            assert all(found)
            assert load("my_design.toml") == load("family")


@pytest.mark.parametrize("page", TAUGHT, ids=lambda p: p.name)
def test_the_words_are_easy_to_read(page):
    text = re.sub(r"^(\*\*.*`|In: .*|Source: .*|#.*)$", "", text_of(saved(page)), flags=re.M)
    text = re.sub(r"`[^`]*`|\[|\]\([^)]*\)", "it", text)
    assert grade(text) <= 9


@pytest.mark.parametrize("page", [*SERIES, *CLASS], ids=lambda p: p.name)
def test_a_served_page_runs_the_cell_of_its_page_alone(page):
    kept = [c for c in saved(page)["cells"]
            if not set(c["metadata"].get("tags", [])) & set(NOTEBOOK_ONLY)]  # fmt: skip
    assert [c["cell_type"] for c in kept] == ["markdown", "code"]
    assert kept[1]["metadata"].get("tags", []) in SERVED_TAGS
    code = "".join(kept[1]["source"])
    assert code.startswith("from rsdesign.pages import page\n")
    assert f'page("{page.name}")' in code
