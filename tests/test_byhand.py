"""By-hand cards: a sum in the units of the reader lands within 15 % of the computed figure."""

import dataclasses

import pytest
from designs import DEMOS, demo, random_design, worked_family

from rsdesign import size
from rsdesign.design.model import with_values
from rsdesign.pages import blocks
from rsdesign.pages.session import Session
from rsdesign.report.rules_of_thumb import cards

DESIGNS = {name: demo(name) for name in DEMOS} | {"worked": worked_family()}


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", DESIGNS)
def test_every_card_lands_near(name, system):
    found = cards(size(DESIGNS[name]), system)
    assert len(found) >= 8
    for card in found.values():
        assert len(card.lines) == 3
        assert card.off <= 0.15, (card.part, card.lines, card.computed)


def test_a_filter_beside_plant_beds_has_a_card_too():
    card = cards(size(with_values(demo("family"), {"filter.plants": 20.0})))["filter"]
    assert "plant beds take 11 of it" in card.lines[0]  # 20 m² at 0.56 g a day
    assert card.off <= 0.15


def test_a_filter_that_cannot_be_has_a_card_too():
    sizing = size(demo("family"))
    endless = dataclasses.replace(sizing.filter, required=float("inf"))
    card = cards(dataclasses.replace(sizing, filter=endless))["filter"]
    assert "cannot carry" in card.lines[1]
    assert card.off == 0.0


@pytest.mark.parametrize("seed", range(40))
def test_every_design_has_every_card(seed):
    assert len(cards(size(random_design(seed)))) >= 8


US_UNITS = {"lb", "gal", "gallons", "gpm", "ft²", "ft", "cfm", "foot", "pound", "gpm."}
METRIC_UNITS = {"kg", "m³", "L/min", "m²", "m", "meter", "kilogram"}


@pytest.mark.parametrize("name", DESIGNS)
def test_a_card_is_in_the_units_of_the_page_alone(name):
    for system, others in (("metric", US_UNITS), ("us", METRIC_UNITS)):
        for card in cards(size(DESIGNS[name]), system).values():
            words = {w.strip(".,;:()") for line in card.lines for w in line.split()} | {card.unit}
            assert not words & others, (system, card.lines)
    session = Session("start", "metric")
    assert "kg" in blocks.text(session)["card"]["computed"]
    assert all(" lb" not in line for line in blocks.text(session)["card"]["lines"])


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", DESIGNS)
def test_the_last_line_says_the_result(name, system):
    for card in cards(size(DESIGNS[name]), system).values():
        last = float(card.lines[-1].split("=")[-1].strip().split(" ")[0].replace(",", ""))
        assert last == pytest.approx(card.value, rel=0.05), card.lines
