"""A family's tank worked by hand: 12 ft round, 32 in of water, 451 tilapia of 1.25 lb.

The hand calculation goes through the same published relations with a pencil, a stage at a time,
with round inputs (28 °C, 1,500 ft, 32 % protein, feed conversion 1.6, media at 0.30 g/m²/day).
Each band is the spread of its uncertain inputs, stated beside it; none was fitted to the code.
"""

import numpy as np
import pytest
from designs import worked_family

from rsdesign import size
from rsdesign.design.model import with_values
from rsdesign.equations.biofilter import areas as biofilter
from rsdesign.equations.biofilter.nitrification import rate_law

DAY = 86400.0


@pytest.fixture(scope="module")
def s():
    return size(worked_family())


def near(value, low, high):
    assert low <= value <= high, value


def test_water_and_fish(s):
    near(s.tank.volume, 8.54 * 0.999, 8.54 * 1.001)  # pi/4 × 3.6576² × 0.8128
    near(s.stock.peak_biomass, 256 * 0.995, 256 * 1.005)  # 564 lb at 4 gal/lb
    near(s.stock.to_stock, 474, 476)  # 451 / 0.95
    near(s.stock.cycle, 190, 205)


def test_feed(s):
    near(s.stock.peak_feed * DAY, 3.45 * 0.92, 3.45 * 1.08)  # ± 8 %
    near(s.stock.ration * DAY * 100, 1.30, 1.40)


def test_loads(s):
    near(s.loads.ammonia * DAY * 1e3, 101.7 * 0.92, 101.7 * 1.08)
    near(s.loads.solids * DAY, 0.86 * 0.92, 0.86 * 1.08)
    near(s.loads.mean_oxygen / s.stock.peak_feed, 0.66 * 0.92, 0.66 * 1.08)
    near(s.loads.peak_oxygen * 3.6e6, 121 * 0.85, 121 * 1.15)  # ± 15 %


def test_flow(s):
    near(s.flow.for_ammonia * 60000, 175, 236)
    near(s.turning.turnover / 60, 36, 49)  # 42 min at 202 L/min
    near(s.turning.rotation, 0.19, 0.25)  # 0.22 m/s with 1 m/s jets
    near(s.tank.floor_load / 0.45359237 * 0.3048**2, 165, 167)


def test_filter(s):
    near(s.filter.required, 318, 384)
    near(s.filter.rule, 212 * 0.92, 212 * 1.08)
    near(s.filter.rule_rate * DAY * 1e3, 0.479 * 0.92, 0.479 * 1.08)


@pytest.mark.parametrize(("area", "level"), [(339.0, 1.14), (212.0, 2.07)])
def test_ammonia_in_the_tank_with_each_area(s, area, level):
    medium = s.filter.surface
    law = {"filter.rate": None}  # by hand with the published law, not with a rate of one's own
    media, flow = {"filter.media_volume": area / medium}, {"pump.flow": 202 / 60000}
    found = size(worked_family(**law, **media, **flow))
    near(found.filter.ammonia * 1e3, level - 0.15, level + 0.15)


def test_air(s):
    near(s.air.saturation * 1e3, 7.39, 7.41)
    near(s.air.field_factor, 0.213, 0.219)  # 0.216
    near(s.air.required * 60000, 1194 * 0.7, 1194 * 1.3)  # ± 30 %
    near(s.air.discharge_pressure / 1e3, 9.5, 11.5)  # 10.8 kPa
    near(s.air.adiabatic_power, 230 * 0.7, 230 * 1.3)
    near(s.air.wire_needed, 660 * 0.7, 660 * 1.3)


def test_carbon_dioxide_and_ph():
    levels = [size(worked_family(**{"air.approach": a})).gas for a in (0.6, 0.3)]
    near(levels[0].carbon_dioxide * 1e3, 2.5, 3.1)
    near(levels[1].carbon_dioxide * 1e3, 4.4, 5.2)  # 2.7 to 4.8 mg/L
    near(levels[0].ph, 7.80, 7.90)
    near(levels[1].ph, 7.55, 7.65)  # 7.85 to 7.60


def test_water_and_base(s):
    near(s.water.exchange * DAY * 1e3, 701 * 0.92, 701 * 1.08)
    near(s.water.bicarbonate_net * DAY * 1e3, 515 * 0.9, 515 * 1.1)
    near(s.water.bicarbonate_book * DAY * 1e3, 1125 * 0.9, 1125 * 1.1)


def test_minutes(s):
    near(s.standby.minutes_peak / 60, 7.5, 9.5)  # 8.5
    near(s.standby.minutes_mean / 60, 9.7, 11.9)  # 10.8


def test_more_alkalinity_tightens_the_ammonia_limit():
    wide, tight = (size(worked_family(**{"keep.alkalinity": a})) for a in (0.100, 0.200))
    assert tight.gas.ammonia_limit < wide.gas.ammonia_limit


def test_half_a_milligram_more_oxygen_takes_a_quarter_more_air(s):
    more = size(worked_family(**{"keep.oxygen": 5.5e-3}))
    near(more.air.required / s.air.required, 1.27, 1.30)  # + 28 %


def test_twice_the_depth_halves_the_air_but_not_the_power():
    shallow, deep = (size(worked_family(**{"air.stone_depth": d, "tank.depth": 1.5}))
                     for d in (0.7, 1.4))  # fmt: skip
    near(deep.air.required / shallow.air.required, 0.49, 0.51)
    assert deep.air.wire_needed > 0.6 * shallow.air.wire_needed


def filter_of(area, flow):
    """Ammonia in the tank with an area [m²] and a flow [L/min], pH 7.2, alkalinity ample."""
    rate = rate_law(6e-3, 28.0, 7.2, 1e9)
    load, flow = 0.1017 / DAY, flow / 60000
    outlet = biofilter.loop_outlet(load, flow, area, rate, 0.0, 0.0)
    return biofilter.tank_ammonia(load, flow, outlet, 0.0, 0.0) * 1e3


def test_twice_the_area_removes_less_than_twice():
    at = 1.0e-3
    rate = rate_law(6e-3, 28.0, 7.2, 1e9)
    one, two = (at - biofilter.outlet(at, 202 / 60000, a, rate) for a in (339.0, 678.0))
    assert one < two < 2 * one


def test_twice_the_flow_goes_only_so_far():
    levels = [filter_of(339.0, q) for q in (202.0, 404.0, 1e5)]
    assert levels[0] == pytest.approx(1.14, abs=0.01)
    assert levels[1] == pytest.approx(0.96, abs=0.01)
    assert levels[2] >= 0.785  # never below the level at which the media take the load


def test_trends_hold_along_a_sweep(s):
    more = size(with_values(worked_family(), {"goal.fish": np.linspace(100.0, 451.0, 30)}))
    for name in ("required", "rule"):
        assert (np.diff(getattr(more.filter, name)) > 0).all()
