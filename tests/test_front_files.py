"""The front end's modules: joined in order, whole, each name used once, nothing of a server in a notebook."""

import re
import shutil
import subprocess

import pytest

from rsdesign.pages.jupyter import front_files

PAGES = ("served.js", "notebook.js", "wall.js", "settings.js")
NAMES = re.compile(r"^(?:async )?(?:function|const|let) (\w+)", re.MULTILINE)


def every_module():
    return sorted(
        p.relative_to(front_files.FRONT).as_posix() for p in front_files.FRONT.rglob("*.js")
    )


@pytest.mark.parametrize("page", PAGES)
def test_what_a_module_imports_stands_before_it(page):
    order = front_files.modules(page)
    assert len(order) == len(set(order))
    for name in order:
        for path in re.findall(r'from "(\.[^"]*)"', front_files.source(name)):
            wanted = (front_files.FRONT / name).parent.joinpath(path).resolve()
            assert wanted.is_file(), (name, path)
            before = order[: order.index(name)]
            assert wanted.relative_to(front_files.FRONT.resolve()).as_posix() in before, (
                name,
                path,
            )


@pytest.mark.parametrize("page", PAGES)
def test_a_name_at_the_top_of_a_module_is_used_once_in_a_page(page):
    names = NAMES.findall(front_files.script_of(page))
    assert len(names) > 30
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize("page", PAGES)
def test_nothing_of_a_module_is_left_that_a_script_cannot_hold(page):
    text = front_files.script_of(page)
    exports = [line for line in text.splitlines() if line.startswith("export")]
    assert exports == (["export default { render };"] if page == "notebook.js" else [])
    assert not re.search(r"^import\b|(?<!typeof )\bimport\(", text, re.MULTILINE)


def test_every_module_belongs_to_a_page():
    assert every_module() == sorted({name for page in PAGES for name in front_files.modules(page)})


def test_imports_are_written_as_the_join_reads_them():
    """No renaming, no default and no side effect alone: their lines would stay in the script."""
    for name in every_module():
        for line in re.findall(r"^(?:import|export)\b.*$", front_files.source(name), re.MULTILINE):
            assert re.match(
                r"import \{|export (async )?(function|const|class) |export default \{ render \};",
                line,
            ), (name, line)
        assert " as " not in "".join(
            re.findall(r"^import [^;]*;", front_files.source(name), re.MULTILINE)
        )


def test_no_module_is_long():
    for name in every_module():
        lines = front_files.source(name).splitlines()
        assert len(lines) <= 200, name
        assert max(map(len, lines)) <= 120, name


def test_a_notebook_has_no_line_of_its_own():
    assert not {"link.js", "room.js", "served.js"} & set(front_files.modules("notebook.js"))
    assert {"link.js", "room.js"} <= set(front_files.modules("served.js"))


@pytest.mark.skipif(
    shutil.which("node") is None, reason="No Node.js is installed to read the scripts."
)
@pytest.mark.parametrize("page", PAGES)
def test_a_joined_script_can_be_read(page, tmp_path):
    path = tmp_path / "page.mjs"
    path.write_text(front_files.script_of(page), encoding="utf-8")
    subprocess.run(["node", "--check", path], check=True, timeout=60)
