"""The notebooks are thin and clean, and say what the package computes; nbval runs them besides."""

import json

import pytest
from make_workbooks import notebook

from rsdesign.core.tables import workbooks_folder
from rsdesign.pages.series import CLASS, SERIES

MOST = 60_000


def test_there_is_one_notebook_for_each_page():
    files = sorted(path.name for path in workbooks_folder().glob("*.ipynb"))
    assert files == sorted(page.file for page in (*SERIES, *CLASS))


@pytest.mark.parametrize("page", [*SERIES, *CLASS], ids=lambda p: p.name)
def test_a_notebook_is_clean_and_current(page):
    path = workbooks_folder() / page.file
    text = path.read_text(encoding="utf-8")
    assert len(text) < MOST
    saved = json.loads(text)
    assert "widgets" not in saved["metadata"]
    for cell in saved["cells"]:
        if cell["cell_type"] != "code":
            continue
        assert cell["execution_count"] == (1 if cell["outputs"] else None)
        if cell["outputs"]:
            assert cell["metadata"]["tags"] == ["nbval-check-output"]
    assert saved == notebook(page), "run: python tests/make_workbooks.py"
