"""Designs side by side: only what differs, with the right sign and share, in the words of reports."""

import json

import pytest
from designs import DEMOS, demo

from rsdesign.core.choices import DesignError
from rsdesign.core.units import show
from rsdesign.design.model import FIELDS, value_of, with_values
from rsdesign.sizing.system import figure_at, size, value_at
from rsdesign.studies.differences import differences

BASE = size(demo("family"))


def changed(**values):
    return size(with_values(demo("family"), {k.replace("__", "."): v for k, v in values.items()}))


def test_only_what_was_changed_stands_among_the_choices():
    found = differences([BASE, changed(tank__depth=1.0, filter__type="trickling")])
    assert [row.path for row in found.choices] == ["tank.depth", "filter.type"]
    depth, kind = found.choices
    assert depth.changes[1] == pytest.approx(1.0 - BASE.tank.depth)
    assert depth.words("us")[1] == "3.28 ft (+23 %)"
    assert kind.changes == (None, None)
    assert kind.words("us") == ("moving bed", "trickling")


def test_figures_have_sign_and_share():
    other = changed(goal__fish=100.0)
    found = {row.path: row for row in differences([BASE, other]).figures}
    feed = found["stock.peak_feed"]
    assert feed.shares[1] == pytest.approx(-0.5, abs=0.01)
    assert feed.words("us")[1].endswith("(−50 %)")
    assert "tank.volume" not in found  # the tank is told and stays
    assert found["standby.minutes_peak"].changes[1] > 0


def test_words_are_those_of_the_reports():
    sizings = [size(demo(name)) for name in DEMOS]
    for row in differences(sizings).figures:
        if not row.path.startswith("cost."):
            assert row.label == figure_at(row.path).label
            assert row.words("us")[0] == show(value_at(sizings[0], row.path), row.kind, "us")
    for row in differences(sizings).choices:
        assert row.label == FIELDS[row.path].choice.label
        told = [value_of(s.design, row.path) for s in sizings]
        assert row.chosen == tuple(v is None for v in told)


def test_a_design_beside_itself_differs_in_nothing():
    found = differences([BASE, size(demo("family"))])
    assert found.choices == found.figures == ()


def test_a_warmth_has_no_share():
    row = differences([BASE, changed(site__warmest_water=32.0)]).choices[0]
    assert row.changes[1] == pytest.approx(2.0)
    assert row.shares == (None, None)


def test_two_to_five_designs():
    for count in (1, 6):
        with pytest.raises(DesignError, match="side by side"):
            differences([BASE] * count)


def test_plain_data_is_plain():
    found = differences([BASE, size(demo("school")), size(demo("commercial"))])
    data = [row.plain("metric") for row in (*found.choices, *found.figures)]
    assert json.loads(json.dumps(data)) == data
