"""Papers stay true: the method document is current, the change list and the README name what is."""

import csv
import importlib
import importlib.util
import re
from pathlib import Path

import pytest

from rsdesign.core.equation import REGISTER
from rsdesign.core.figures import figures_of
from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import BASES
from rsdesign.design.model import FIELDS
from rsdesign.report import glossary, log_page
from rsdesign.report import method_book as methodbook
from rsdesign.sizing.system import STAGES

ROOT = Path(__file__).resolve().parents[1]


def test_method_document_is_current():
    path = ROOT / "docs" / "method.md"
    assert path.read_text(encoding="utf-8") == methodbook.text(), (
        "run: python -m rsdesign.report.method_book docs/method.md"
    )


def test_choices_document_is_current():
    path = ROOT / "docs" / "choices.md"
    assert path.read_text(encoding="utf-8") == methodbook.choices_text(), (
        "run: python -m rsdesign.report.method_book docs/method.md"
    )


def test_glossary_document_is_current():
    path = ROOT / "docs" / "glossary.md"
    assert path.read_text(encoding="utf-8") == glossary.text(), (
        "run: python -m rsdesign.report.glossary docs/glossary.md"
    )


def test_the_page_on_the_log_is_current():
    path = ROOT / "docs" / "log.md"
    assert path.read_text(encoding="utf-8") == log_page.text(), (
        "run: python -m rsdesign.report.log_page docs/log.md"
    )


def test_every_term_is_met_somewhere_in_its_own_unit():
    methodbook.import_all()
    terms = glossary.glossary()
    assert 60 <= len(terms) == len({t.plain for t in terms.values()}) <= 150
    places = {f.path for name, kind in STAGES.items() for f in figures_of(name, kind)}
    places |= set(FIELDS) | set(REGISTER)
    for term in terms.values():
        if term.where.startswith(("teaching.", "studies.", "records.", "building.")):
            module, _, name = f"rsdesign.{term.where}".rpartition(".")
            assert hasattr(importlib.import_module(module), name), term
        else:
            assert term.where in places, term
        assert not term.kind or term.kind in KINDS, term
        assert term.basis in BASES, term
        assert term.source, term
        assert len(term.meaning.split()) <= 30, term.term
        assert term.meaning.endswith("."), term.term
    assert "glossary.md" in methodbook.text()


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "docs/limits.md",
                                  "docs/changes.md", "docs/performance.md",
                                  "docs/deployment.md", "docs/workshop-guide.md",
                                  "docs/glossary.md"])  # fmt: skip
def test_papers_are_there_and_links_lead_somewhere(name):
    path = ROOT / name
    text = path.read_text(encoding="utf-8")
    assert len(text) > 400
    for target in re.findall(r"\]\(([^)#]+)\)", text):
        if "://" not in target:
            assert (path.parent / target).exists(), f"{name}: {target}"


def test_readme_names_every_command():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for command in ("rsdesign size", "rsdesign limits", "rsdesign new", "rsdesign heat", "rsdesign handout",
                    "python -m pytest"):  # fmt: skip
        assert command in text


def test_the_python_of_the_readme_runs(monkeypatch):
    monkeypatch.chdir(ROOT)
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"```python\n(.*?)```", text, re.S)
    names: dict = {}
    exec(code, names)
    assert names["design"].tank.depth == pytest.approx(0.9144)


def test_the_places_of_the_ten_questions_are_there():
    """Each answer names a file, and a word in it that is to be changed."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.split("## Where would you change")[1].split("\n## ")[0]
    rows = [line.split("|")[1:3] for line in table.splitlines() if line.startswith("| the ")
            or line.startswith(("| how ", "| a "))]  # fmt: skip
    assert len(rows) == 10
    for question, answer in rows:
        files = [ROOT / p for p in re.findall(r"`((?:rsdesign|data)/[\w/.]+\.\w+)`", answer)]
        assert files, question
        found = "".join(path.read_text(encoding="utf-8") for path in files)
        for word in re.findall(r"`([\w]+)`", answer):
            assert word in found, (question, word)


def test_the_developers_paper_names_every_folder():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for path in (ROOT / "rsdesign").iterdir():
        if (path / "__init__.py").is_file():
            assert f"{path.name}/" in text, path.name


def test_modules_that_are_named_are_there():
    """A module or test named with its folder in a paper exists."""
    for name in ("README.md", "DEVELOPERS.md", "docs/limits.md", "docs/security.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        for path in re.findall(r"`((?:rsdesign|tests|data|docs)/[\w/.-]+\.\w+)`", text):
            if "TOPIC" not in path:  # stands for any topic
                assert (ROOT / path).is_file(), f"{name}: {path}"


def test_ci_calls_the_readmes_test_command():
    assert "python -m pytest" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_every_choice_has_words_and_a_source():
    for entry in FIELDS.values():
        assert entry.choice.label, entry.path
        assert entry.choice.source, entry.path
        assert "\n" not in entry.choice.help


def test_what_moved_is_where_the_list_says():
    """Every name of the older tree that has moved is found at its new place."""
    path = ROOT / "docs" / "decisions" / "moved.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) > 1500
    for row in rows:
        module, _, name = row["new"].rpartition(".")
        try:
            found = hasattr(importlib.import_module(module), name)
        except ModuleNotFoundError:
            found = False
        assert found or importlib.util.find_spec(row["new"]), row
