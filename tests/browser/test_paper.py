"""Sheets of a class as Chromium prints them: how many pages, and no heading left alone."""

import io

import pytest
from pypdf import PdfReader

from rsdesign.teaching import sheets
from rsdesign.teaching.classbook import with_check
from rsdesign.teaching.exercises import exercise_set
from rsdesign.teaching.paperlength import pages_of

KEY = "an invented class key"
CODES = tuple(with_check(b) for b in ("K7QP", "M3TT"))
MOST = {"ninety-minutes": 4, "three-hours": 4, "five-sessions": 8}
"""Pages of a learner; six, seven and fifteen before the sheets had two columns."""

pytestmark = pytest.mark.filterwarnings("default")


def printed(browser, name: str, paper: str) -> PdfReader:
    context = browser.new_context(offline=True)
    view = context.new_page()
    view.set_content(sheets.sheets(name, CODES, KEY))
    data = view.pdf(format=paper)
    context.close()
    return PdfReader(io.BytesIO(data))


def texts(page) -> list[tuple[str, float, float]]:
    """Runs of text with their places, from the left and from the foot."""
    found = []

    def seen(text, cm, tm, font, size):
        if text.strip():
            at = [tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]]
            found.append((text.strip(), *at))

    page.extract_text(visitor_text=seen)
    return found


@pytest.mark.parametrize(("name", "paper"), [
("three-hours", "Letter"), ("three-hours", "A4"), ("five-sessions", "Letter"),
])  # fmt: skip
def test_sheets_are_as_long_as_was_said_and_no_heading_stands_alone(browser, name, paper):
    pages = printed(browser, name, paper).pages
    learners = [exercise_set(name, code, KEY) for code in CODES]
    assert len(pages) <= MOST[name] * len(CODES)
    if paper == "Letter":
        assert len(pages) == sum(map(pages_of, learners))
    runs = [texts(page) for page in pages]
    for title, problems in sheets.parts_of(learners[0]):
        below = problems[0].exercise.title
        places = [
            (page, x, y) for page, found in enumerate(runs) for text, x, y in found if text == title
        ]
        assert len(places) == len(CODES), title
        for page, x, y in places:
            next_ones = [
                v for text, u, v in runs[page] if text == below and abs(u - x) < 5 and v < y
            ]
            assert any(y - v < 40 for v in next_ones), (title, page)
