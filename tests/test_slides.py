"""The slides of the course: every figure is the design's own, and a page needs nothing from elsewhere."""

import functools
import re

import nbformat
import pytest
from reading import grade

from rsdesign import load, size
from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.core.units import show
from rsdesign.sizing.system import figure_at, value_at
from rsdesign.teaching.bank import exercise
from rsdesign.teaching.sets import set_plan
from rsdesign.teaching.slides import deck, source
from rsdesign.teaching.slides.pictures import demo

NUMBERS = source.numbers()
SYSTEMS = ("us", "metric")


@functools.cache
def session(number: int, system: str = "us"):
    return source.read(number, system, functools.cache(demo))


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("slides")
    deck.write(folder)
    return folder


def texts(number: int, system: str = "us"):
    return [cell.text for slide in session(number, system).slides for cell in slide]


def test_there_are_five_sessions_of_ten_or_eleven_slides():
    assert NUMBERS == (1, 2, 3, 4, 5)
    assert all(8 <= len(session(n).slides) <= 12 for n in NUMBERS)


@pytest.mark.parametrize("number", NUMBERS)
def test_each_slide_has_a_heading_and_notes(number):
    for slide in session(number).slides:
        assert slide[0].text.startswith("#")
        assert slide[-1].kind == "notes"
        assert len(slide[-1].text) > 20


@pytest.mark.parametrize("number", NUMBERS)
def test_the_sessions_name_the_exercises_of_the_set(number):
    """The plan of the course and its set say the same exercises in the same session."""
    wanted = set_plan("five-sessions").sessions[number - 1].exercises
    said = re.findall(r"\(`([a-z0-9-]+)`, [\d.]+ min\)", "\n".join(texts(number)))
    assert sorted(said) == sorted(wanted)
    assert all(exercise(name) for name in said)


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_figure_on_a_slide_is_the_sizings(system):
    sizing = size(load("family"))
    for path in ("stock.peak_feed", "filter.required", "standby.minutes_low"):
        shown = show(value_at(sizing, path), figure_at(path).kind, system)
        assert any(shown in text for n in NUMBERS for text in texts(n, system)), path
    assert not any("{" in text for n in NUMBERS for text in texts(n, system))


def test_pages_hold_their_drawings_and_fetch_nothing(written):
    for number in NUMBERS:
        page = (written / f"session_{number}.html").read_text(encoding="utf-8")
        book = nbformat.read(written / f"session_{number}.ipynb", as_version=4)
        drawn = sum(cell.source.startswith("picture(") for cell in book.cells)
        assert drawn >= 1
        assert page.count("<svg") == drawn
        assert page.count("<section") == len(session(number).slides)
        assert not re.search(r"""(src|href)=["'](?!#)""", page), "nothing is fetched"
        assert not re.search(r"url\((?!#)|@import|https?://(?!www\.w3\.org)", page)
        assert "Traceback" not in page
        nbformat.validate(book)


def test_cautions_stand_beside_what_they_concern():
    for number, place in ((1, "Deep water"), (3, "Chemicals"), (4, "Mains power near water")):
        assert any(f"**{place}" in text for text in texts(number)), place


@pytest.mark.parametrize("number", NUMBERS)
def test_the_words_are_read_with_nine_years_of_school(number):
    words = [
        t
        for slide in session(number).slides
        for c in slide
        if c.kind == "text"
        for t in c.text.split("\n")
    ]
    sentences = [w for w in words if w.endswith((".", "?"))]
    assert grade(" ".join(sentences)) <= 9.0


def test_a_session_that_is_not_there_is_a_sentence(tmp_path):
    with pytest.raises(
        DesignError, match=r"There is no session 7\. The sessions are 1, 2, 3, 4, 5\."
    ):
        deck.write(tmp_path, [7])


def test_a_folder_that_cannot_be_written_is_a_sentence(tmp_path, capsys):
    (tmp_path / "file").write_text("here", encoding="utf-8")
    assert main(["slides", str(tmp_path / "file" / "in"), "--session", "7"]) != 0
    assert "no session 7" in capsys.readouterr().err


def test_a_cell_that_fails_is_a_sentence():
    book = deck.notebook(session(1))
    book.cells[0].source = "raise ValueError('broken')"
    with pytest.raises(DesignError, match="failed: ValueError: broken"):
        deck.run([book])
