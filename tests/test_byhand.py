"""By-hand cards: a pencil sum in trade units lands within 15 % of the computed figure."""

import dataclasses

import pytest
from designs import DEMOS, demo, random_design, worked_family

from rsdesign import size
from rsdesign.byhand import cards
from rsdesign.design import with_values

DESIGNS = {name: demo(name) for name in DEMOS} | {"worked": worked_family()}


@pytest.mark.parametrize("name", DESIGNS)
def test_every_card_lands_near(name):
    found = cards(size(DESIGNS[name]))
    assert len(found) >= 8
    for card in found.values():
        assert len(card.lines) == 3
        assert card.off <= 0.15, (card.part, card.lines, card.computed)


def test_a_filter_that_plants_spare_has_a_card_too():
    card = cards(size(with_values(demo("family"), {"filter.plants": 40.0})))["filter"]
    assert "Plants take all" in card.lines[1]
    assert card.value == card.off == 0.0


def test_a_filter_that_cannot_be_has_a_card_too():
    sizing = size(demo("family"))
    endless = dataclasses.replace(sizing.filter, required=float("inf"))
    card = cards(dataclasses.replace(sizing, filter=endless))["filter"]
    assert "cannot carry" in card.lines[1]
    assert card.off == 0.0


@pytest.mark.parametrize("seed", range(40))
def test_every_design_has_every_card(seed):
    assert len(cards(size(random_design(seed)))) >= 8


@pytest.mark.parametrize("name", DESIGNS)
def test_the_last_line_says_the_result(name):
    for card in cards(size(DESIGNS[name])).values():
        last = float(card.lines[-1].split("=")[-1].strip().split(" ")[0].replace(",", ""))
        assert last == pytest.approx(card.value, rel=0.05), card.lines
