"""The pages are written for people who read as a school child of nine years of school does."""

import pytest
from reading import counts, grade, sentences_of

from rsdesign.design.model import FIELDS
from rsdesign.pages import blocks
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session
from rsdesign.pages.spec import worded

HARDEST = 9.0
"""School years that a page may ask for."""
HARDEST_SENTENCE = 13.0
"""The same for one sentence of some length: a single long word weighs much there."""
SHORTEST = 8
"""Words from which a sentence is measured by itself."""


def strings(block):
    """Every sentence in the data of a block."""
    if isinstance(block, str):
        if block.endswith((".", "?")):
            yield block
    elif isinstance(block, dict):
        for part in block.values():
            yield from strings(part)
    elif isinstance(block, list):
        for part in block:
            yield from strings(part)


def main_text(page, system: str) -> list[str]:
    """What every reader meets, whole sentences only: fragments would flatter."""
    session = Session(page.name, system)
    found = blocks.compose(session)
    parts = [page.question, page.guess.ask if page.guess else "", *page.words, page.rule]
    parts = [worded(part, system) for part in (*parts, page.try_this)]
    parts += [found["picture"]["sentence"] if found["picture"] else ""]
    parts += [FIELDS[control.path].choice.help for control in page.short]
    parts += [c["fact"] for c in found["text"]["cautions"]]
    parts += [s for b in found["own"] if b["form"] in ("doors", "steps", "lists", "answer")
              for s in strings(b)]  # fmt: skip
    return [part for part in parts if part.endswith((".", "?"))]


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("page", SERIES, ids=lambda page: page.name)
def test_a_page_can_be_read_after_nine_years_of_school(page, system):
    parts = main_text(page, system)
    assert counts(" ".join(parts))[1] > 60, "the text was not found"
    assert grade(" ".join(parts)) <= HARDEST
    hard = {
        sentence: round(grade(sentence), 1)
        for part in parts
        for sentence in sentences_of(part)
        if counts(sentence)[1] >= SHORTEST and grade(sentence) > HARDEST_SENTENCE
    }
    assert hard == {}


def test_hard_text_is_found():
    hard = (
        "Nitrification consumes alkalinity proportionally to the quantity of ammonia oxidised,"
        " necessitating regular supplementation with sodium bicarbonate."
    )
    assert grade(hard) > HARDEST_SENTENCE
