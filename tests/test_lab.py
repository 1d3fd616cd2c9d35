"""``rsdesign lab``: copies into a folder of one's own, and never writes over work."""

import shutil

import pytest

from rsdesign.__main__ import main
from rsdesign.commands.lab import COPIED, copy_workbooks
from rsdesign.core.choices import DesignError
from rsdesign.core.folders import workbooks_folder


@pytest.fixture
def shipped(tmp_path):
    source = tmp_path / "shipped"
    source.mkdir()
    for name in ("a.ipynb", "b.ipynb"):
        (source / name).write_text(f"{name}, first", encoding="utf-8")
    return source


def test_every_workbook_is_copied_once(tmp_path, capsys):
    folder = tmp_path / "mine"
    assert main(["lab", str(folder), "--copy-only"]) == 0
    assert "How_to_use.ipynb" in capsys.readouterr().out
    names = {path.name for path in workbooks_folder().iterdir()}
    assert {path.name for path in folder.iterdir()} == names | {COPIED}
    assert main(["lab", str(folder), "--copy-only"]) == 0
    assert "Nothing new" in capsys.readouterr().out


def test_work_is_never_written_over(shipped, tmp_path):
    folder = tmp_path / "mine"
    copy_workbooks(shipped, folder)
    (folder / "a.ipynb").write_text("my work", encoding="utf-8")
    assert copy_workbooks(shipped, folder).startswith("Nothing new")
    for name in ("a.ipynb", "b.ipynb"):
        (shipped / name).write_text(f"{name}, second", encoding="utf-8")
    said = copy_workbooks(shipped, folder)
    assert "up to date: b.ipynb" in said
    assert "You changed a.ipynb" in said
    assert (folder / "a.ipynb").read_text(encoding="utf-8") == "my work"
    assert (folder / "a_new.ipynb").read_text(encoding="utf-8") == "a.ipynb, second"
    assert (folder / "b.ipynb").read_text(encoding="utf-8") == "b.ipynb, second"
    assert copy_workbooks(shipped, folder).startswith("Nothing new")
    (shipped / "a.ipynb").write_text("third", encoding="utf-8")
    copy_workbooks(shipped, folder)
    assert (folder / "a_new1.ipynb").read_text(encoding="utf-8") == "third"


def test_a_file_of_the_same_name_that_was_there_before_is_kept(shipped, tmp_path):
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "a.ipynb").write_text("mine", encoding="utf-8")
    assert "You changed a.ipynb" in copy_workbooks(shipped, folder)
    assert (folder / "a.ipynb").read_text(encoding="utf-8") == "mine"


def test_what_was_deleted_comes_back(shipped, tmp_path):
    folder = tmp_path / "mine"
    copy_workbooks(shipped, folder)
    (folder / "b.ipynb").unlink()
    assert "b.ipynb" in copy_workbooks(shipped, folder)
    assert (folder / "b.ipynb").exists()


def test_a_folder_that_cannot_be_is_one_sentence(shipped, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(DesignError, match="cannot be written"):
        copy_workbooks(shipped, tmp_path / "file" / "mine")
    folder = tmp_path / "mine"
    shutil.copytree(shipped, folder)
    (folder / COPIED).write_text("{", encoding="utf-8")
    with pytest.raises(DesignError, match="delete it"):
        copy_workbooks(shipped, folder)
