"""The ladder against single sizings, against the limits of owned parts, and the trends of the trade."""

import json

import numpy as np
import pytest
from designs import DEMOS, demo, random_design

from rsdesign import Design
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import parse
from rsdesign.design.model import with_values
from rsdesign.sizing.judging import SHORT, SLACK
from rsdesign.sizing.system import size, unchecked
from rsdesign.studies.ladder import ladder
from rsdesign.studies.limits import limits, scaled
from rsdesign.studies.stacked import TODAY, TOLD, ready

SAMPLE = [*map(demo, DEMOS), *map(random_design, range(10))]


def margin(design, scale, name):
    found = unchecked(scaled(design, scale))
    return next(float(p.margin) for p in found.parts if p.name == name)


@pytest.mark.parametrize("hold", [TOLD, TODAY])
@pytest.mark.parametrize("design", SAMPLE)
def test_each_rung_is_where_a_sizing_of_its_own_turns_short(design, hold):
    base = size(design)
    held = ready(base, "", hold)
    for rung in ladder(base, hold).rungs:
        scale = rung.feed / float(base.stock.peak_feed)
        if not 0.02 < scale < 50:
            continue
        assert margin(held, scale * 0.98, rung.part) >= 1.0 - 1e-6, rung
        assert margin(held, scale * 1.02, rung.part) < 1.0, rung


@pytest.mark.parametrize("design", SAMPLE)
def test_told_parts_carry_what_the_limits_of_owned_parts_say(design):
    found = {r.part: r for r in ladder(design).rungs}
    for bearing in limits(design).bearings:
        if not 0 < bearing.feed < np.inf or bearing.part not in found:
            continue
        assert found[bearing.part].feed == pytest.approx(bearing.feed, rel=2e-3), bearing


@pytest.mark.parametrize("hold", [TOLD, TODAY])
@pytest.mark.parametrize("design", SAMPLE)
def test_the_weakest_stands_first_and_no_part_is_lost(design, hold):
    found = ladder(design, hold)
    every = [*found.rungs, *found.steady]
    assert sorted(r.part for r in every) == sorted(p.name for p in size(design).parts)
    assert [r.fish for r in found.rungs] == sorted(r.fish for r in found.rungs)
    if found.rungs:
        assert found.first is found.rungs[0]


@pytest.mark.parametrize("design", SAMPLE)
def test_a_part_that_carries_fewer_than_the_goal_is_short_at_the_goal(design):
    found = ladder(design, TODAY)
    for rung in found.rungs:
        if abs(rung.fish - found.goal) > 1 + 0.005 * found.goal and rung.fish / found.goal > 0.02:
            assert (rung.fish < found.goal) == (rung.margin < 1 - SLACK), rung
            assert (rung.fish < found.goal) == (rung.state == SHORT), rung


def test_feed_and_harvest_follow_the_fish():
    found = ladder(demo("family"), TODAY)
    for rung in found.rungs:
        assert rung.feed / found.goal_feed == pytest.approx(rung.fish / found.goal, abs=0.006)
        assert rung.harvest / rung.feed == pytest.approx(found.goal_harvest / found.goal_feed)


def test_more_of_a_part_carries_more_and_leaves_the_others():
    base = ladder(demo("family"), TODAY)
    media = float(size(demo("family")).filter.media_volume)
    more = ladder(with_values(demo("family"), {"filter.media_volume": 2 * media}), TODAY)
    before, after = ({r.part: r for r in x.rungs} for x in (base, more))
    assert after["filter"].fish > 1.3 * before["filter"].fish  # then the flow to it limits
    assert after["tank"].fish == before["tank"].fish


def test_the_rule_of_thumb_is_four_gallons_a_pound_and_300_square_feet_a_pound_of_feed():
    """Common practice: 4 gal of water for each lb of fish; 300 ft² of media for each lb of feed a day."""
    base = size(demo("family"))
    found = {r.part: r for r in ladder(base, TODAY).rungs}
    gallons = base.tank.volume / parse("1 gal", KINDS["volume"])
    each = base.stock.peak_biomass / parse("1 lb", KINDS["mass"]) / base.stock.fish
    assert found["tank"].by_rule == pytest.approx(gallons / 4.0 / each, abs=2)
    feet = base.filter.area / parse("1 ft²", KINDS["area"])
    feed = base.stock.peak_feed / parse("1 lb/day", KINDS["feed rate"]) / base.stock.fish
    assert found["filter"].by_rule == pytest.approx(feet / 300.0 / feed, rel=0.02)


def test_a_design_without_a_goal_has_a_ladder_and_no_line():
    owned = {"tank.width": 3.0, "filter.media_volume": 0.5, "pump.flow": 2e-3, "air.flow": 0.01}
    found = ladder(with_values(Design(), owned))
    assert found.goal is None
    assert {r.part for r in found.rungs} >= {"tank", "pump", "filter", "air"}
    stand_in = ladder(with_values(Design(), {**owned, "goal.fish": 350.0}))
    for one, other in zip(found.rungs, stand_in.rungs, strict=True):
        assert one.fish == pytest.approx(other.fish, rel=5e-3, abs=1)


def test_plain_data_is_plain():
    data = ladder(demo("commercial"), TODAY).plain("metric")
    assert json.loads(json.dumps(data)) == data
    assert data["rungs"][0]["feed"].endswith("kg/day")
