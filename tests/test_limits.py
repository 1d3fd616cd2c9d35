"""What limits: the feed each owned part can bear, ties, refusals, and what to buy next."""

import numpy as np
import pytest
from designs import DEMOS, demo, random_design

from rsdesign import Design, size
from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.studies.limits import limits, scaled

POOL = {
    "goal.fish": 100.0, "goal.weight": 0.567, "site.elevation": 366.0,
    "site.water_temperature": 27.8, "site.warmest_water": 30.0, "keep.total_ammonia": 1.5e-3,
    "tank.count": 1.0, "tank.width": 3.66, "tank.depth": 0.762, "filter.type": "submerged",
    "filter.medium": "gravel", "filter.media_volume": 0.2, "air.flow": 40 / 60000,
    "pump.flow": 900 * 231 * 0.0254**3 / 3600,
}  # fmt: skip


def pool(**changes) -> Design:
    return with_values(Design(), {**POOL, **changes})


@pytest.mark.parametrize("seed", range(12))
def test_at_its_feed_a_part_just_passes(seed):
    design = random_design(seed)
    found = limits(design)
    base = found.sizing.stock.peak_feed
    for bearing in found.bearings:
        if not 0 < bearing.feed < np.inf:
            continue
        scale = bearing.feed / base
        for factor, passes in ((1 - 1e-4, True), (1 + 1e-3, False)):
            from rsdesign.sizing.system import unchecked

            sizing = unchecked(scaled(design, np.array([scale * factor])))
            part = next(p for p in sizing.parts if p.name == bearing.part)
            assert bool(np.all(part.margin >= 1 - 1e-9)) is passes, (bearing.part, factor)


def test_smallest_first_and_named():
    found = limits(pool())
    feeds = [b.feed for b in found.bearings]
    assert feeds == sorted(feeds)
    assert found.first.part == "air"
    assert found.ties == ("Air",)
    assert {b.part for b in found.bearings} >= {"tank", "pump", "filter", "air", "water"}


def test_parts_chosen_by_the_sizing_are_never_the_limit():
    found = limits(demo("commercial"))
    assert {b.part for b in found.bearings} == {"water"}
    assert "Filter" in found.chosen


def test_a_filter_without_media_bears_nothing():
    found = limits(pool(**{"filter.media_volume": 0.0}), budget=100)
    assert found.first.part == "filter"
    assert found.first.feed == 0
    assert [b.purchase.name for b in found.buys] == ["gravel"]


def test_buying_relieves_the_limit_within_the_budget():
    found = limits(pool(), budget=200)
    assert found.buys
    assert all(buy.cost <= 200 for buy in found.buys)
    gains = [buy.gain_for_money for buy in found.buys]
    assert gains == sorted(gains, reverse=True)
    assert found.buys[0].purchase.adds == "air"
    assert limits(pool(), budget=0).buys == ()


def test_what_was_assumed_is_said():
    assert any("Depth of the stones" in s for s in limits(pool()).assumed)


@pytest.mark.parametrize("name", DEMOS)
def test_more_of_a_part_bears_more(name):
    design = with_values(demo(name), {"filter.media_volume": 0.3, "goal.fish": 50.0,
                                      "goal.harvest": None})  # fmt: skip
    more = with_values(design, {"filter.media_volume": 0.6})
    a, b = (next(x for x in limits(d).bearings if x.part == "filter").feed for d in (design, more))
    assert b > a


def test_a_row_of_designs_is_refused():
    with pytest.raises(DesignError, match="one design"):
        limits(pool(**{"goal.fish": np.array([1.0, 2.0])}))


def test_measured_readings_give_the_same_as_numbers():
    bucket = pool(
        **{"pump.flow": None, "pump.bucket": 5 * 231 * 0.0254**3, "pump.bucket_time": 20.0}
    )
    assert size(bucket).pump.flow == pytest.approx(size(pool()).pump.flow, rel=1e-9)
    watts = size(pool(**{"air.flow": None, "air.plate_watts": 30.0}))
    assert 10 < watts.air.provided * 60000 < 100


@pytest.mark.parametrize("fish", [3.0, 100.0, 4000.0])
def test_what_owned_parts_carry_does_not_hang_on_the_goal(fish):
    asked = with_values(pool(), {"goal.fish": fish})
    silent = with_values(pool(), {"goal.fish": None})
    found, none = limits(asked, budget=0), limits(silent, budget=0)
    assert found.planned
    assert not none.planned
    assert [b.part for b in found.bearings] == [b.part for b in none.bearings]
    for a, b in zip(found.bearings, none.bearings, strict=True):
        assert a.feed == pytest.approx(b.feed, rel=1e-5)
    assert none.sizing.stock.peak_feed == pytest.approx(none.first.feed, rel=1e-5)


def test_parts_not_told_are_named_with_what_they_must_give():
    tank = with_values(Design(), {"tank.width": 2.0, "tank.depth": 0.9})
    found = limits(tank)
    assert found.told == ("tank",)
    assert not found.complete
    assert [p.name for p in found.needs] == ["pump", "filter", "air"]
    at = size(with_values(tank, {"goal.fish": found.first.feed / found.sizing.stock.peak_feed
                                 * float(found.sizing.stock.fish)}))  # fmt: skip
    for part in found.needs:
        there = next(p for p in at.parts if p.name == part.name)
        assert float(part.required) == pytest.approx(float(there.required), rel=1e-6)
