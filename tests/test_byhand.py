"""By-hand cards: a pencil sum in trade units lands within 15 % of the computed figure."""

import pytest
from designs import DEMOS, demo, worked_family

from rsdesign import size
from rsdesign.byhand import cards

DESIGNS = {name: demo(name) for name in DEMOS} | {"worked": worked_family()}


@pytest.mark.parametrize("name", DESIGNS)
def test_every_card_lands_near(name):
    found = cards(size(DESIGNS[name]))
    assert len(found) >= 8
    for card in found.values():
        assert len(card.lines) == 3
        assert card.off <= 0.15, (card.part, card.lines, card.computed)


@pytest.mark.parametrize("name", DESIGNS)
def test_the_last_line_says_the_result(name):
    for card in cards(size(DESIGNS[name])).values():
        last = float(card.lines[-1].split("=")[-1].strip().split(" ")[0].replace(",", ""))
        assert last == pytest.approx(card.value, rel=0.05), card.lines
