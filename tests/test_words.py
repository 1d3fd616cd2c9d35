"""Plain words everywhere: labels of our own making and broken English stay away once they are gone."""

import re
import subprocess
from pathlib import Path

import pytest

from rsdesign.pages import blocks
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session

ROOT = Path(__file__).resolve().parents[1]
BETWEEN = r"[\s\"f]+"
KEPT = ("docs/changes.md", "docs/method.md", "docs/choices.md", "tests/test_words.py")
"""What was is told in the changes; two papers are written by the program from the words tested here."""

DROPPED = (
    "Full turn", "Short turn", "the pencil is", "old rule", "pencil sum", "lost to rubbing",
    "rubbing counted", "is rubbing in", "Dear and long", "bears nothing", "one more tank",
    "Say this, or the", "as while they grow", "At the height it will work",
    "Seconds to fill a 5-gallon bucket at the height", "a weight of fish cost",
    "of feed asks",
)  # fmt: skip


def texts():
    names = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    for name in names.stdout.splitlines():
        if name.endswith((".py", ".js", ".md", ".toml", ".csv", ".ipynb")) and name not in KEPT:
            yield name, (ROOT / name).read_text(encoding="utf-8")


def test_dropped_words_are_nowhere():
    found = [
        (name, words)
        for name, text in texts()
        for words in DROPPED
        # A sentence may be broken over two lines of a source: quotes and spaces between its words.
        if re.search(rf"\b{words.replace(' ', BETWEEN)}", text, re.IGNORECASE)
    ]
    assert found == []


@pytest.mark.parametrize("page", SERIES, ids=lambda page: page.name)
def test_a_working_opens_with_words(page):
    """The first line of each step is a sentence without symbols; the formula comes apart from it."""
    session = Session(page.name)
    for path in page.figures:
        session.handle({"do": "working", "path": path})
    for chain in blocks.compose(session)["working"].values():
        for step in chain["steps"]:
            assert step["title"][0].isalpha()
            assert step["title"].endswith(".")
            assert not set("=\\{}^") & set(step["title"]), step["title"]
            assert all(line["words"] for line in step["inputs"])


def test_symbols_stand_behind_a_further_line():
    front = ROOT / "rsdesign" / "pages" / "front" / "figures.js"
    text = front.read_text(encoding="utf-8")
    step = text[text.index("function oneStep") : text.index("function lazily")]
    shown = step[step.index("return make") :]
    assert "step.title" in shown
    assert "step.formula" not in shown
    assert "line.symbol" not in shown
    assert 'lazily("The formula", formula)' in shown


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("page", SERIES, ids=lambda page: page.name)
def test_no_hint_says_a_thing_twice(page, system):
    session = Session(page.name, system)
    session.full = True
    for choice in blocks.choices(session):
        said = [w.strip() for w in f"{choice['measured']}. {choice['help']}".lower().split(".")]
        said = [words for words in said if words]
        assert len(said) == len(set(said)), choice


def test_us_pages_show_units_of_the_us_trade():
    """No square meters, kilograms or watts of heat beside gallons."""
    from rsdesign.core.kinds import KINDS

    for name in ("areal rate", "oxygen rate", "settling velocity"):
        assert "m²" not in KINDS[name].us, name
        assert "mm" not in KINDS[name].us, name
    assert KINDS["areal rate"].us == "g/(ft² day)"


def test_new_water_says_of_which_day_it_is():
    from rsdesign.sizing.system import figure_at

    assert "biggest feed day" in figure_at("water.exchange").label
