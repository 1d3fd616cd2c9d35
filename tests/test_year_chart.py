"""The year for a chart against the heat study, and what lid, shade and depth are known to do."""

import json
from itertools import pairwise

import numpy as np
import pytest
from designs import demo

from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.sizing.system import size
from rsdesign.studies.heat.season import MIDDLE
from rsdesign.studies.heat.study import study
from rsdesign.studies.heat.year_chart import WEEKS, year_chart

BASE = size(demo("family"))


def line(chart, name):
    return next(x for x in chart.lines if x.name == name)


def test_weeks_pass_through_the_months_of_the_heat_study():
    chart, months = year_chart(BASE), study(BASE).months
    for name, field in (("mean", "water"), ("hottest", "hottest"), ("coldest", "coldest")):
        drawn = getattr(line(chart, "as designed"), name)
        known = np.interp(chart.days, MIDDLE, [getattr(m, field) for m in months], period=365)
        assert np.abs(drawn - known).max() < 0.15, name
    assert line(chart, "as designed").growing_days == study(BASE).season.growing_days


def test_hours_lie_in_order_and_the_year_closes():
    for x in year_chart(BASE).lines:
        assert len(x.mean) == WEEKS
        assert (x.coldest <= x.mean).all()
        assert (x.mean <= x.hottest).all()
        assert abs(x.mean[0] - x.mean[-1]) < np.ptp(x.mean) / 4


def test_shade_cools_summer_depth_damps_the_day_and_a_lid_warms_the_night():
    """Known of ponds and pools: shade takes sun, deep water swings less, a night cover keeps heat."""
    chart = year_chart(BASE)
    plain, lid, shade, deep = chart.lines
    summer = int(plain.mean.argmax())
    assert shade.hottest[summer] < plain.hottest[summer] - 0.5
    assert np.ptp([deep.hottest[summer], deep.coldest[summer]]) < np.ptp(
        [plain.hottest[summer], plain.coldest[summer]]
    )
    assert lid.coldest[int(plain.mean.argmin())] > plain.coldest[int(plain.mean.argmin())]


def test_zones_meet_without_a_gap_and_come_from_the_species_table():
    zones, fish = year_chart(BASE).zones, BASE.tables.species
    assert zones[0].low is None
    assert zones[-1].high is None
    for one, other in pairwise(zones):
        assert one.high == other.low
    assert (zones[0].high, zones[-1].low) == (fish.lethal_low, fish.lethal_high)


def test_a_heater_holds_what_is_asked():
    held = size(with_values(demo("family"), {"climate.heated": "yes"}))
    coldest = line(year_chart(held), "as designed").coldest
    assert coldest.min() > held.design.site.water_temperature - 0.01


def test_without_weather_it_says_so():
    with pytest.raises(DesignError, match="weather"):
        year_chart(size(with_values(demo("family"), {"climate.weather": None})))


def test_plain_data_is_plain():
    data = year_chart(BASE).plain("us")
    assert json.loads(json.dumps(data)) == data
    assert data["unit"] == "°F"
