"""Trade-offs against single sizings, with the trends that the trade knows."""

import json

import numpy as np
import pytest
from designs import demo

from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.sizing.system import size, value_at
from rsdesign.studies.costfigures import COST_FIGURES
from rsdesign.studies.enterprise import enterprise
from rsdesign.studies.heat.brief import year_brief
from rsdesign.studies.heat.year_chart import year_chart
from rsdesign.studies.heat.yearly import extras
from rsdesign.studies.stacked import TOLD, ready, slider
from rsdesign.studies.tradeoffs import PAIRS, tradeoff

BASE = size(demo("family"))
SPANS = {"goal.fish": (20, 1000), "tank.depth": (0.3, 1.8), "solids.overflow_rate": (3e-4, 5e-3),
         "filter.media_volume": (0.1, 2.0), "keep.oxygen": (3e-3, 7e-3), "pump.lift": (0.0, 4.5),
         "solids.drain_interval": (6 * 3600, 96 * 3600), "climate.shade": (0.0, 0.9)}  # fmt: skip


def of(page):
    path = PAIRS[page].choice
    return tradeoff(BASE, page, slider(path, *SPANS[path]))


@pytest.mark.parametrize("page", [page for page in PAIRS if page != "heat"])
def test_every_point_is_a_sizing_of_its_own(page):
    found = of(page)
    for place in (0, len(found.x) // 2, -1):
        alone = size(with_values(ready(BASE, found.slider.path, TOLD),
                                 {found.slider.path: float(found.x[place])}))  # fmt: skip
        for curve in (found.get, found.give):
            if curve.path in COST_FIGURES:
                known = COST_FIGURES[curve.path].of(enterprise(alone, **extras(BASE)))
            else:
                known = value_at(alone, curve.path)
            assert curve.values[place] == pytest.approx(float(known), rel=1e-9), curve.path
    assert json.loads(json.dumps(found.plain("us")))["side"] == PAIRS[page].side


@pytest.mark.parametrize("heated", ["no", "yes"])
def test_shade_against_the_heat_study_of_each_design(heated):
    base = size(with_values(demo("family"), {"climate.heated": heated}))
    found = tradeoff(base, "heat", slider("climate.shade", 0.0, 0.9))
    for place in (0, 5, -1):
        alone = size(with_values(base.design, {"climate.shade": float(found.x[place])}))
        known = year_brief(alone, heated == "yes").hottest
        assert found.get.values[place] == pytest.approx(known, abs=1e-6)
        assert found.give.values[place] == year_chart(alone).lines[0].growing_days
    assert found.get.now == pytest.approx(year_brief(base, heated == "yes").hottest, abs=1e-6)


def test_shade_cools_the_hottest_hour_and_shortens_the_season():
    found = of("heat")
    assert (np.diff(found.get.values) < 0).all()
    assert found.give.values[-1] < found.give.values[0]


def test_without_weather_the_trade_off_of_shade_says_so():
    base = size(with_values(demo("family"), {"climate.weather": None}))
    with pytest.raises(DesignError, match="weather"):
        tradeoff(base, "heat", slider("climate.shade", 0.0, 0.9))


def test_trends_of_the_trade():
    """More fish leave fewer minutes; deeper water more; slower settlers catch more; lift draws watts."""
    assert (np.diff(of("whole").give.values) < 0).all()
    assert (np.diff(of("fish").get.values) > 0).all()
    assert (np.diff(of("solids").get.values) < 0).all()
    assert (np.diff(of("solids").give.values) < 0).all()
    assert (np.diff(of("biofilter").get.values) < 0).all()
    assert of("pump").give.values[-1] > of("pump").give.values[0]


def test_sizes_of_the_trade_are_named_where_they_change():
    found = of("pump")
    assert len(found.steps) > 1
    for value, name in found.steps:
        assert str(size(with_values(BASE.design, {"pump.lift": value})).pump.model) == name


def test_a_page_without_one_says_so():
    with pytest.raises(DesignError, match="no trade-off"):
        tradeoff(BASE, "nowhere", slider("goal.fish", 10, 100))
